/** Signing a visit, and why it is refused. */
import { isLeftOff, judgeVisit, type SafeJudgement } from '../advice/safe.ts';
import type { Visit } from './visit.ts';
import { isWatermarked } from './visit-marks.ts';
import { err, ok, type Result } from '../../result.ts';

export type SignRefusal =
  | { key: 'training' }
  | { key: 'simulated' }
  | { key: 'signed' }
  | { key: 'bypass-open'; what: string }
  | { key: 'not-safe'; judgement: SafeJudgement };
/** What is known of the appliance and the instrument besides the visit; without it the usual tests are asked for. */
export type SignFacts = Parameters<typeof judgeVisit>[1];

/**
 * A burner that is not safe to leave running is signed only with what was done about it.
 *
 * @param hash over the body, made by main
 */
export function signVisit(
  visit: Visit,
  signature: { name: string; wallMs: number; hash: string },
  facts: SignFacts = {},
): Result<Visit, SignRefusal> {
  if (visit.signature) return err({ key: 'signed' });
  if (visit.kind === 'training') return err({ key: 'training' });
  if (isWatermarked(visit)) return err({ key: 'simulated' });
  const open = visit.bypasses.find((bypass) => bypass.closedWallMs === undefined);
  if (open) return err({ key: 'bypass-open', what: open.what });
  const judgement = judgeVisit(visit, facts);
  if (judgement.safe === 'no' && !isLeftOff(visit)) return err({ key: 'not-safe', judgement });
  return ok({ ...visit, signature: { ...signature, editsBefore: visit.edits.length }, endedWallMs: visit.endedWallMs ?? signature.wallMs });
}

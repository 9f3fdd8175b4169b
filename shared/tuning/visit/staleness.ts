import { z } from 'zod';
import { WallMs } from '../../wall-clock.ts';
import type { Adjuster } from '../trial/adjuster.ts';
import { positionOf } from '../trial/setting.ts';
import type { Trial } from '../trial/trial.ts';

/** What moves everything else: after one of these, air readings taken before no longer say where the air is. Order as taught: draft, then air. */
export const changeKinds = ['draft', 'nozzle', 'pressure', 'head', 'electrodes', 'cleaning', 'sealing', 'house'] as const;
export type ChangeKind = (typeof changeKinds)[number];
/** `house`: a fan or a door. `before` and `after`: as they were typed, with their unit. */
export const Change = z.object({
  wallMs: WallMs,
  kind: z.enum(changeKinds),
  note: z.string().max(500).optional(),
  before: z.string().max(60).optional(),
  after: z.string().max(60).optional(),
});
export type Change = z.infer<typeof Change>;

export type StaleReason = {
  kind: ChangeKind;
  sinceWallMs: number;
  from?: number | undefined;
  to?: number | undefined;
  adjuster?: string | undefined;
};

/**
 * Over-fire draft that moved this much between trials was changed, whatever was said.
 *
 * @source 0.02 in w.c. can move O2 by a point with a weak fan: common practice
 */
export const DRAFT_MOVED_PA = 5;
const PRESSURE_MOVED_SHARE = 0.03;

/**
 * Why a trial no longer counts for the air curve; undefined while it does. Looks at changes that were written down, and at later trials of
 * the same stage whose draft, pump pressure, head or draft adjuster stands elsewhere.
 */
export function staleReason(
  trial: Trial,
  { trials, changes, adjusters }: { trials: readonly Trial[]; changes: readonly Change[]; adjusters: readonly Adjuster[] },
): StaleReason | undefined {
  // cleaning and electrodes do not move the air by themselves unless the flue path changed; they are still listed for the record
  const written = changes.filter((change) => change.kind !== 'electrodes').find((change) => change.wallMs >= trial.takenWallMs);
  if (written) return { kind: written.kind, sinceWallMs: written.wallMs };
  const later = trials.filter((other) => other.takenWallMs > trial.takenWallMs && other.setting.stage === trial.setting.stage);
  for (const other of later) {
    const reason = movedBetween(trial, other, adjusters);
    if (reason) return reason;
  }
  return undefined;
}

function movedBetween(trial: Trial, other: Trial, adjusters: readonly Adjuster[]): StaleReason | undefined {
  const since = { sinceWallMs: other.takenWallMs };
  const draft = [trial.draft?.overFirePa, other.draft?.overFirePa] as const;
  if (draft[0] !== undefined && draft[1] !== undefined && Math.abs(draft[1] - draft[0]) >= DRAFT_MOVED_PA)
    return { kind: 'draft', ...since, from: draft[0], to: draft[1] };
  if (
    trial.pumpPa !== undefined &&
    other.pumpPa !== undefined &&
    Math.abs(other.pumpPa - trial.pumpPa) > PRESSURE_MOVED_SHARE * trial.pumpPa
  ) {
    return { kind: 'pressure', ...since, from: trial.pumpPa, to: other.pumpPa };
  }
  for (const { name, kind } of adjusters) {
    if (kind !== 'head' && kind !== 'draft') continue;
    const [from, to] = [positionOf(trial.setting, name), positionOf(other.setting, name)];
    if (from !== undefined && to !== undefined && from !== to) return { kind, ...since, from, to, adjuster: name };
  }
  return undefined;
}

/** Trials of one stage that still count for its air curve, and why each other one does not. */
export function sortTrials(
  stage: string,
  visit: { trials: readonly Trial[]; changes: readonly Change[]; adjusters: readonly Adjuster[] },
): { fresh: Trial[]; stale: { trial: Trial; reason: StaleReason }[] } {
  const fresh: Trial[] = [];
  const stale: { trial: Trial; reason: StaleReason }[] = [];
  for (const trial of visit.trials) {
    if (trial.setting.stage !== stage) continue;
    const reason = staleReason(trial, visit);
    if (reason) stale.push({ trial, reason });
    else fresh.push(trial);
  }
  return { fresh, stale };
}

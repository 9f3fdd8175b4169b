/** The air curve: what its one main button does, by the advice beside it. Pure. */
import type { Advice, AdviceReason } from '../../../../shared/tuning/advice/advice.ts';

/**
 * `read`: as the live view offers it. `mark`: the setting that is advised. `use`: this trial as-left. `other`: mark another setting;
 * `other-air`: mark where the air is now. `fuel`, `kinds`: what the advice waits for.
 */
export type CurveDeed = 'next' | 'fuel' | 'connect' | 'kinds' | 'adjusters' | 'mark' | 'use' | 'other' | 'other-air' | 'smoke' | 'read';

export type CurveDeedFacts = {
  advice: Pick<Advice, 'advice' | 'because' | 'setting'> | undefined;
  hasRecord: boolean;
  /** nothing is missing at this step */
  isDone: boolean;
  /** the running trial has its reading and its smoke */
  isComplete: boolean;
  /** an adjuster whose kind nobody said */
  isKindUnsaid: boolean;
};

/** The sentence asks for a reading of this same setting. */
const readAgain: ReadonlySet<AdviceReason> = new Set<AdviceReason>([
  'no-o2',
  'no-co',
  'o2-not-possible',
  'co-not-possible',
  'diluted',
  'not-settled',
  'read-first',
]);

export function curveDeedOf({ advice, hasRecord, isDone, isComplete, isKindUnsaid }: CurveDeedFacts): CurveDeed {
  if (!hasRecord && isDone) return 'next';
  const reasons: readonly AdviceReason[] = advice?.advice === 'none' ? advice.because : [];
  if (reasons.includes('fuel-not-known') || reasons.includes('gas-fuel')) return 'fuel';
  if (!hasRecord) return 'connect';
  if (advice?.setting !== undefined) return 'mark';
  if (advice?.advice === 'stop') return 'other-air';
  if (reasons.includes('kind-not-said') && isKindUnsaid) return 'kinds';
  if (reasons.includes('no-air-adjuster')) return 'adjusters';
  if (reasons.includes('oil-cause-known') || reasons.includes('smoke-first')) return isComplete ? 'smoke' : 'read';
  if (!isComplete || reasons.some((key) => readAgain.has(key))) return 'read';
  return advice?.advice === 'leave' ? 'use' : 'other';
}

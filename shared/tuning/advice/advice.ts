/** What an advice says, why, and what it is worked out from. */
import type { Fuel } from '../../combustion/fuel.ts';
import type { Setting } from '../../measurement/mark.ts';
import type { Adjuster } from '../trial/adjuster.ts';
import type { Trial } from '../trial/trial.ts';
import type { Change } from '../visit/staleness.ts';
import type { Visit } from '../visit/visit.ts';
import type { LimitsInForce } from './limits-in-force.ts';

export const adviceKinds = ['less-air', 'more-air', 'leave', 'stop', 'none'] as const;
export type AdviceKind = (typeof adviceKinds)[number];

/** Why: one key each, the sentence is in shared/words/tune/advice.ts. */
export const adviceReasons = [
  'room-co',
  'oil',
  'oil-cause-known',
  'flue-co-alarm',
  'live-co-alarm',
  'back-to-clean',
  'co-falls-towards-less-air',
  'smoke-over-limit',
  'smoke-with-much-air',
  'o2-at-floor',
  'no-smoke-by-floor',
  'floor-is-near',
  'closed-end',
  'co-before-smoke',
  'set-by-co',
  'smoke-and-co-disagree',
  'gas-fuel',
  'fuel-not-known',
  'no-trials',
  'read-first',
  'not-settled',
  'smoke-first',
  'no-o2',
  'no-co',
  'o2-not-possible',
  'diluted',
  'no-air-adjuster',
  'kind-not-said',
  'direction-not-known',
  'small-step',
  'find-smoke',
  'find-clean',
  'narrow-onset',
  'as-left',
  'part-way',
  'nearest-step',
  'too-few-trials',
  'too-far-beyond-trials',
  'flat',
  'not-monotone',
  'no-setting',
  'scale-ends',
  'against-what-was-said',
  'co-not-possible',
  'smoke-against-air',
  'reserve-and-limit-conflict',
] as const;

export type AdviceReason = (typeof adviceReasons)[number];

export type Advice = {
  advice: AdviceKind;
  because: AdviceReason[];
  /** the adjuster to turn, from where to where; absent where no number can be given */
  adjuster?: string | undefined;
  from?: number | undefined;
  to?: number | undefined;
  setting?: Setting | undefined;
  /** where O2 should come to, and what is expected with its 95 % interval */
  aimO2?: readonly [low: number, high: number] | undefined;
  expected?: { o2: number; low: number; high: number } | undefined;
  /** 'open' or 'close' only where the trials show that a higher number is more air */
  direction?: 'open' | 'close' | undefined;
  o2?: number | undefined;
};

/** What the instrument shows at this moment, apart from any trial. */
export type LiveGas = {
  o2?: number | undefined;
  coPpm?: number | undefined;
  coAirFreePpm?: number | undefined;
  coOverRange?: boolean | undefined;
  /** CO in the room, where the instrument has a meter for it */
  roomCoPpm?: number | undefined;
};

export type AdviceFacts = {
  stage: string;
  trials: readonly Trial[];
  changes: readonly Change[];
  adjusters: readonly Adjuster[];
  /** where the adjusters are now; without it, where the newest trial had them */
  present?: Setting | undefined;
  fuel: Fuel | undefined;
  flame: 'yellow' | 'blue';
  limits: LimitsInForce;
  reserveCo2Points: number;
  roomCoPpm?: number | undefined;
  oilCauses?: Visit['oilCauses'];
  live?: LiveGas | undefined;
};

export const stop = (...because: AdviceReason[]): Advice => ({ advice: 'stop', because });
export const none = (...because: AdviceReason[]): Advice => ({ advice: 'none', because });

import type { Random } from './random.ts';

export interface Spot {
  /** 0-9 in halves, as an eye would say it */
  readonly number: number;
  readonly oilTrace: boolean;
  readonly flaw?: 'wet' | 'uneven';
}

/** below this stack temperature the sample condenses in a cold pump, degC */
const CONDENSES_BELOW_C = 70;

/** One spot, with the scatter of pump and eye. `oiliness` 0..1 is the chance of a brown trace, `unevenShare` of a spot that is darker on one side. */
export function takeSpot(
  conditions: { smoke: number; stackC: number; leakFraction: number; oiliness: number; unevenShare?: number },
  random: Random,
): Spot {
  const seen = conditions.smoke * (1 - conditions.leakFraction);
  const scattered = seen + (0.12 + 0.06 * seen) * random.normal();
  const number = Math.min(9, Math.max(0, Math.round(2 * scattered) / 2));
  const oilTrace = random.uniform() < conditions.oiliness;
  const chance = random.uniform();
  if (chance < (conditions.stackC < CONDENSES_BELOW_C ? 0.7 : 0.015)) return { number, oilTrace, flaw: 'wet' };
  if (chance > 0.985 - (conditions.unevenShare ?? 0)) return { number, oilTrace, flaw: 'uneven' };
  return { number, oilTrace };
}

import { O2_IN_AIR_GERMAN_PERCENT } from './constants.ts';
import type { SiegertGroup } from './fuel.ts';

/** @source 1. BImSchV of 26 Jan 2010 (BGBl. I p. 38), Annex 2 No. 3.4.1 */
export const siegertConstants = {
  oil: { a: 0.68, b: 0.007 },
  gas: { a: 0.66, b: 0.009 },
  lpg: { a: 0.63, b: 0.008 },
} as const satisfies Record<SiegertGroup, { a: number; b: number }>;
/** Coke-oven gas stands in the same table; no fuel here uses it. */
export const SIEGERT_COKE_OVEN_GAS = { a: 0.6, b: 0.011 } as const;

/**
 * Flue gas loss by the statutory formula: sensible heat only, on the lower heating value.
 *
 *     qA = (tA - tL) (A/(21 - O2) + B)
 *
 * @returns % of the LHV
 * @source 1. BImSchV of 26 Jan 2010, Annex 2 No. 3.4.1
 */
export const siegertLossPercent = (
  constants: { readonly a: number; readonly b: number },
  netStackK: number,
  o2PercentDry: number,
): number => netStackK * (constants.a / (O2_IN_AIR_GERMAN_PERCENT - o2PercentDry) + constants.b);

/**
 * The most that the statute allows for oil and gas, % of LHV, after the measuring uncertainty was taken off and the result rounded.
 * @source 1. BImSchV of 26 Jan 2010, section 10
 */
export function statutoryLossLimitPercent(nominalKw: number): number | undefined {
  if (nominalKw < 4) return undefined;
  if (nominalKw <= 25) return 11;
  return nominalKw <= 50 ? 10 : 9;
}

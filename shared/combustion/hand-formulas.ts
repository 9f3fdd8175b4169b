/**
 * Published hand formulas, as second opinions: tests hold the balance against them, and none of them feeds a figure.
 * Gas in %vol dry, nitrogen by difference; mass fractions of the fuel.
 */
import type { UltimateAnalysis } from './stoichiometry.ts';

export type DryAnalysis = { readonly co2: number; readonly o2: number; readonly co: number; readonly n2: number };

/**
 * Dry gas per fuel: W = C [11 CO2 + 8 O2 + 7 (CO + N2)] / [3 (CO2 + CO)].
 *
 * @returns kg/kg
 * @source Steam, Its Generation and Use, 1919 edition (Project Gutenberg 22657), formula 15
 */
export const dryGasPerFuel1919 = (carbon: number, { co2, o2, co, n2 }: DryAnalysis): number =>
  (carbon * (11 * co2 + 8 * o2 + 7 * (co + n2))) / (3 * (co2 + co));

export type HandLosses = { readonly dryBtu: number; readonly hydrogenBtu: number; readonly coBtu: number };

/**
 * Losses in Btu per lb of fuel, degF:
 *
 *     dry = 0.24 W (Tg - Ta),  hydrogen = 9 H [(212 - Ta) + 970.4 + 0.47 (Tg - 212)],  CO = 10 150 C CO/(CO + CO2)
 *
 * @source the same, formulas 15 to 17 and its heat balance
 */
export function losses1919({
  analysis,
  gas,
  gasF,
  airF,
  dryGasPerFuel,
}: {
  readonly analysis: Pick<UltimateAnalysis, 'c' | 'h'>;
  readonly gas: DryAnalysis;
  readonly gasF: number;
  readonly airF: number;
  /** when the text rounds it; computed otherwise */
  readonly dryGasPerFuel?: number | undefined;
}): HandLosses {
  const w = dryGasPerFuel ?? dryGasPerFuel1919(analysis.c, gas);
  return {
    dryBtu: 0.24 * w * (gasF - airF),
    hydrogenBtu: 9 * analysis.h * (212 - airF + 970.4 + 0.47 * (gasF - 212)),
    coBtu: (10_150 * analysis.c * gas.co) / (gas.co + gas.co2),
  };
}

/**
 * Losses in % of the HHV:
 *
 *     L1 = 255 C%/HHV (Ts - Ta)/CO2,   L2 = (W% + 9 H%) (2488 - 4.2 Ta + 2.1 Ts)/HHV
 *
 * @source BS 845-1 form (from memory)
 */
export function lossesBs845({
  analysis: { c, h, w },
  hhvKjPerKg,
  stackC,
  airC,
  co2Percent,
}: {
  readonly analysis: Pick<UltimateAnalysis, 'c' | 'h' | 'w'>;
  readonly hhvKjPerKg: number;
  readonly stackC: number;
  readonly airC: number;
  readonly co2Percent: number;
}): { readonly dryPercent: number; readonly waterPercent: number } {
  return {
    dryPercent: (255 * 100 * c * (stackC - airC)) / (hhvKjPerKg * co2Percent),
    waterPercent: ((100 * w + 900 * h) * (2488 - 4.2 * airC + 2.1 * stackC)) / hhvKjPerKg,
  };
}

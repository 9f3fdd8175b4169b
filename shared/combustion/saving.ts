/** Fuel saved for the same useful heat, with the uncertainty of a difference. */
import { type Result, err, ok } from '../result.ts';
import { problem, type Problem } from '../problem.ts';
import { budgets } from './figures/budget.ts';
import type { DeriveInput } from './figures/figures.ts';
import type { Fuel } from './fuel.ts';
import { COVERAGE_FACTOR } from './figures/uncertainty.ts';
import { combustionTexts } from '../words/core/combustion.ts';

/**
 * saved = 1 - before/after. Both on the same heating-value basis; steady state only, cycling losses may differ.
 *
 * @returns %, negative when it got worse
 */
export function fuelSavedPercent({
  beforePercent,
  afterPercent,
}: {
  readonly beforePercent: number;
  readonly afterPercent: number;
}): Result<number, Problem> {
  for (const [name, value] of [
    ['before', beforePercent],
    ['after', afterPercent],
  ] as const) {
    if (!(value > 0 && value <= 100)) return err(problem('value-out-of-range', combustionTexts.efficiencyNotPossible(name, value)));
  }
  return ok(100 * (1 - beforePercent / afterPercent));
}

/** @returns kg of CO2 per gallon saved, and the biogenic part of it; undefined for gases and fuels without a published factor */
export function co2SavedKg(
  fuel: Fuel,
  gallons: number,
): { readonly total: number; readonly biogenic: number; readonly source: string } | undefined {
  if (fuel.phase === 'gas' || fuel.emission === undefined) return undefined;
  const total = gallons * fuel.emission.kgPerGallon;
  return { total, biogenic: total * fuel.emission.biogenicShare, source: fuel.emission.source };
}

export type SavingWithUncertainty = {
  readonly savedPercent: number;
  /** U = 2 u_c */
  readonly expandedPercent: number;
  /** what U would be if nothing were common to the two readings */
  readonly expandedIfIndependentPercent: number;
  readonly text: string;
};

/**
 * Saving between two readings of the same instrument on the same oil. What is common cancels: the oil's composition, and sensor
 * offsets that stay the same from one reading to the next. They act through the *difference* of the two sensitivities; only the
 * spread of each reading counts in full.
 *
 *     s = 1 - eB/eA,   ds = -deB/eA + (eB/eA^2) deA
 *
 * @returns undefined when one of the efficiencies is blank
 * @source JCGM 100:2008, 5.2.2 with correlation coefficient 1 for the tolerances and 0 for the spreads
 */
export function savingWithUncertainty(before: DeriveInput, after: DeriveInput): SavingWithUncertainty | undefined {
  const b = budgets(before).get('efficiencyHhvPercent');
  const a = budgets(after).get('efficiencyHhvPercent');
  if (b === undefined || a === undefined) return undefined;
  const perBefore = -100 / a.value;
  const perAfter = (100 * b.value) / (a.value * a.value);
  let common = 0;
  let independent = 0;
  for (const [index, partBefore] of b.parts.entries()) {
    const partAfter = a.parts[index];
    if (partAfter === undefined) continue;
    const offset = perBefore * partBefore.slope * partBefore.systematic + perAfter * partAfter.slope * partAfter.systematic;
    const spread = (perBefore * partBefore.slope * partBefore.random) ** 2 + (perAfter * partAfter.slope * partAfter.random) ** 2;
    common += offset * offset + spread;
    independent +=
      (perBefore * partBefore.slope * partBefore.systematic) ** 2 + (perAfter * partAfter.slope * partAfter.systematic) ** 2 + spread;
  }
  return {
    savedPercent: 100 * (1 - b.value / a.value),
    expandedPercent: COVERAGE_FACTOR * Math.sqrt(common),
    expandedIfIndependentPercent: COVERAGE_FACTOR * Math.sqrt(independent),
    text: combustionTexts.sameInstrument,
  };
}

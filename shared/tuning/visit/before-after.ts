import { budgets, type BudgetPart } from '../../combustion/figures/budget.ts';
import type { DeriveInput } from '../../combustion/figures/figures.ts';
import type { Fuel } from '../../combustion/fuel.ts';
import { co2SavedKg, savingWithUncertainty } from '../../combustion/saving.ts';
import { COVERAGE_FACTOR } from '../../combustion/figures/uncertainty.ts';
import { tolerancesAt, type Conditions } from './conditions.ts';
import type { Trial } from '../trial/trial.ts';
import { figureOf } from '../trial/trial-figures.ts';
import { defined } from '../../defined.ts';

export type BeforeAfter = {
  beforePercent: number;
  afterPercent: number;
  gainPoints: number;
  /** U = 2 u_c of the difference: what both readings share cancels */
  gainExpanded: number;
  fuelSavedPercent: number;
  fuelSavedExpanded: number;
  /** false when the gain lies inside its uncertainty: then no saving is claimed */
  clear: boolean;
  yearly?:
    | {
        gallons: number;
        gallonsExpanded: number;
        co2Kg?: number | undefined;
        co2KgExpanded?: number | undefined;
        co2Source?: string | undefined;
      }
    | undefined;
};
export type NoBeforeAfter = 'before-not-full' | 'after-not-full' | 'before-not-computable' | 'after-not-computable';

/** A trial's reading as combustion wants it: means with their spreads; undefined without O2, stack or air. A typed air temperature counts. */
export function combustionInput(trial: Trial, conditions: Conditions): DeriveInput | undefined {
  const { fuel, airTypedC, humidityKgPerKg, pressurePa } = conditions;
  const [o2, co, stack, air] = [
    figureOf(trial, 'o2'),
    figureOf(trial, 'co'),
    figureOf(trial, 'stackTemperature'),
    figureOf(trial, 'airTemperature'),
  ];
  const airC = air?.mean ?? airTypedC;
  if (!o2 || !stack || airC === undefined) return undefined;
  return {
    timeMs: trial.reading?.takenMs ?? trial.fromMs,
    fuel,
    o2PercentDry: o2.mean,
    coPpmDry: co?.mean,
    stackC: stack.mean,
    airC,
    humidityKgPerKg,
    pressurePa,
    tolerances: tolerancesAt(conditions, co?.mean),
    spreads: { o2: o2.random, coPpm: co?.random, stackK: stack.random, airK: air?.random },
  };
}

/**
 * As found against as left, on HHV. The saving and its uncertainty are combustion's; the gain in points is propagated the same way.
 *
 * @source JCGM 100:2008, 5.2.2: common terms with correlation one, spreads with none
 */
export function beforeAfter(before: Trial, after: Trial, conditions: Conditions, annualGal?: number): BeforeAfter | NoBeforeAfter {
  const [first, second] = [combustionInput(before, conditions), combustionInput(after, conditions)];
  if (!first) return 'before-not-full';
  if (!second) return 'after-not-full';
  const [b, a] = [budgets(first).get('efficiencyHhvPercent'), budgets(second).get('efficiencyHhvPercent')];
  if (!b) return 'before-not-computable';
  const saving = savingWithUncertainty(first, second);
  if (!a || !saving) return 'after-not-computable';
  const gainPoints = a.value - b.value;
  const gainExpanded = COVERAGE_FACTOR * Math.sqrt(b.parts.reduce((sum, part, index) => sum + differenceVariance(part, a.parts[index]), 0));
  return {
    beforePercent: b.value,
    afterPercent: a.value,
    gainPoints,
    gainExpanded,
    fuelSavedPercent: saving.savedPercent,
    fuelSavedExpanded: saving.expandedPercent,
    clear: Math.abs(gainPoints) > gainExpanded,
    ...defined({
      yearly: annualGal === undefined ? undefined : yearly(conditions.fuel, annualGal, saving.savedPercent, saving.expandedPercent),
    }),
  };
}

const differenceVariance = (before: BudgetPart, after: BudgetPart | undefined): number =>
  after === undefined
    ? 0
    : (after.slope * after.systematic - before.slope * before.systematic) ** 2 +
      (after.slope * after.random) ** 2 +
      (before.slope * before.random) ** 2;

function yearly(fuel: Fuel, annualGal: number, savedPercent: number, expandedPercent: number): BeforeAfter['yearly'] {
  const gallons = (annualGal * savedPercent) / 100;
  const gallonsExpanded = (annualGal * expandedPercent) / 100;
  const co2 = co2SavedKg(fuel, gallons);
  if (!co2) return { gallons, gallonsExpanded };
  return { gallons, gallonsExpanded, co2Kg: co2.total, co2KgExpanded: co2SavedKg(fuel, gallonsExpanded)?.total, co2Source: co2.source };
}

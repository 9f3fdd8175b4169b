/** The uncertainty budget behind each figure: which input contributes how much. */
import type { DerivedKey } from '../measurement/derived.ts';
import { withoutNonNumbers } from './derive.ts';
import { computeFigures, gasInput, type DeriveInput } from './figures.ts';
import { defaultCoHalfWidthPpm, defaultTolerances, fromHalfWidth } from './uncertainty.ts';

export type BudgetInput = DeriveInput;

export type BudgetPart = {
  readonly name: 'O2' | 'CO2' | 'CO' | 'stack temperature' | 'air temperature' | 'fuel composition';
  /** partial derivative of the figure with respect to this input, figure's unit per `unit` */
  readonly slope: number;
  readonly unit: string;
  /** standard uncertainty from the tolerance: constant over a visit, cancels in a difference */
  readonly systematic: number;
  /** standard uncertainty of the mean */
  readonly random: number;
};
export type Budget = { readonly value: number; readonly parts: readonly BudgetPart[] };

/** Budgets of all figures that have a value. */
export function budget(raw: BudgetInput): Map<DerivedKey, Budget> {
  const input = withoutNonNumbers(raw);
  const gas = gasInput(input);
  const { tolerances, spreads } = input;
  const points = tolerances?.fuelPoints ?? defaultTolerances.fuelPoints;
  const gasSystematic = fromHalfWidth(
    gas.isFromCo2 ? (tolerances?.co2 ?? defaultTolerances.co2) : (tolerances?.o2 ?? defaultTolerances.o2),
  );
  const gasRandom = (gas.isFromCo2 ? spreads?.co2 : spreads?.o2) ?? 0;
  const coSystematic = input.coPpmDry === undefined ? 0 : fromHalfWidth(tolerances?.coPpm ?? defaultCoHalfWidthPpm(input.coPpmDry));
  const hydrogen = fromHalfWidth((input.fuel.hydrogenHalfWidth * points) / defaultTolerances.fuelPoints);
  const found = new Map<DerivedKey, Budget>();
  computeFigures(input, gas, {
    value(key, value, gGas, gCo, gStack, gAir, gHydrogen, gPoints) {
      found.set(key, {
        value,
        parts: [
          { name: gas.isFromCo2 ? 'CO2' : 'O2', slope: gGas, unit: '%', systematic: gasSystematic, random: gasRandom },
          { name: 'CO', slope: gCo, unit: 'ppm', systematic: coSystematic, random: spreads?.coPpm ?? 0 },
          {
            name: 'stack temperature',
            slope: gStack,
            unit: 'K',
            systematic: fromHalfWidth(tolerances?.stackK ?? defaultTolerances.stackK),
            random: spreads?.stackK ?? 0,
          },
          {
            name: 'air temperature',
            slope: gAir,
            unit: 'K',
            systematic: fromHalfWidth(tolerances?.airK ?? defaultTolerances.airK),
            random: spreads?.airK ?? 0,
          },
          gPoints === 0
            ? { name: 'fuel composition', slope: gHydrogen, unit: 'kg/kg H', systematic: hydrogen, random: 0 }
            : { name: 'fuel composition', slope: gPoints, unit: 'points', systematic: fromHalfWidth(points), random: 0 },
        ],
      });
    },
    blank() {
      // a blank has no budget
    },
  });
  return found;
}

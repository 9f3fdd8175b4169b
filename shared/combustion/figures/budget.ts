/** The uncertainty budget behind each figure: which input contributes how much. */
import type { DerivedKey } from '../../measurement/derived.ts';
import { checkedInput } from './checked-input.ts';
import { ACID_DEW_POINT_EXPANDED_K } from '../dew-point.ts';
import { computeFigures, gasInput, type DeriveInput } from './figures.ts';
import { inputUncertainties, type InputUncertainty } from './input-uncertainty.ts';
import { COVERAGE_FACTOR } from './uncertainty.ts';

export const budgetNames = ['O2', 'CO2', 'CO', 'stack temperature', 'air temperature', 'fuel composition', 'correlation'] as const;
export type BudgetName = (typeof budgetNames)[number];

export type BudgetPart = InputUncertainty & {
  readonly name: BudgetName;
  /** partial derivative of the figure with respect to this input, figure's unit per `unit` */
  readonly slope: number;
  readonly unit: string;
};
export type Budget = { readonly value: number; readonly parts: readonly BudgetPart[] };

/** What one input contributes to the standard uncertainty of the figure, in the figure's unit. */
export const contribution = ({ slope, systematic, random }: BudgetPart): number => Math.abs(slope) * Math.hypot(systematic, random);

/** @returns standard uncertainty u_c. @source JCGM 100:2008, 5.1.2 */
export const combined = (parts: readonly BudgetPart[]): number => Math.hypot(...parts.map(contribution));

const isAcidKey = (key: DerivedKey): boolean => key.startsWith('acidDewPoint');

/** Budgets of all figures that have a value; the parts stand in the same order for every input of the same kind. */
export function budgets(raw: DeriveInput): Map<DerivedKey, Budget> {
  const input = checkedInput(raw);
  const gas = gasInput(input);
  const u = inputUncertainties(input, gas.isFromCo2);
  const found = new Map<DerivedKey, Budget>();
  computeFigures(input, gas, {
    value(key, value, gGas, gCo, gStack, gAir, gHydrogen, gPoints) {
      const parts: BudgetPart[] = [
        { name: gas.isFromCo2 ? 'CO2' : 'O2', slope: gGas, unit: '%', ...u.gas },
        { name: 'CO', slope: gCo, unit: 'ppm', ...u.co },
        { name: 'stack temperature', slope: gStack, unit: 'K', ...u.stack },
        { name: 'air temperature', slope: gAir, unit: 'K', ...u.air },
        gPoints === 0
          ? { name: 'fuel composition', slope: gHydrogen, unit: 'kg/kg H', ...u.hydrogen }
          : { name: 'fuel composition', slope: gPoints, unit: 'points', ...u.points },
      ];
      if (isAcidKey(key))
        parts.push({ name: 'correlation', slope: 1, unit: 'K', systematic: ACID_DEW_POINT_EXPANDED_K / COVERAGE_FACTOR, random: 0 });
      found.set(key, { value, parts });
    },
    blank() {
      // a blank has no budget
    },
  });
  return found;
}

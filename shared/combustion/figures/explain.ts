/** 'How is this computed': formula, the numbers put in, basis, source and uncertainty budget of each figure. */
import { type BlankReason, type DerivedKey, derivedKeys } from '../../measurement/derived.ts';
import { quantities } from '../../units/quantities.ts';
import { budgets, combined, contribution, type BudgetName } from './budget.ts';
import { checkedInput } from './checked-input.ts';
import { derive } from './derive.ts';
import { gasInput, type DeriveInput } from './figures.ts';
import { flueGas } from '../flue-gas.ts';
import { formulaTexts, type FormulaNumbers } from './formula-texts.ts';
import { roundToUncertainty } from './uncertainty.ts';
import { blankSentences } from '../../words/core/blank-sentences.ts';

export type BudgetRow = {
  readonly name: BudgetName;
  /** standard uncertainty that this input brings into the figure, in the figure's unit */
  readonly u: number;
  /** share of the variance, 0..1 */
  readonly share: number;
};

export type Explanation = {
  readonly key: DerivedKey;
  readonly label: string;
  readonly unit: string;
  /** e.g. 'HHV', 'dry'; empty when there is nothing to tell apart */
  readonly basis: string;
  readonly formula: string;
  readonly source: string;
  readonly value?: number | undefined;
  /** U = 2 u_c */
  readonly expanded?: number | undefined;
  /** value and uncertainty as they may be written */
  readonly rounded?: string | undefined;
  /** the formula with this reading's numbers; absent when the figure is blank */
  readonly withNumbers?: string | undefined;
  readonly blank?: BlankReason | undefined;
  /** why it is blank, in words */
  readonly blankText?: string | undefined;
  /** largest contribution first; empty when the figure is blank or exact */
  readonly budget: readonly BudgetRow[];
};

/** @returns one explanation per figure, blank ones included, in the order of `derivedKeys` */
export function explain(raw: DeriveInput): Explanation[] {
  const input = checkedInput(raw);
  const derived = derive(input);
  const found = budgets(input);
  const numbers = formulaNumbers(input, derived.values);
  return derivedKeys.map((key) => {
    const { label, unit, ...rest } = quantities[key];
    const { formula, source, numbers: write } = formulaTexts[key];
    const common = { key, label, unit, basis: 'basis' in rest ? rest.basis : '', formula, source };
    const value = derived.values[key];
    const expanded = derived.expanded[key];
    if (value === undefined || expanded === undefined) {
      const blank = derived.blank[key];
      return { ...common, blank, blankText: blank === undefined ? undefined : blankSentences[blank], budget: [] };
    }
    const parts = found.get(key)?.parts ?? [];
    const total = combined(parts) ** 2;
    const budget = parts
      .map((part) => ({ name: part.name, u: contribution(part), share: total > 0 ? contribution(part) ** 2 / total : 0 }))
      .filter(({ u }) => u > 0)
      .sort((a, b) => b.u - a.u);
    return { ...common, value, expanded, rounded: roundToUncertainty(value, expanded).text, withNumbers: write(numbers), budget };
  });
}

export const explainOne = (input: DeriveInput, key: DerivedKey): Explanation | undefined => explain(input).find((one) => one.key === key);

function formulaNumbers(input: DeriveInput, values: Partial<Record<DerivedKey, number>>): FormulaNumbers {
  const { fuel, o2PercentDry } = gasInput(input);
  const coPpm = input.coPpmDry ?? 0;
  const humidity = input.humidityKgPerKg ?? 0;
  // a blank gas has no figure that would show these
  const isUsable = values.excessAirPercent !== undefined && o2PercentDry !== undefined;
  return {
    fuel,
    values,
    o2: o2PercentDry ?? 0,
    coPpm,
    stackC: input.stackC ?? 0,
    airC: input.airC ?? 0,
    pressurePa: input.pressurePa ?? 101_325,
    humidity,
    gas: isUsable ? flueGas(fuel.stoichiometry, o2PercentDry, coPpm, humidity) : undefined,
  };
}

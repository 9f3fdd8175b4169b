/** 'How is this computed' in words. */
import type { BudgetName } from '../../combustion/figures/budget.ts';

export const how = {
  open: (label: string): string => `${label}: how it is computed`,
  title: 'How is this computed?',
  now: 'From the values on the screen, in °C, % and ppm.',
  nowIn: (text: string): string => `From the values on the screen, computed in °C, % and ppm: ${text}.`,
  formula: 'Formula',
  numbers: 'With these numbers',
  source: 'Source',
  basis: 'Basis',
  budget: 'Where its uncertainty comes from',
  budgetNote: 'The longer the bar, the more it adds. u is a standard uncertainty; ± on the screen is 2 u combined (JCGM 100).',
  under: 'under 1 %',
  blank: 'Not computed',
  exact: 'From the fuel alone; no measured value is used.',
} as const;

export const budgetWords: Readonly<Record<BudgetName, string>> = {
  O2: 'O2: instrument and spread',
  CO2: 'CO2: instrument and spread',
  CO: 'CO: instrument and spread',
  'stack temperature': 'Stack temperature',
  'air temperature': 'Air temperature',
  'fuel composition': 'Fuel, composition not analysed',
  correlation: 'The formula itself',
};

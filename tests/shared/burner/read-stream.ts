import { createBurner } from '../../../shared/burner/burner.ts';
import type { Burner } from '../../../shared/burner/burner-interface.ts';
import { findScenario } from '../../../shared/burner/scenarios/catalogue.ts';
import type { Scenario } from '../../../shared/burner/scenario.ts';

export function scenarioNamed(name: string): Scenario {
  const scenario = findScenario(name);
  if (!scenario.ok) throw new Error(`no scenario ${name}`);
  return scenario.value;
}

export const burnerOf = (name: string, seed: number): Burner => createBurner({ scenario: scenarioNamed(name), seed });

/** One line of the columns shape, read with plain code. Absent words give NaN. */
export type Row = {
  readonly s: number;
  readonly o2: number;
  readonly co: number;
  readonly stack: number;
  readonly air: number;
  readonly draft: number;
};

export function rowsOf(burner: Burner, untilS: number): Row[] {
  return burner
    .advanceTo(untilS * 1000)
    .filter(({ text }) => !text.startsWith('time'))
    .map(({ text }) => {
      const [s, o2, co, stack, air, draft] = text.split(',').map(Number);
      return { s: s ?? NaN, o2: o2 ?? NaN, co: co ?? NaN, stack: stack ?? NaN, air: air ?? NaN, draft: draft ?? NaN };
    });
}

export const between = (rows: readonly Row[], fromS: number, toS: number): Row[] => rows.filter(({ s }) => s >= fromS && s < toS);
export const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
export const meanOf = (rows: readonly Row[], key: keyof Row): number => mean(rows.map((row) => row[key]));
export const seeds = [11, 12, 13, 14, 15] as const;

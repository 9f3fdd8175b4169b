import { createBurner } from '../../../shared/burner/burner.ts';
import { findScenario } from '../../../shared/burner/scenarios/catalogue.ts';
import type { LineShape } from '../../../shared/burner/scenario.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { RunEntry, RunHeader } from '../../../shared/measurement/run.ts';
import { commaRecipe, FOUR } from '../comma-recipe.ts';

/** Comma columns with a header and a time column, as the simulated burner writes them by default. */
export const columnsRecipe: LineRecipe = commaRecipe('test columns', FOUR, {
  firstAt: 1,
  time: { kind: 'field', at: 0, format: 'seconds' },
});

/** Lines of the simulated tune-up, one or more per second, with their times. */
export function burnerLines(options: {
  seconds: number;
  seed?: number;
  shape?: LineShape;
  ratePerSecond?: number;
  scenario?: string;
  turns?: { atS: number; value: number }[];
}) {
  const scenario = findScenario(options.scenario ?? 'tune-up');
  if (!scenario.ok) throw new Error('no such scenario');
  const burner = createBurner({
    scenario: scenario.value,
    seed: options.seed ?? 1,
    shape: options.shape ?? 'columns',
    ratePerSecond: options.ratePerSecond,
  });
  for (const { atS, value } of options.turns ?? []) burner.setAdjuster('shutter', value, atS * 1000);
  return burner.advanceTo(options.seconds * 1000).map(({ timeMs, text }) => ({ timeMs, bytes: text }));
}

export const lineEntries = (lines: readonly { timeMs: number; bytes: string }[]): RunEntry[] =>
  lines.map((line) => ({ kind: 'line', ...line }));

export const runHeader = (more: Partial<RunHeader> = {}): RunHeader => ({
  format: 'flueside-run',
  version: 1,
  runId: 'run-1',
  startWallMs: 1_760_000_000_000,
  zoneMinutes: 120,
  source: { kind: 'simulated', scenario: 'tune-up', title: 'Tune-up', seed: 1, shape: 'columns' },
  recipe: columnsRecipe,
  fuelId: 'no2',
  appVersion: '0.1.0',
  ...more,
});

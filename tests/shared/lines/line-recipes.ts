import { createLineReader } from '../../../shared/lines/reading/read-line.ts';
import type { LineRecipe, LineRecipeInput } from '../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../shared/measurement/check-recipe.ts';
import type { LineRead } from '../../../shared/lines/reading/line-read.ts';

export const make = (rest: Omit<LineRecipeInput, 'format' | 'version' | 'name'>): LineRecipe => {
  const checked = checkRecipe({ format: 'flueside-recipe', version: 1, name: 'test', ...rest });
  if (!checked.ok) throw new Error(checked.error.detail);
  return checked.value;
};
export const four = (at: readonly (number | string | { start: number; end: number })[]): LineRecipeInput['fields'] =>
  (['o2', 'co', 'stackTemperature', 'airTemperature'] as const).slice(0, at.length).map((channel, index) => ({
    channel,
    at: at[index] ?? 0,
    unit: channel === 'o2' ? ('%' as const) : channel === 'co' ? ('ppm' as const) : ('C' as const),
  }));
export const readAll = (recipe: LineRecipe, lines: readonly string[]): LineRead[] => {
  const reader = createLineReader(recipe);
  // A first line is judged milder; these tests are about the others.
  reader.read({ timeMs: -1000, bytes: '' });
  const reads = lines.map((bytes, at) => reader.read({ timeMs: at * 1000, bytes }));
  const rest = reader.end();
  return rest === undefined ? reads : [...reads, rest];
};
export const values = (reads: readonly LineRead[]): unknown[] =>
  reads.map((read) =>
    read.kind === 'sample' ? read.sample.values : read.kind === 'part' ? 'part' : read.kind === 'ignored' ? read.why : read.reason,
  );
export const commas = make({ shape: { kind: 'columns', delimiter: ',', count: 3 }, fields: four([0, 1, 2]) });
export const good = { o2: 4.1, co: 23, stackTemperature: 212.4 };

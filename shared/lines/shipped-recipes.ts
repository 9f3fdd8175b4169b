import { LineRecipe, type LineRecipeInput } from '../measurement/recipe.ts';
import { shippedTexts } from '../words/core/lines.ts';

/** Recipes to start with, named by their shape. None of them is any maker's. */
type Fields = LineRecipeInput['fields'];
const four = (at: readonly (number | string)[]): Fields => [
  { channel: 'o2', at: at[0] ?? 0, unit: '%' },
  { channel: 'co', at: at[1] ?? 1, unit: 'ppm' },
  { channel: 'stackTemperature', at: at[2] ?? 2, unit: 'C' },
  { channel: 'airTemperature', at: at[3] ?? 3, unit: 'C' },
];
const recipe = (id: keyof typeof shippedTexts, rest: Omit<LineRecipeInput, 'format' | 'version' | 'name' | 'note'>): LineRecipe =>
  LineRecipe.parse({ format: 'flueside-recipe', version: 1, ...shippedTexts[id], ...rest });

export const shippedRecipes: Readonly<Record<string, LineRecipe>> = {
  'comma-columns': recipe('comma-columns', {
    shape: { kind: 'columns', delimiter: ',', count: 5 },
    fields: four([1, 2, 3, 4]),
    time: { kind: 'field', at: 0, format: 'seconds' },
  }),
  'semicolon-columns': recipe('semicolon-columns', {
    shape: { kind: 'columns', delimiter: ';', count: 5 },
    fields: four([1, 2, 3, 4]),
    time: { kind: 'field', at: 0, format: 'clock' },
    decimal: ',',
  }),
  'blank-columns': recipe('blank-columns', {
    shape: { kind: 'columns', delimiter: 'blanks', count: 4 },
    fields: four([0, 1, 2, 3]),
  }),
  'tab-columns': recipe('tab-columns', {
    shape: { kind: 'columns', delimiter: '\t', count: 5 },
    fields: four([1, 2, 3, 4]),
    time: { kind: 'field', at: 0, format: 'clock' },
  }),
  'key-value': recipe('key-value', {
    shape: { kind: 'keyed', separator: '=', between: 'blank' },
    fields: four(['O2', 'CO', 'TS', 'TA']),
    status: { at: 'ST' },
  }),
  'json-lines': recipe('json-lines', {
    shape: { kind: 'json' },
    fields: four(['o2', 'co', 'stack', 'air']),
  }),
  'tagged-lines': recipe('tagged-lines', {
    shape: { kind: 'tagged', delimiter: 'blanks', gather: { order: ['A', 'B', 'C', 'D'] } },
    fields: four(['A.1', 'B.1', 'C.1', 'D.1']),
  }),
  'checked-sentence': recipe('checked-sentence', {
    framing: { baud: 4800 },
    shape: { kind: 'columns', delimiter: ',', count: 5 },
    fields: four([1, 2, 3, 4]),
    check: { kind: 'xor', lead: '*', skip: 1 },
  }),
  'hex-registers': recipe('hex-registers', {
    framing: { dataBits: 7, parity: 'even' },
    shape: { kind: 'registers', skipBytes: 3 },
    fields: [
      { channel: 'o2', at: 0, unit: '%', scale: 0.1 },
      { channel: 'co', at: 1, unit: 'ppm' },
      { channel: 'stackTemperature', at: 2, unit: 'C', scale: 0.1 },
      { channel: 'airTemperature', at: 3, unit: 'C', scale: 0.1 },
    ],
    check: { kind: 'lrc', lead: '', skip: 1, overPairs: true },
  }),
  'polled-columns': recipe('polled-columns', {
    polling: { command: 'READ?\r\n', intervalMs: 1000 },
    shape: { kind: 'columns', delimiter: ',', count: 4 },
    fields: four([0, 1, 2, 3]),
    ignore: { prefixes: ['READ?', '>'] },
  }),
};

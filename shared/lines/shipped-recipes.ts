import { LineRecipe, type LineRecipeInput } from '../measurement/recipe.ts';

/** Recipes to begin with, named by their shape. None of them is any maker's. */
type Fields = LineRecipeInput['fields'];
const four = (at: readonly (number | string)[]): Fields => [
  { channel: 'o2', at: at[0] ?? 0, unit: '%' },
  { channel: 'co', at: at[1] ?? 1, unit: 'ppm' },
  { channel: 'stackTemperature', at: at[2] ?? 2, unit: 'C' },
  { channel: 'airTemperature', at: at[3] ?? 3, unit: 'C' },
];
const recipe = (name: string, rest: Omit<LineRecipeInput, 'format' | 'version' | 'name'>): LineRecipe =>
  LineRecipe.parse({ format: 'flueside-recipe', version: 1, name, ...rest });

export const shippedRecipes: Readonly<Record<string, LineRecipe>> = {
  'comma-columns': recipe('Comma columns', {
    note: 'Seconds, O2, CO, stack, air between commas; decimal point.',
    shape: { kind: 'columns', delimiter: ',', count: 5 },
    fields: four([1, 2, 3, 4]),
    time: { kind: 'field', at: 0, format: 'seconds' },
  }),
  'semicolon-columns': recipe('Semicolon columns, decimal comma', {
    note: 'Clock time, O2, CO, stack, air between semicolons; decimal comma.',
    shape: { kind: 'columns', delimiter: ';', count: 5 },
    fields: four([1, 2, 3, 4]),
    time: { kind: 'field', at: 0, format: 'clock' },
    decimal: ',',
  }),
  'blank-columns': recipe('Blank columns', {
    note: 'O2, CO, stack, air with blanks between.',
    shape: { kind: 'columns', delimiter: 'blanks', count: 4 },
    fields: four([0, 1, 2, 3]),
  }),
  'tab-columns': recipe('Tab columns', {
    note: 'Clock time, O2, CO, stack, air with tabs between.',
    shape: { kind: 'columns', delimiter: '\t', count: 5 },
    fields: four([1, 2, 3, 4]),
    time: { kind: 'field', at: 0, format: 'clock' },
  }),
  'key-value': recipe('Key=value', {
    note: 'O2=4.2 CO=12 TS=212.4 TA=21.5 in any order, units may be glued on.',
    shape: { kind: 'keyed', separator: '=', between: 'blank' },
    fields: four(['O2', 'CO', 'TS', 'TA']),
    status: { at: 'ST' },
  }),
  'json-lines': recipe('JSON lines', {
    note: 'One object a line: o2, co, stack, air.',
    shape: { kind: 'json' },
    fields: four(['o2', 'co', 'stack', 'air']),
  }),
  'tagged-lines': recipe('One value per line', {
    note: 'Tags A (O2), B (CO), C (stack), D (air), one after the other.',
    shape: { kind: 'tagged', delimiter: 'blanks', gather: { order: ['A', 'B', 'C', 'D'] } },
    fields: four(['A.1', 'B.1', 'C.1', 'D.1']),
  }),
  'checked-sentence': recipe('Sentence with check', {
    note: 'NMEA 0183 style: O2, CO, stack, air behind the sentence name, exclusive or behind the star.',
    framing: { baud: 4800 },
    shape: { kind: 'columns', delimiter: ',', count: 5 },
    fields: four([1, 2, 3, 4]),
    check: { kind: 'xor', lead: '*', skip: 1 },
  }),
  'hex-registers': recipe('Registers in hex pairs', {
    note: 'Modbus ASCII answer with four registers: O2 in tenths, CO, stack in tenths, air in tenths.',
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
  'polled-columns': recipe('Polled', {
    note: 'Asked once a second; answers O2, CO, stack, air between commas. Nothing is sent before you agree to the bytes.',
    polling: { command: 'READ?\r\n', intervalMs: 1000 },
    shape: { kind: 'columns', delimiter: ',', count: 4 },
    fields: four([0, 1, 2, 3]),
    ignore: { prefixes: ['READ?', '>'] },
  }),
};

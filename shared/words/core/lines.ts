/** Sentences that shared/lines hands on: why a line was not read, how recipes are called. Line lengths are bytes, places are characters. */

/** Why a line was not read; the second line beside the reason's own words. */
export const rejectionTexts = {
  tooFewColumns: (sent: number, wanted: number) => `${countOf(sent)} instead of ${wanted}.`,
  onlyColumns: (sent: number) => `Only ${countOf(sent)}.`,
  length: (sent: number, wanted: number) => `${sent} characters instead of ${wanted}.`,
  noNumber: (text: string) => `'${text}' is no number.`,
  noChannel: 'No channel is in this line.',
  noKey: 'None of the keys is in this line.',
  noRegister: 'The registers are not in this line.',
  cut: (longest: number, cutBytes: number) => `The line was longer than ${longest} bytes; ${cutBytes} were cut.`,
  noEnd: 'The line stops before its end.',
  unprintable: 'This line has bytes that are not text.',
  noCheck: 'The line has no check.',
  wrongCheck: (sent: string, computed: string) => `The check is ${sent}, the line gives ${computed}.`,
  noHexPairs: 'The line is not made of hex pairs.',
  noJson: 'There is no JSON object in this line.',
  brokenJson: 'The JSON of this line is not complete.',
  noValue: 'This line is not a value.',
  noLook: 'No value of the cycle looks like this one.',
  missingBefore: 'Lines are missing before this one.',
  noMatch: 'The pattern does not fit this line.',
  patternTooBig: 'The pattern is too big: fewer or shorter repeats.',
  patternWithoutGroup: 'The pattern names no group.',
  patternUnusable: (flaw: string) => `The pattern cannot be used: ${flaw}`,
} as const;

const countOf = (columns: number): string => (columns === 1 ? '1 column' : `${columns} columns`);

/** Delimiters as the names of recipes and the reasons call them. */
export const delimiterWords = (delimiter: string): string => {
  const words: Record<string, string> = {
    ',': 'commas',
    ';': 'semicolons',
    '\t': 'tabs',
    '|': 'bars',
    blanks: 'blanks',
    'comma-or-semicolon': 'commas and semicolons',
  };
  return words[delimiter] ?? `'${delimiter}'`;
};

/** Names of learned recipes, by their shape. */
export const recipeNames = {
  columns: (delimiter: string, isDecimalComma: boolean) =>
    `Columns between ${delimiterWords(delimiter)}${isDecimalComma ? ', decimal comma' : ''}`,
  keyed: 'Keys and values',
  keyedInTurn: 'One value after the other, with keys',
  tagged: 'Lines with tags',
  cycle: 'One value after the other',
  json: 'JSON lines',
  fixed: 'Fixed width',
  registers: 'Registers in hex pairs, checked',
  pattern: 'Pattern',
  checked: (name: string) => `${name}, checked`,
} as const;

/** Recipes to start with: name and note. */
export const shippedTexts = {
  'comma-columns': { name: 'Comma columns', note: 'Seconds, O2, CO, stack, air between commas; decimal point.' },
  'semicolon-columns': {
    name: 'Semicolon columns, decimal comma',
    note: 'Clock time, O2, CO, stack, air between semicolons; decimal comma.',
  },
  'blank-columns': { name: 'Blank columns', note: 'O2, CO, stack, air with blanks between.' },
  'tab-columns': { name: 'Tab columns', note: 'Clock time, O2, CO, stack, air with tabs between.' },
  'key-value': { name: 'Key=value', note: 'O2=4.2 CO=12 TS=212.4 TA=21.5 in any order, units may be glued on.' },
  'json-lines': { name: 'JSON lines', note: 'One object a line: o2, co, stack, air.' },
  'tagged-lines': { name: 'One value per line', note: 'Tags A (O2), B (CO), C (stack), D (air), one after the other.' },
  'checked-sentence': {
    name: 'Sentence with check',
    note: 'NMEA 0183 style: O2, CO, stack, air behind the sentence name, exclusive or behind the star.',
  },
  'hex-registers': {
    name: 'Registers in hex pairs',
    note: 'Modbus ASCII answer with four registers: O2 in tenths, CO, stack in tenths, air in tenths.',
  },
  'polled-columns': {
    name: 'Polled',
    note: 'Asked once a second; answers O2, CO, stack, air between commas. Nothing is sent before you agree to the bytes.',
  },
} as const;

/** How far one more computed quantity, or one more channel, reaches: tables that need a row for each of them. */
import { expect, it } from 'vitest';
import { inFolder, read } from './project-files.ts';

const tablesOf = (key: RegExp): string[] =>
  ['shared', 'main', 'renderer'].flatMap(inFolder).filter((path) => {
    const text = read(path).replace(/Partial<\s*Record</g, '');
    return key.test(text);
  });

it('a computed quantity has its key, name and setter in one file and its formula in another; its label is in the table of quantities, its sum in a figures file', () => {
  expect(tablesOf(/\bRecord<DerivedKey,/)).toEqual(['shared/combustion/figures/formula-texts.ts', 'shared/measurement/derived.ts']);
});

it('a channel has its units in one file, its words in another and its name in the command line’s JSON; its id is in channel.ts, its label in the table of quantities', () => {
  expect(tablesOf(/\bRecord<(ChannelId|Channel),/)).toEqual([
    'shared/measurement/sent-unit.ts',
    'shared/words/lines/column-reasons.ts',
    'main/commands/output/run-json.ts',
  ]);
});

/** What a learned recipe is called in the list: how the lines are built, so that two are told apart. */
import { expect, it } from 'vitest';
import { learn } from '../../../../shared/lines/learn.ts';
import { burnerRows } from '../shapes/corpus.ts';

type Row = ReturnType<typeof burnerRows>[number];
const rows = burnerRows(40, 3);
const nameOf = (lines: (row: Row, at: number) => readonly string[]): string | undefined =>
  learn(rows.flatMap((row, at) => lines(row, at).map((bytes, member) => ({ bytes, timeMs: at * 1000 + member * 20 })))).proposals[0]?.recipe
    .name;
const comma = (value: number): string => value.toFixed(1).replace('.', ',');
/** the exclusive or of the bytes between $ and *, in hexadecimal */
const withXor = (text: string): string => {
  let check = 0;
  for (const byte of Buffer.from(text, 'latin1')) check ^= byte;
  return `$${text}*${check.toString(16).toUpperCase().padStart(2, '0')}`;
};

it.each([
  ['Columns between commas', ({ o2, co, stack, air }: Row) => [`${o2.toFixed(1)},${co.toFixed(0)},${stack.toFixed(1)},${air.toFixed(1)}`]],
  [
    'Columns between semicolons, decimal comma',
    ({ o2, co, stack, air }: Row) => [`${comma(o2)};${co.toFixed(0)};${comma(stack)};${comma(air)}`],
  ],
  [
    'Keys and values',
    ({ o2, co, stack, air }: Row) => [`O2=${o2.toFixed(1)} CO=${co.toFixed(0)} TS=${stack.toFixed(1)} TA=${air.toFixed(1)}`],
  ],
  [
    'One value after the other, with keys',
    ({ o2, co, stack, air }: Row) => [`O2=${o2.toFixed(1)}`, `CO=${co.toFixed(0)}`, `TS=${stack.toFixed(1)}`, `TA=${air.toFixed(1)}`],
  ],
  [
    'JSON lines',
    ({ o2, co, stack, air }: Row) => [
      JSON.stringify({ o2: +o2.toFixed(1), co: Math.round(co), stack: +stack.toFixed(1), air: +air.toFixed(1) }),
    ],
  ],
  [
    'Columns between commas, checked',
    ({ o2, co, stack, air }: Row) => [withXor(`GAS,${o2.toFixed(1)},${co.toFixed(0)},${stack.toFixed(1)},${air.toFixed(1)}`)],
  ],
] as [string, (row: Row) => string[]][])('%s', (name, lines) => expect(nameOf(lines)).toBe(name));

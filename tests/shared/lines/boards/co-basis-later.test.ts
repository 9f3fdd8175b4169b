/** A banner about CO that comes when the recipe is in use: from then on CO is no measured one. Invented data. */
import { describe, expect, it } from 'vitest';
import { createLineReader } from '../../../../shared/lines/reading/read-line.ts';
import { withAnswers } from '../../../../shared/pipeline/propose.ts';
import { boardRows, judgeBoard, readWith, recipeOf } from './board-lines.ts';

const rows = boardRows(90);
const AT = 40;
const keyed = rows.map((r) => `O2=${r.o2}% CO=${r.co}ppm TS=${r.stack}C TA=${r.air}C`);
const columns = rows.map((r) => `${r.at};${r.o2};${r.co};${r.stack};${r.air}`);
const json = rows.map((r) => JSON.stringify({ o2: r.o2, co: r.co, stack: r.stack, air: r.air }));
const withBanner = (lines: readonly string[], banner: string) => [...lines.slice(0, AT), banner, ...lines.slice(AT)];

describe.each([
  ['keys', keyed],
  ['columns', columns],
  ['JSON', json],
])('%s', (_, lines) => {
  it.each(['CO corrected to 3% O2', '# CO @ 3 % O2', 'CO korrigiert auf 3% O2', 'CO bei 3 Vol% O2', 'CO: air-free'])('%s', (banner) => {
    const all = withBanner(lines, banner);
    const { live } = judgeBoard(all);
    expect(live).toBeDefined();
    const samples = readWith(live!, all);
    expect(samples).toHaveLength(rows.length);
    expect(samples.map(({ values }) => values.co)).toEqual(rows.map(({ at, co }) => (at < AT ? co : undefined)));
    expect(samples.map(({ values }) => values.o2)).toEqual(rows.map(({ o2 }) => o2));
    expect(samples.at(-1)?.absent?.co).toBe('corrected');
  });

  it.each(['CO sensor at 3 V', 'flue gas board 2.1', 'CO2 corrected', 'CO cell: 3 %'])('%s says nothing of the kind', (banner) => {
    const all = withBanner(lines, banner);
    const { live } = judgeBoard(all);
    expect(live && readWith(live, all).map(({ values }) => values.co)).toEqual(rows.map(({ co }) => co));
  });
});

it('a person who has said that it is CO is not overruled by the banner', () => {
  const all = withBanner(keyed, 'CO corrected to 3% O2');
  const { live } = judgeBoard(all);
  const answered = live && withAnswers(live, [{ at: 'CO', channel: 'co', unit: 'ppm' }]);
  expect(answered && readWith(answered, all).map(({ values }) => values.co)).toEqual(rows.map(({ co }) => co));
});

it('where corrected CO has a column of its own the banner is about that one', () => {
  const all = withBanner(
    rows.map((r) => `O2=${r.o2}% CO=${r.co}ppm COcorr=${r.co * 2}ppm TS=${r.stack}C TA=${r.air}C`),
    'CO corr. to 3% O2',
  );
  const { file, live } = judgeBoard(all);
  for (const recipe of [recipeOf(file), live])
    expect(recipe && readWith(recipe, all).map(({ values }) => values.co)).toEqual(rows.map(({ co }) => co));
});

it('holds after a gap, and an answer about another column says nothing of CO', () => {
  const { live } = judgeBoard(keyed);
  expect(live).toBeDefined();
  const line = { number: 1, timeMs: 0, bytes: keyed[0]! };
  const next = createLineReader(live!, { wasCoCorrected: true }).read(line);
  expect(next).toMatchObject({ kind: 'sample', sample: { absent: { co: 'corrected' } } });
  expect(withAnswers(live!, [{ at: 'TS', channel: 'stackTemperature', unit: 'C' }])?.coBasisKnown).toBeUndefined();
  expect(withAnswers(live!, [], true)?.coBasisKnown).toBe(true);
});

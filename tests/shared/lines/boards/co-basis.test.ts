/** A banner before the values says that CO is corrected: its figures are no measured CO, so a person is asked. Invented data. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith, recipeOf } from './board-lines.ts';

const rows = boardRows(90);
const table = ['O2 %;CO ppm;Stack C;Air C', ...rows.map((r) => `${r.o2};${r.co};${r.stack};${r.air}`)];
const keyed = rows.map((r) => `O2=${r.o2}% CO=${r.co}ppm TS=${r.stack}C TA=${r.air}C`);
const coOf = (lines: readonly string[]) => {
  const { file, live } = judgeBoard(lines);
  const columns = file.kind === 'refuse' ? [] : file.proposal.columns;
  return [file.kind, live === undefined, columns.find(({ taken }) => taken === 'co')?.sureness];
};

describe('a banner about CO', () => {
  it.each([
    'all CO at 3% O2',
    'CO ref. 3 % O2',
    'CO corrected',
    '# CO @ 3% O2',
    'Note: CO values corrected to 3 % O2',
    'CO bei 3 Vol% O2',
    'CO air-free',
    'CO korrigiert',
  ])('%s makes CO a question', (banner) => {
    expect(coOf([banner, ...table])).toEqual(['ask', true, 'look']);
    expect(coOf([banner, ...keyed])).toEqual(['ask', true, 'look']);
  });

  it.each(['CO sensor at 3 V', 'flue gas board 2.1', 'O2 and CO, T1 at 3 m', 'CO2 at 3% O2', 'CO cell: 3 %'])('%s does not', (banner) => {
    expect(coOf([banner, ...table])).toEqual(['adopt', false, 'sure']);
    expect(coOf([banner, ...keyed])).toEqual(['adopt', false, 'sure']);
  });

  it('nor where corrected CO has a column of its own', () => {
    const lines = ['O2 %;CO ppm;CO corr ppm;Stack C;Air C', ...rows.map((r) => `${r.o2};${r.co};${r.co * 2};${r.stack};${r.air}`)];
    expect(coOf(['CO corr at 3% O2', ...lines])).toEqual(['adopt', false, 'sure']);
  });
});

describe('CO by the energy of the fuel, in a key that has no place for the stroke', () => {
  it.each(['co_mgkWh', 'CO_mg_kWh', 'co mgkwh', 'co_mgMJ', 'co_mg/kWh'])('%s is no CO in ppm', (key) => {
    const lines = rows.map((r) => `o2_pct=${r.o2} ${key.replace(' ', '_')}=${r.co} stack_c=${r.stack} air_c=${r.air}`);
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live]) {
      expect(recipe).toBeDefined();
      expect(readWith(recipe!, lines).flatMap(({ values }) => values.co ?? [])).toEqual([]);
      expect(readWith(recipe!, lines)[50]?.values.o2).toBe(rows[50]?.o2);
    }
  });
});

/** Units of a draft and of nitric oxide: read, or asked about; not left out without a word. Invented data. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith, recipeOf } from './board-lines.ts';

const rows = boardRows(90);
const draft = (at: number) => -(12 + (at % 5));
describe('a draft in', () => {
  it.each([
    ['daPa', 10, 2],
    ['mmH2O', 9.80665, 2],
    ['mmWS', 9.80665, 2],
    ['inWC', 249.08891, 4],
    ['in. w.c.', 249.08891, 4],
    ['hPa', 100, 3],
  ])('%s', (unit, pascal, decimals) => {
    const sent = (at: number) => (draft(at) / pascal).toFixed(decimals);
    for (const lines of [
      [`O2 [%];CO [ppm];Stack [C];Air [C];Draft [${unit}]`, ...rows.map((r) => `${r.o2};${r.co};${r.stack};${r.air};${sent(r.at)}`)],
      rows.map((r) => `O2: ${r.o2} %; CO: ${r.co} ppm; Stack: ${r.stack} C; Air: ${r.air} C; Draft: ${sent(r.at)} ${unit}`),
    ]) {
      const { file, live } = judgeBoard(lines);
      for (const recipe of [recipeOf(file), live]) {
        expect(recipe).toBeDefined();
        const read = readWith(recipe!, lines).map(({ values }) => values.draft ?? NaN);
        expect(read).toHaveLength(rows.length);
        for (const [at, value] of read.entries()) expect(value).toBeCloseTo(Number(sent(at)) * pascal, 3);
      }
    }
  });
});

describe('NO in mg/m3', () => {
  it.each(['mg/m3', 'mg/Nm3', 'mg/m³'])('%s is asked about: the state of the gas is not said', (unit) => {
    for (const lines of [
      [`O2 [%];CO [ppm];NO [${unit}];Stack [C];Air [C]`, ...rows.map((r) => `${r.o2};${r.co};${90 + (r.at % 7)};${r.stack};${r.air}`)],
      rows.map((r) => `O2: ${r.o2} %; CO: ${r.co} ppm; NO: ${90 + (r.at % 7)} ${unit}; Stack: ${r.stack} C; Air: ${r.air} C`),
    ]) {
      const { file } = judgeBoard(lines);
      const isAsked =
        file.kind === 'ask' && file.proposal.columns.some(({ name, sureness }) => name.startsWith('NO') && sureness === 'look');
      const said =
        file.kind === 'refuse'
          ? []
          : file.proposal.columns.filter(({ name }) => name.startsWith('NO')).flatMap(({ evidence }) => evidence.map(({ key }) => key));
      expect(isAsked, `${file.kind} ${said.join()}`).toBe(true);
    }
  });
});

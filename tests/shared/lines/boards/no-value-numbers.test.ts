/** Numbers that boards send when they have no value, coming live after the recipe was learned from good lines. Invented data. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith } from './board-lines.ts';

const channelAt = { o2: 0, co: 1, stackTemperature: 2 } as const;

describe('a number for "no value" is no reading, also when it comes for the first time', () => {
  it.each([
    ['co', '6553.5'],
    ['co', '3276.7'],
    ['co', '9999.99'],
    ['co', '9999.9'],
    ['co', '999.9'],
    ['co', '-127'],
    ['o2', '-1'],
    ['o2', '25.5'],
    // IEC 60751 ends at 850 degC, the table of a type K thermocouple (IEC 60584) at 1372 degC: an open sensor reads so
    ['stackTemperature', '850.0'],
    ['stackTemperature', '1372.0'],
  ] as const)('%s %s', (channel, text) => {
    const lines = ['O2 %,CO ppm,Stack C,Air C', ...boardRows(60).map((r) => `${r.o2},${r.co},${r.stack},${r.air}`)];
    const { live } = judgeBoard(lines);
    expect(live).toBeDefined();
    if (live === undefined) return;
    const cells = (lines[40] ?? '').split(',');
    cells[channelAt[channel]] = text;
    const [sample] = readWith(live, [cells.join(',')]);
    expect(sample?.values[channel]).toBeUndefined();
    expect(sample?.absent?.[channel]).toBeDefined();
    expect(Object.keys(sample?.values ?? {})).toHaveLength(3);
  });

  it('a CO that is as high as that stays one where the board writes tenths', () => {
    const lines = ['O2 %,CO ppm,Stack C,Air C', ...boardRows(60).map((r) => `${r.o2},${r.co.toFixed(1)},${r.stack},${r.air}`)];
    const { live } = judgeBoard(lines);
    expect(live && readWith(live, ['4.1,999.9,200.1,21.2'])[0]?.values.co).toBe(999.9);
  });
});

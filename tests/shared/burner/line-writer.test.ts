import { describe, expect, it } from 'vitest';
import { createBurner } from '../../../shared/burner/burner.ts';
import type { ShownValues } from '../../../shared/burner/instrument.ts';
import { createLineWriter } from '../../../shared/burner/line-writer.ts';
import { lineShapes, type LineShape } from '../../../shared/burner/scenario.ts';
import { scenarioNamed } from './read-stream.ts';

const channels = ['o2', 'co', 'stackTemperature', 'airTemperature'] as const;
const steps = { o2: 0.1, co: 1, stackTemperature: 0.1, airTemperature: 0.1, draft: 0.1 };

/** Each dialect read back by a few lines of plain code that knows only its convention. */
const readers: Record<LineShape, (lines: readonly string[]) => (number | undefined)[]> = {
  columns: ([line = '']) => line.split(',').slice(1).map(numberOrNothing),
  semicolon: ([line = '']) =>
    line
      .split(';')
      .slice(1)
      .map((text) => numberOrNothing(text.replace(',', '.'))),
  blanks: ([line = '']) => line.trim().split(/\s+/).map(numberOrNothing),
  keyed: ([line = '']) =>
    [...line.matchAll(/[A-Z0-9]+=(\S+)/g)]
      .map((match) => match[1] ?? '')
      .slice(0, -1)
      .map((text) => numberOrNothing(text.replace(/(%|ppm|C)$/, ''))),
  json: ([line = '']) => {
    const { o2, co, t_stack, t_air } = JSON.parse(line) as Record<string, unknown>;
    return [o2, co, t_stack, t_air].map((value) => (typeof value === 'number' ? value : undefined));
  },
  nmea: ([line = '']) => (/\$(.*)\*/.exec(line)?.[1] ?? '').split(',').slice(1).map(numberOrNothing),
  cyclic: (lines) => lines.map((line) => numberOrNothing(line.slice(2))),
  fixed: ([line = '']) =>
    [
      [0, 4, 100],
      [4, 9, 1],
      [9, 14, 10],
      [14, 18, 10],
    ].map(([from = 0, to = 0, scale = 1]) => {
      const text = line.slice(from, to);
      return /^9+$|^-+$/.test(text) ? undefined : Number(text) / scale;
    }),
};
function numberOrNothing(text: string): number | undefined {
  return text.trim() === '' || Number.isNaN(Number(text)) ? undefined : Number(text);
}

const cases: readonly ShownValues[] = [
  { o2: 4.1, co: 23, stackTemperature: 212.4, airTemperature: 21.5, draft: -5 },
  { o2: 20.9, co: 0, stackTemperature: 8.3, airTemperature: -3.2, draft: 0 },
  { o2: -0.1, co: -12, stackTemperature: 1000, airTemperature: 0, draft: 0 },
];

describe.each(lineShapes)('%s', (shape) => {
  const writer = createLineWriter({ shape, channels, steps });
  it.each(cases)('reads back what was written: %o', (values) => {
    expect(readers[shape](writer.write(values, 61_000, false))).toEqual(channels.map((channel) => values[channel]));
  });

  it('writes over-range and warming-up as something that is no number', () => {
    const over = { o2: 1.2, co: 'over-range', stackTemperature: 300, airTemperature: 20, draft: 0 } as const;
    expect(readers[shape](writer.write(over, 0, false))).toEqual([1.2, undefined, 300, 20]);
    expect(readers[shape](writer.write('warming-up', 0, false))).toEqual([undefined, undefined, undefined, undefined]);
  });

  it('carries the same values as the columns of the same burner', () => {
    const scenario = scenarioNamed('tune-up');
    const read = (asShape: LineShape) => {
      const lines = createBurner({ scenario, seed: 4, shape: asShape })
        .advanceTo(90_000)
        .map(({ text }) => text);
      const body = lines.filter((text) => !text.startsWith('time'));
      const perSample = asShape === 'cyclic' ? 4 : 1;
      return Array.from({ length: body.length / perSample }, (_, index) =>
        readers[asShape](body.slice(index * perSample, (index + 1) * perSample)),
      );
    };
    expect(read(shape)).toEqual(read('columns'));
    expect(read(shape).length).toBe(91);
  });
});

describe('the sentence with a checksum', () => {
  it('carries the XOR of what stands between $ and *', () => {
    // NMEA 0183 convention (public descriptions, from memory): two upper-case hex digits
    const [line = ''] = createLineWriter({ shape: 'nmea', channels, steps }).write(cases[0] ?? 'warming-up', 0, false);
    const body = line.slice(1, line.indexOf('*'));
    const sum = [...body].reduce((xor, character) => xor ^ character.charCodeAt(0), 0);
    expect(line.slice(line.indexOf('*') + 1)).toBe(sum.toString(16).toUpperCase().padStart(2, '0'));
    expect(line.length).toBeLessThanOrEqual(80);
  });
});

it('the keyed shape says when it draws fresh air', () => {
  expect(createLineWriter({ shape: 'keyed', channels, steps }).write(cases[0] ?? 'warming-up', 0, true)[0]).toMatch(/ST=PURGE$/);
});

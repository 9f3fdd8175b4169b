import { describe, expect, it } from 'vitest';
import { learn } from '../../../shared/lines/learn.ts';
import { checkRecipe } from '../../../shared/measurement/check-recipe.ts';
import { lineReason } from '../../../shared/words/lines/line-reasons.ts';
import { burnerRows, dialects, disturbances, makeStream, seeded } from './shapes/corpus.ts';
import { scoreStream } from './score-learning.ts';

const stamp = (lines: readonly string[]): { timeMs: number; bytes: string }[] => lines.map((bytes, at) => ({ timeMs: at * 1000, bytes }));
const rows = burnerRows(60, 77);
const f = (value: number, digits: number): string => value.toFixed(digits);

describe('learning recipes: forty dialects', () => {
  it('has forty of them', () => expect(dialects.length).toBe(40));

  it.each(disturbances)(
    'with %s: the first proposal is right for at least 38 of 40',
    (kind) => {
      const failed = dialects.flatMap((dialect, at) => {
        const score = scoreStream(dialect, makeStream(dialect, kind, at + 1));
        return score.isRight
          ? []
          : [`${dialect.name}: confidence ${score.confidence.toFixed(2)}, right ${score.rightShare.toFixed(2)}, ${score.note}`];
      });
      expect(failed.slice(2), failed.join('\n')).toEqual([]);
    },
    60_000,
  );

  it('gives recipes that pass the check of a recipe from outside', () => {
    for (const [at, dialect] of dialects.entries()) {
      for (const { recipe } of learn(makeStream(dialect, 'none', at + 1, 40).lines).proposals) {
        expect(checkRecipe(JSON.parse(JSON.stringify(recipe)))).toEqual({ ok: true, value: recipe });
      }
    }
  });
});

describe('learning: what is clear and what is not', () => {
  it('takes the seconds of lines that come at uneven times for a clock, with a short name, a long one or none', () => {
    const random = seeded(5);
    const stepsS = rows.map(() => 0.4 + random() * 0.6);
    const secondsAt = (at: number): number => stepsS.slice(0, at).reduce((sum, step) => sum + step, 0);
    const lines = rows.map(({ o2, co, stack, air }, at) => `${f(secondsAt(at), 1)},${f(o2, 1)},${f(co, 0)},${f(stack, 0)},${f(air, 1)}`);
    for (const header of [['t,O2 %,CO ppm,Tstack C,Tair C'], ['Time,O2,CO,Tf,Ta'], []]) {
      const time = learn(stamp([...header, ...lines])).proposals[0]?.recipe.time;
      expect(time, header[0] ?? 'no header').toMatchObject({ kind: 'field', at: 0, format: 'seconds' });
    }
  });

  it('knows such a clock in a long stream too, of which it looks at three stretches', () => {
    const long = burnerRows(2000, 4);
    const random = seeded(6);
    let seconds = 0;
    const lines = long.map(({ o2, co, stack, air }) => {
      seconds += 0.5 + random() * 0.4;
      return `${f(seconds, 1)},${f(o2, 1)},${f(co, 0)},${f(stack, 0)},${f(air, 1)}`;
    });
    expect(learn(stamp(['t,O2,CO,Tf,Ta', ...lines])).proposals[0]?.recipe.time).toMatchObject({ kind: 'field', at: 0, format: 'seconds' });
  });

  it('does not take a stack that warms with every line for a clock', () => {
    const warming = rows.map(({ o2, co, air }, at) => `${f(20 + 180 * (1 - Math.exp(-at / 120)), 2)},${f(o2, 1)},${f(co, 0)},${f(air, 1)}`);
    expect(learn(stamp(warming)).proposals[0]?.recipe.time).toEqual({ kind: 'arrival' });
  });

  it('finds O2, CO, stack and air in every order without a header', () => {
    const cells = [
      (at: number) => f(rows[at]?.o2 ?? 0, 1),
      (at: number) => f(rows[at]?.co ?? 0, 0),
      (at: number) => f(rows[at]?.stack ?? 0, 1),
      (at: number) => f(rows[at]?.air ?? 0, 1),
    ];
    const channels = ['o2', 'co', 'stackTemperature', 'airTemperature'];
    for (let order = 0; order < 24; order++) {
      const left = [0, 1, 2, 3];
      const places = [Math.floor(order / 6), Math.floor(order / 2) % 3, order % 2, 0].map((pick) => left.splice(pick, 1)[0] ?? 0);
      const [best] = learn(stamp(rows.map((_, at) => places.map((cell) => cells[cell]?.(at)).join(',')))).proposals;
      expect(best?.confidence, String(places)).toBeGreaterThan(0.8);
      for (const [column, cell] of places.entries())
        expect(best?.recipe.fields.find(({ at }) => at === column)?.channel, String(places)).toBe(channels[cell]);
    }
  });

  // Loss by 1. BImSchV, Annex 2 No. 3.4.1 (oil: A = 0.68, B = 0.007); the latent heat of a light oil, some 6 % of the HHV, from memory.
  it.each([
    { basis: 'the lower heating value', latent: 0 },
    { basis: 'the higher heating value', latent: 5.9 },
  ])('knows an efficiency on $basis by the loss that goes with it, and does not take it for CO', ({ latent }) => {
    const random = seeded(21);
    const lines = rows.map((row, at) => {
      const efficiency = 100 - latent - (row.stack - row.air) * (0.68 / (21 - row.o2) + 0.007);
      const co2 = (15.4 * (20.95 - row.o2)) / 20.95;
      const net = row.stack - row.air;
      return [at, f(co2, 1), f(row.o2, 1), f(26 + 4 * random(), 0), f(row.stack, 1), f(net, 1), f(row.air, 1), f(efficiency, 1)].join(',');
    });
    const [best] = learn(stamp(lines)).proposals;
    expect(best?.recipe.fields.map(({ channel, at }) => [channel, at])).toEqual(
      expect.arrayContaining([
        ['o2', 2],
        ['co', 3],
        ['stackTemperature', 4],
        ['airTemperature', 6],
      ]),
    );
    expect(best?.isOpen).toBe(false);
    expect(best?.confidence).toBeGreaterThan(0.9);
  });

  it.each([2, 4, 6, 8])('asks for the unit where a room of %i degC sent in degF could be a hot one in degC', (roomC) => {
    const random = seeded(roomC);
    const inF = (celsius: number): number => celsius * 1.8 + 32;
    const lines = rows.map((row) => [f(row.o2, 1), f(row.co, 0), f(inF(row.stack), 1), f(inF(roomC + 0.3 * random()), 1)].join(','));
    const [best] = learn(stamp(lines)).proposals;
    expect(best?.confidence).toBeLessThan(0.8);
    expect(best?.isOpen).toBe(true);
    const open = best?.columns.filter(({ sureness }) => sureness === 'look');
    expect(open?.map(({ taken }) => taken)).toEqual(expect.arrayContaining(['stackTemperature', 'airTemperature']));
    expect(open?.find(({ taken }) => taken === 'airTemperature')?.evidence.map(({ key }) => key)).toContain('unit-missing');
  });

  it('asks when two columns could be CO, and shows all columns with three values each', () => {
    const random = seeded(9);
    const lines = rows.map(
      (row) => `${f(row.o2, 1)},${f(40 + 5 * random(), 0)},${f(42 + 5 * random(), 0)},${f(row.stack, 1)},${f(row.air, 1)}`,
    );
    const [best] = learn(stamp(lines)).proposals;
    expect(best?.confidence).toBeLessThan(0.8);
    expect(best?.isOpen).toBe(true);
    expect(best?.columns.map(({ at, examples }) => [at, examples.length])).toEqual([0, 1, 2, 3, 4].map((at) => [at, 3]));
  });

  it('never takes computed CO2 for O2, whichever comes first', () => {
    for (const isCo2First of [true, false]) {
      const lines = rows.map(
        (row) =>
          `${isCo2First ? `${f(row.co2, 1)},${f(row.o2, 1)}` : `${f(row.o2, 1)},${f(row.co2, 1)}`},${f(row.co, 0)},${f(row.stack, 1)},${f(row.air, 1)}`,
      );
      const [best] = learn(stamp(lines)).proposals;
      expect(best?.recipe.fields.find(({ channel }) => channel === 'o2')?.at).toBe(isCo2First ? 1 : 0);
      expect(best?.recipe.fields.find(({ channel }) => channel === 'co2')?.at).toBe(isCo2First ? 0 : 1);
    }
  });

  it('asks for the order of a date that may be read both ways, and not when a day is over 12', () => {
    const dated = (date: string): string[] =>
      rows.map(
        (row) => `${date} 12:00:${String(row.t % 60).padStart(2, '0')},${f(row.o2, 1)},${f(row.co, 0)},${f(row.stack, 1)},${f(row.air, 1)}`,
      );
    expect(learn(stamp(dated('05/06/2026'))).proposals[0]?.choices.map(({ key }) => key)).toContain('date-order');
    const [clear] = learn(stamp(dated('11/25/2026'))).proposals;
    expect(clear?.choices).toEqual([]);
    expect(clear?.recipe.time).toMatchObject({ format: 'date-time', date: 'month-day-year' });
  });

  it('reads commas that are delimiter and decimal mark at once only where a header tells how many numbers there are', () => {
    const lines = rows.map((row) =>
      `12:00:${String(row.t % 60).padStart(2, '0')},${f(row.o2, 1)},${f(row.co, 0)},${f(row.stack, 1)}`.replaceAll('.', ','),
    );
    expect(learn(stamp(lines)).proposals[0]?.confidence).toBeLessThan(0.8);
    const [best] = learn(stamp(['time,O2 %,CO ppm,T1 C', ...lines])).proposals;
    expect(best?.confidence).toBeGreaterThan(0.8);
    expect(best?.preview[1]?.read).toMatchObject({
      kind: 'sample',
      sample: { values: { o2: Number(f(rows[0]?.o2 ?? 0, 1)), stackTemperature: Number(f(rows[0]?.stack ?? 0, 1)) } },
    });
  });

  it('asks what a positive draft means', () => {
    const lines = [
      'O2;CO;Stack;Air;Draft Pa',
      ...rows.map((row) => `${f(row.o2, 1)};${f(row.co, 0)};${f(row.stack, 1)};${f(row.air, 1)};${f(-row.draft, 1)}`),
    ];
    const [best] = learn(stamp(lines)).proposals;
    expect(best?.confidence).toBeGreaterThan(0.9);
    const choice = best?.choices.find(({ key }) => key === 'draft-sign');
    const scales = [best?.recipe, choice?.recipe].map((recipe) => recipe?.fields.find(({ channel }) => channel === 'draft')?.scale);
    expect(scales).toEqual([1, -1]);
  });

  it('says nothing about lines that are no readings', () => {
    const random = seeded(3);
    const prose = rows.map((_, at) => `event ${at}: door ${Math.floor(random() * 9)} opened by key ${Math.floor(random() * 1e6)}`);
    expect(learn(stamp(prose)).proposals[0]?.confidence ?? 0).toBeLessThan(0.8);
    expect(learn(stamp(['4.1,23,212.4'])).trouble).toBe('too-few-lines');
  });

  it('tells a wrong speed from the share of bytes that no text has', () => {
    const random = seeded(4);
    const noise = Array.from({ length: 40 }, () =>
      Array.from({ length: 20 }, () => String.fromCharCode(Math.floor(random() * 256))).join(''),
    );
    const result = learn(stamp(noise));
    expect(result).toMatchObject({ trouble: 'wrong-baud', proposals: [] });
    expect(result.baud?.candidates[0]).toBe(9600);
  });

  it('learns a value that means “no reading”, and leaves the channel absent there', () => {
    const lines = rows.map((row) => `${f(row.o2, 1)},${row.t < 12 ? '9999' : f(row.co, 0)},${f(row.stack, 1)},${f(row.air, 1)}`);
    expect(learn(stamp(lines)).proposals[0]?.recipe.sentinels).toEqual(
      expect.arrayContaining([{ value: 9999, means: 'over-range', channel: 'co' }]),
    );
  });

  it('calls a check probable before it has seen twenty lines', () => {
    const nmea = dialects.find(({ name }) => name === 'NMEA 0183 style');
    if (nmea === undefined) throw new Error('the dialect is gone');
    const said = (count: number): string[] => (learn(makeStream(nmea, 'none', 3, count).lines).proposals[0]?.reasons ?? []).map(lineReason);
    expect(said(12).join()).toContain('(probable)');
    expect(said(30).join()).toMatch(/The check fits in \d+ lines$/);
  });
});

import { describe, expect, it } from 'vitest';
import { responseOrWhy } from '../../../shared/bench/results/response.ts';
import { piecesOf } from '../../../shared/bench/results/missing-lines.ts';
import { studentQuantile95 } from '../../../shared/units/student.ts';

const responseOf = (...given: Parameters<typeof responseOrWhy>) => {
  const found = responseOrWhy(...given);
  return typeof found === 'string' ? undefined : found;
};

/** mulberry32, so that every seed is the same stream everywhere */
function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
const normal = (random: () => number): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** Closed form of a first-order lag with dead time, sampled, noisy and rounded. */
function answer(seed: number) {
  const random = seeded(seed);
  const rate = 1 + 9 * random();
  const dead = 1 + 6 * random();
  const tau = 4 + 16 * random();
  const rising = random() < 0.5;
  const [from, to] = rising ? [0, 100 + 300 * random()] : [20.9, 4 * random()];
  const size = Math.abs(to - from);
  const sd = size * (0.002 + 0.01 * random());
  const q = rising ? ([0, 1, 5][Math.floor(3 * random())] ?? 0) : ([0, 0.01, 0.1][Math.floor(3 * random())] ?? 0);
  const points = [];
  for (let i = 0; ; i++) {
    const t = -5 + (i + random() * 0.2) / rate;
    if (t > dead + 7 * tau) break;
    const exact = t < dead ? from : to + (from - to) * Math.exp(-(t - dead) / tau);
    const noisy = exact + sd * normal(random);
    points.push({ t, y: q === 0 ? noisy : Math.round(noisy / q) * q });
  }
  return { points, dead, tau, t90: dead + tau * Math.log(10), q };
}

/** Next to nothing moves: the display stays where it is but for a step or two of it, at random places and sampling rates. */
function nearlyNothing(seed: number) {
  const random = seeded(seed);
  const rate = 0.5 + 4 * random();
  const jumpS = 40 * random();
  const size = 1 + Math.floor(2 * random());
  const noisy = 0.1 * random();
  return Array.from({ length: Math.round(80 * rate) }, (_, i) => {
    const t = -5 + i / rate;
    return { t, y: (t < jumpS ? 0 : size) + (random() < noisy ? 1 : 0) };
  });
}

describe('response time', () => {
  it('is none where its doubt is longer than all that was watched (400 answers of next to nothing)', () => {
    const longest = Array.from({ length: 400 }, (_, i) => {
      const points = nearlyNothing(i + 1);
      const found = responseOf(points);
      const watchedS = points.at(-1)!.t;
      return found === undefined ? 0 : Math.max(found.dead.expanded, found.tau.expanded, found.t10.expanded, found.t90.expanded) / watchedS;
    });
    expect(Math.max(...longest)).toBeLessThanOrEqual(1);
    // and what can be told is told
    expect(longest.filter((share) => share > 0).length).toBeGreaterThan(20);
  });

  it('states a 95 % uncertainty that holds: closed form of a first-order lag, seeds 1 to 1000', () => {
    let inside = 0;
    let missing = 0;
    for (let seed = 1; seed <= 1000; seed++) {
      const { points, t90, q } = answer(seed);
      const response = responseOf(points, { resolution: q });
      if (response === undefined) missing++;
      else if (Math.abs(response.t90.value - t90) <= response.t90.expanded) inside++;
    }
    console.log('inside', inside, 'missing', missing);
    expect(missing).toBe(0);
    expect(inside).toBeGreaterThanOrEqual(930);
    expect(inside).toBeLessThanOrEqual(985);
  });
});

describe("Student's t", () => {
  it.each([
    [1, 12.71],
    [2, 4.3],
    [3, 3.18],
    [4, 2.78],
    [5, 2.57],
    [6, 2.45],
    [7, 2.36],
    [8, 2.31],
    [9, 2.26],
    [10, 2.23],
    [15, 2.13],
    [20, 2.09],
    [30, 2.04],
    [50, 2.01],
    [100, 1.984],
  ])('%i degrees of freedom: %f (JCGM 100:2008 table G.2, from memory)', (v, t) => {
    expect(studentQuantile95(v)).toBeCloseTo(t, 1.9);
    expect(Math.abs(studentQuantile95(v) - t)).toBeLessThan(0.0051);
  });
});

/** A cell that answers between two lines, as a pseudo-terminal or a short hose does. */
function quickAnswer(seed: number, stalls: boolean): { t: number; y: number }[] {
  const random = seeded(seed);
  const rate = [1, 2, 4][seed % 3]!;
  const tau = [0.01, 0.05, 0.1, 0.2][seed % 4]!;
  const dead = 0.2 + 2.5 * random();
  const resolution = [0.01, 0.1, 1][seed % 3]!;
  const noise = (seed % 2) * 0.8;
  const points: { t: number; y: number }[] = [];
  for (let t = -5 + random(); t < 60; t += 1 / rate) {
    if (stalls && random() < 0.05) t += 6 * random();
    const exact = t < dead ? 0 : 500 * (1 - Math.exp(-(t - dead) / tau));
    points.push({ t, y: Math.round((exact + noise * random()) / resolution) * resolution });
  }
  return points;
}

describe('an answer quicker than the lines', () => {
  it('gives finite figures or none, 500 rounds with stalled lines', () => {
    let given = 0;
    for (let seed = 1; seed <= 500; seed++) {
      const response = responseOf(quickAnswer(seed, seed % 2 === 0), { markHalfWidthS: 0.3 });
      if (response === undefined) continue;
      given++;
      const { dead, tau, t10, t90, rise, from, plateau } = response;
      const figures = [from, ...[dead, tau, t10, t90, rise, plateau].flatMap(({ value, expanded }) => [value, expanded])];
      expect(
        figures.filter((figure) => !Number.isFinite(figure)),
        `seed ${seed}`,
      ).toEqual([]);
    }
    expect(given).toBeGreaterThan(20);
  });
});

describe('lines missing on the way', () => {
  const lag = (missing: (t: number) => boolean): { t: number; y: number }[] =>
    Array.from({ length: 200 }, (_, i) => -10 + 0.5 * i)
      .filter((t) => !missing(t))
      .map((t) => ({ t, y: (t < 3 ? 0 : 400 * (1 - Math.exp(-(t - 3) / 10))) + 0.4 * Math.sin(7 * t) }));

  it('a whole way is timed: T90 = 3 + 10 ln 10', () => {
    expect(responseOf(lag(() => false))?.t90.value).toBeCloseTo(3 + 10 * Math.log(10), 0);
  });
  it('no time is taken across a hole, and the reason is said', () => {
    expect(responseOrWhy(lag((t) => t > 6 && t < 20))).toBe('missing-lines');
    expect(
      responseOrWhy(
        lag((t) => t > 12 && t < 15),
        { restS: 40 },
      ),
    ).toBe('missing-lines');
  });
  it('a hole on the plateau, or before the gas was switched, takes nothing away', () => {
    expect(
      responseOf(
        lag((t) => t > 60 && t < 75),
        { restS: 50 },
      )?.t90.value,
    ).toBeCloseTo(26, 0);
    expect(responseOf(lag((t) => t > -8 && t < -3))?.t90.value).toBeCloseTo(26, 0);
  });
  it('the picture is drawn in pieces', () => {
    const points = lag((t) => t > 6 && t < 20).map(({ t, y }) => [t, y] as const);
    expect(piecesOf(points).map((piece) => [piece[0]![0], piece.at(-1)![0]])).toEqual([
      [-10, 6],
      [20, 89.5],
    ]);
  });
});

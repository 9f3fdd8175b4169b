import { describe, expect, it } from 'vitest';
import { responseOf } from '../../../shared/bench/response.ts';
import { studentQuantile95 } from '../../../shared/units/student.ts';

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

describe('response time', () => {
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
  }, 120_000);
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

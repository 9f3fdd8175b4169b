import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { answerOf, type PlainTrial, type PlainVisit } from './visits.ts';

// thousands of courses on a busy computer take their time; nothing here is judged by it
vi.setConfig({ testTimeout: 180_000 });

/** A technician has an hour, not a day. Own choice: a search takes six to nine trials. */
const MOST_TRIALS = 16;

const share = fc.noBias(fc.integer({ min: 0, max: 1000 })).map((thousandth) => thousandth / 1000);
const burner = fc.record({
  step: fc.constantFrom(0.1, 0.25, 0.5, 1),
  start: share.map((one) => 5.5 + 4 * one),
  first: share.map((one) => 0.5 + one),
  base: share.map((one) => 0.9 + 0.2 * one),
  gain: share.map((one) => 0.4 + 0.6 * one),
  onset: share.map((one) => 1 + 4.5 * one),
  smokeSlope: share.map((one) => 0.5 + 2.5 * one),
  coKnee: share.map((one) => 1 + 3 * one),
  coRich: share.map((one) => 10 + 500 * one),
  noise: fc.infiniteStream(share.map((one) => 2 * one - 1)),
});

/** Somebody who does what the advice says, at a burner whose smoke is read to half a number and not always alike. */
function follow(b: typeof burner extends fc.Arbitrary<infer T> ? T : never): { ends: string; course: number[] } {
  const noise = b.noise[Symbol.iterator]();
  const next = (): number => noise.next().value ?? 0;
  const onStep = (at: number): number => Number((Math.round(at / b.step) * b.step).toFixed(3));
  const read = (shutter: number): PlainTrial => {
    const o2 = 20.946 * (1 - 1 / (b.base + (b.gain * shutter) / 10)) + 0.04 * next();
    const co = ((8 + b.coRich * Math.max(0, b.coKnee - o2)) * (20.9 - o2)) / 20.9 + 2 * next();
    const smoke = Math.min(9, Math.max(0, b.smokeSlope * (b.onset - o2) + 0.3 * next()));
    const [o2_pct, co_ppm] = [Number(o2.toFixed(2)), Math.max(0, Math.round(co))];
    return { setting: { shutter }, o2_pct, co_ppm, smoke: Math.round(2 * smoke) / 2, oil: false, settled: true };
  };
  const from = onStep(b.start);
  const course = [from, Math.min(onStep(from - b.first), from - b.step)];
  const trials = course.map(read);
  for (;;) {
    const visit: PlainVisit = {
      id: 'followed',
      fuel: 'no2',
      flame: 'yellow',
      adjusters: [{ name: 'shutter', kind: 'air', min: 0, max: 10, step: b.step }],
      trials,
      as_left: null,
      alarm_co_air_free_ppm: 400,
      o2_floor_pct: 2,
      smoke_limit: 1,
      room_co_ppm: 0,
      safety: [],
      bypass_in_place: false,
    };
    const { advice, to } = answerOf(visit);
    if (to === null || trials.length > MOST_TRIALS) return { ends: advice, course };
    course.push(to);
    trials.push(read(to));
  }
}

describe('advice that is followed', () => {
  it('comes to an end, and sends nobody to and fro', () => {
    const [ends, lengths] = [new Map<string, number>(), [] as number[]];
    fc.assert(
      fc.property(burner, (one) => {
        const { ends: end, course } = follow(one);
        ends.set(end, (ends.get(end) ?? 0) + 1);
        lengths.push(course.length);
        expect(course.length, course.join(', ')).toBeLessThanOrEqual(MOST_TRIALS);
        const visits = course.map((place) => course.filter((other) => other === place).length);
        expect(Math.max(...visits), course.join(', ')).toBeLessThanOrEqual(3);
      }),
      { numRuns: 700, seed: 20_261_128, endOnFailure: true },
    );
    const middle = [...lengths].sort((a, b) => a - b)[lengths.length / 2];
    console.info(
      `followed: ${[...ends].map(([kind, count]) => `${kind} ${count}`).join(', ')}; ${middle} trials in the middle, at most ${Math.max(...lengths)}`,
    );
    expect(ends.get('leave') ?? 0).toBeGreaterThan(0.8 * lengths.length);
  });
});

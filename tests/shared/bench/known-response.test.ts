/** What a bench test says of an instrument's cells, as a prior of the runs of its visits. */
import { describe, expect, it } from 'vitest';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { knownAtStart, knownResponse } from '../../../shared/bench/session/known-response.ts';
import { ApplianceKnowledge, SettlingKnowledge } from '../../../shared/measurement/knowledge.ts';
import { createDeadTimes } from '../../../shared/settling/dead-time.ts';

const YEAR_MS = 365.25 * 86_400_000;
const answer = (tauS: number, deadS: number, expanded = 0.4) => {
  const timed = (value: number) => ({ value, expanded });
  const [t10, t90] = [deadS + 0.105 * tauS, deadS + Math.LN10 * tauS];
  const times = { dead: timed(deadS), tau: timed(tauS), t10: timed(t10), t90: timed(t90), rise: timed(t90 - t10), plateau: timed(12) };
  return { plateau: {}, resolution: 0.1, response: { ...times, from: 20.9, firstOrder: true } };
};
const testOf = (channels: object[], more: Partial<BenchTest> = {}): BenchTest =>
  ({
    startedWallMs: 1000,
    rounds: [
      {
        kind: 'as-found',
        steps: channels.map((each, at) => ({ stepId: `s${at}`, end: 'reached', atMs: 0, application: { channels: each } })),
      },
    ],
    ...more,
  }) as unknown as BenchTest;
const visitsTaught = SettlingKnowledge.parse({
  format: 'flueside-knowledge',
  version: 1,
  appliance: 'pressure-atomizing oil burner',
  visits: 3,
  channels: { o2: { sensor: { mean: 3, sd: 0.2 } }, stackTemperature: { sensor: { mean: 1.5, sd: 0.1 } } },
});

describe('what the bench knows of an instrument', () => {
  it('is time constant and dead time of each cell, with the spread between the changes of gas', () => {
    const known = knownResponse('t1', testOf([{ o2: answer(9, 4) }, { o2: answer(11, 5), co: answer(20, 4) }]));
    expect(ApplianceKnowledge.safeParse(known).success).toBe(true);
    const { o2, co, stackTemperature } = known!.knowledge.channels;
    expect(Math.exp(o2!.sensor.mean)).toBeCloseTo(Math.sqrt(99), 1);
    expect(o2!.sensor.sd).toBeGreaterThan(0.14);
    expect(o2!.dead!.mean).toBeCloseTo(4.5, 3);
    expect(co!.sensor).toEqual({ mean: 2.9957, sd: 0.1 });
    expect(stackTemperature).toBeUndefined();
  });
  it('is nothing where the instrument was simulated, or no change was timed', () => {
    expect(knownResponse('t1', testOf([{ o2: answer(9, 4) }], { watermark: 'simulated' }))).toBeUndefined();
    expect(knownResponse('t1', testOf([{ o2: { plateau: {}, resolution: 0.1 } }]))).toBeUndefined();
  });
  it('takes the place of what visits taught of the cells, and leaves the metal', () => {
    const bench = knownResponse('t1', testOf([{ o2: answer(10, 4) }]))!.knowledge;
    const both = knownAtStart(visitsTaught, bench, 1000)!;
    expect(both).toMatchObject({ visits: 3, benchWallMs: 1000 });
    expect(both.channels.o2!.sensor.mean).toBeCloseTo(Math.log(10), 3);
    expect(both.channels.stackTemperature).toEqual(visitsTaught.channels.stackTemperature);
    expect(knownAtStart(visitsTaught, undefined, 1000)).toBe(visitsTaught);
    const alone = SettlingKnowledge.parse(knownAtStart(undefined, bench, 1000));
    expect([alone.visits, alone.learnedWallMs]).toEqual([0, undefined]);
  });
  it('is less sure the longer ago it was', () => {
    const bench = knownResponse('t1', testOf([{ o2: answer(10, 4) }]))!.knowledge;
    const sd = (years: number) => knownAtStart(undefined, bench, 1000 + years * YEAR_MS)!.channels.o2!.sensor.sd;
    expect([sd(0), sd(1), sd(3)].map((each) => Math.round(100 * each))).toEqual([10, 18, 46]);
  });
  it('gives the dead time until a mark of the run was confirmed', () => {
    const dead = createDeadTimes({ o2: { sensor: { mean: 2, sd: 0.1 }, dead: { mean: 4, sd: 0.5 } } });
    expect(dead.of('o2')).toBe(5);
    dead.mark(100);
    dead.moved('o2', 108);
    expect(dead.of('o2')).toBe(8);
  });
});

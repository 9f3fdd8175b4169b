/** Where each slow change in the stream begins to count, on both sides of its limit. Limits and their sources: `trends.ts`. */
import { describe, expect, it } from 'vitest';
import type { Point, Stream } from '../../../../shared/tuning/diagnosis/stream.ts';
import {
  creepingCoHint,
  draftFallingHint,
  draftStepHint,
  o2FallingHint,
  slowWarmUpHint,
} from '../../../../shared/tuning/diagnosis/trends.ts';

const MIN = 60;
/** One point a second over so many seconds. */
const points = (seconds: number, at: (second: number) => number): Point[] =>
  Array.from({ length: seconds + 1 }, (_, second) => ({ t: second * 1000, value: at(second) }));
/** A burner that has been burning since before the record. */
const stream = (seconds: number, series: Stream['series'], more: Partial<Stream> = {}): Stream => ({
  fromMs: 0,
  toMs: seconds * 1000,
  periodMs: 1000,
  series,
  fastO2: [],
  episodes: [{ kind: 'burning', fromMs: 0, toMs: seconds * 1000, open: true }],
  gaps: [],
  adjustmentsMs: [],
  ...more,
});
/** up and down from one block of a trend to the next, so that its slope is not sure */
const unsure = (second: number, by: number, blockS: number): number => (Math.floor(second / blockS) % 2 === 0 ? by : -by);

describe('creeping CO', () => {
  const creeping = (seconds: number, ppmPerMinute: number, { o2 = 0, zigzag = 0 } = {}) =>
    creepingCoHint(
      stream(seconds, {
        co: points(seconds, (s) => 20 + (ppmPerMinute * s) / MIN + unsure(s, zigzag, 10)),
        o2: points(seconds, (s) => 5 + (o2 * s) / seconds),
      }),
    );
  it('is told with its slope over the last eight minutes at most', () => {
    const [hint] = creeping(15 * MIN, 3);
    expect(hint).toMatchObject({ pattern: 'creeping-co', stretch: { fromMs: 7 * 60_000, toMs: 15 * 60_000 }, trialIds: [] });
    expect(hint!.figures['ppmPerMinute']).toBeCloseTo(3, 6);
    expect(hint!.figures['minutes']).toBe(8);
    // 20 ppm and 3 a minute: the middles of the first and last ten seconds
    expect(hint!.figures['fromPpm']).toBeCloseTo(41.2, 0);
    expect(hint!.figures['toPpm']).toBeCloseTo(65, 0);
    // 3 is twice 1.5: half of a half is left
    expect(hint!.strength).toBeCloseTo(0.75, 6);
  });
  it('takes four minutes', () => expect([240, 239].map((seconds) => creeping(seconds, 6).length)).toEqual([1, 0]));
  it('takes 12 ppm', () => expect([3.1, 2.9].map((slope) => creeping(240, slope).length)).toEqual([1, 0]));
  it('takes a slope that is surely above 1 ppm a minute', () =>
    expect([2, 7].map((zigzag) => creeping(480, 1.6, { zigzag }).length)).toEqual([1, 0]));
  it('is none where O2 moves by more than 0.3, up or down', () =>
    expect([0.28, 0.35, -0.28, -0.35].map((o2) => creeping(480, 3, { o2 }).length)).toEqual([1, 0, 1, 0]));
  it('is not looked for without O2, or without CO', () => {
    const co = points(480, (s) => 20 + s / 10);
    expect(creepingCoHint(stream(480, { co }))).toEqual([]);
    expect(creepingCoHint(stream(480, { o2: points(480, () => 5) }))).toEqual([]);
    expect(creepingCoHint(stream(480, { co, o2: points(480, () => 5) }))).toHaveLength(1);
  });
});

describe('a step of the draft', () => {
  type Step = { by: number; at?: number; wander?: number; ramp?: number; back?: number; long?: number };
  const seriesOf = ({ by, at = 600, wander = 0, ramp = 0, back = 0, long = 1200 }: Step): Point[] =>
    points(long, (s) => {
      const sway = [-wander, wander, 0][s % 3]!;
      return -15 + sway + (s >= at ? by : 0) + (ramp * (s - at)) / MIN - (s >= at + 200 ? back : 0);
    });
  const stepOf = (step: Step, more: Partial<Stream> = {}) =>
    draftStepHint(stream(step.long ?? 1200, { draft: seriesOf(step), o2: points(1200, (s) => (s < 600 ? 6 : 5)) }, more));
  it('is told with draft and O2 before and after, and where', () => {
    const [hint] = stepOf({ by: 3.6 });
    expect(hint).toMatchObject({ pattern: 'draft-step', figures: { fromPa: -15, toPa: -11.4, fromO2: 6, toO2: 5 }, trialIds: [] });
    // 3.6 is twice the step that counts
    expect(hint!.strength).toBeCloseTo(0.75, 6);
    expect(hint!.stretch!.fromMs).toBeLessThan(600_000);
    expect(hint!.stretch!.toMs).toBeGreaterThan(600_000);
    expect(hint!.stretch!.toMs - hint!.stretch!.fromMs).toBe(150_000);
  });
  it('takes 1.8 Pa that are lost, not gained', () => expect([1.9, 1.7, -3.6].map((by) => stepOf({ by }).length)).toEqual([1, 0, 0]));
  // the middle half of a normal spread lies within 1/1.483 of its deviation: 3 Pa are four times that of a sway by 0.506
  it('takes four times the wander', () => expect([0.48, 0.53].map((wander) => stepOf({ by: 3, wander }).length)).toEqual([1, 0]));
  it('is none where the draft falls on and on', () => expect([0.3, 3].map((ramp) => stepOf({ by: 3, ramp }).length)).toEqual([1, 0]));
  it('is told of the greatest of several', () => {
    const two = points(1800, (s) => -20 + (s >= 600 ? 3 : 0) + (s >= 1200 ? 5 : 0));
    const [hint, ...more] = draftStepHint(stream(1800, { draft: two }));
    expect(more).toEqual([]);
    expect(hint!.figures).toMatchObject({ fromPa: -17, toPa: -12 });
  });
  it('is none where most of what is lost goes in other steps around it', () => {
    const twice = (secondBy: number) =>
      draftStepHint(stream(1200, { draft: points(1200, (s) => -20 + (s >= 500 ? 3 : 0) + (s >= 600 ? secondBy : 0)) }));
    expect([twice(3), twice(0)].map(({ length }) => length)).toEqual([0, 1]);
  });
  it('is none within two minutes of a change that a person made', () => {
    expect(stepOf({ by: 3 }, { adjustmentsMs: [600_000] })).toEqual([]);
    expect(stepOf({ by: 3 }, { adjustmentsMs: [400_000] })).toHaveLength(1);
    expect(stepOf({ by: 3 }, { adjustmentsMs: [800_000] })).toHaveLength(1);
  });
  it('counts when it is undone later', () => expect(stepOf({ by: 3, back: 3 })).toHaveLength(1));
  it('needs a flame all the while, and four minutes since it was lit', () => {
    const lit = (fromMs: number, toMs = 1_200_000): Partial<Stream> => ({ episodes: [{ kind: 'burning', fromMs, toMs, open: true }] });
    expect(stepOf({ by: 3 }, lit(200_000))).toHaveLength(1);
    expect(stepOf({ by: 3 }, lit(300_000))).toEqual([]);
    expect(stepOf({ by: 3 }, lit(0, 680_000))).toEqual([]);
    expect(stepOf({ by: 3 }, lit(0, 800_000))).toHaveLength(1);
    expect(stepOf({ by: 3 }, { episodes: [{ kind: 'fresh', fromMs: 0, toMs: 1_200_000, open: true }] })).toEqual([]);
  });
  it('is not looked for without draft, nor at the ends of the record', () => {
    expect(draftStepHint(stream(1200, {}))).toEqual([]);
    expect(stepOf({ by: 3, at: 60 })).toEqual([]);
    expect(stepOf({ by: 3, at: 1150 })).toEqual([]);
  });
});

describe('draft that falls away, and O2 that falls', () => {
  const draftFalls = (seconds: number, by: number, zigzag = 0) =>
    draftFallingHint(stream(seconds, { draft: points(seconds, (s) => -15 + (by * s) / seconds + unsure(s, zigzag, 15)) }));
  const o2Falls = (seconds: number, by: number, zigzag = 0) =>
    o2FallingHint(stream(seconds, { o2: points(seconds, (s) => 6 + (by * s) / seconds + unsure(s, zigzag, 20)) }));
  it('are told with where they came from and are', () => {
    const [draft] = draftFalls(600, 5);
    expect(draft).toMatchObject({ pattern: 'draft-falling', figures: { minutes: 10 }, stretch: { fromMs: 0, toMs: 600_000 } });
    expect(draft!.figures['fromPa']).toBeCloseTo(-15, 0);
    expect(draft!.figures['toPa']).toBeCloseTo(-10, 0);
    expect(draft!.strength).toBeCloseTo(0.75, 6);
    const [o2] = o2Falls(600, -0.8);
    expect(o2).toMatchObject({ pattern: 'o2-falling', figures: { minutes: 10 }, stretch: { fromMs: 0, toMs: 600_000 } });
    expect(o2!.figures['fromO2']).toBeCloseTo(6, 1);
    expect(o2!.figures['toO2']).toBeCloseTo(5.2, 1);
    expect(o2!.strength).toBeCloseTo(0.675, 6);
  });
  it('take 2.5 Pa and 0.4 %', () => {
    expect([2.6, 2.4, -5].map((by) => draftFalls(600, by).length)).toEqual([1, 0, 0]);
    expect([-0.42, -0.38, 0.8].map((by) => o2Falls(600, by).length)).toEqual([1, 0, 0]);
  });
  it('take five and six minutes, and look at the last twenty', () => {
    expect([300, 299].map((seconds) => draftFalls(seconds, 5).length)).toEqual([1, 0]);
    expect([360, 359].map((seconds) => o2Falls(seconds, -0.8).length)).toEqual([1, 0]);
    expect(draftFalls(1500, 5)[0]!.stretch).toEqual({ fromMs: 300_000, toMs: 1_500_000 });
    expect(o2Falls(1500, -0.8)[0]!.stretch).toEqual({ fromMs: 300_000, toMs: 1_500_000 });
  });
  it('are none where the slope could as well be none', () => {
    expect([1, 12].map((zigzag) => draftFalls(600, 3, zigzag).length)).toEqual([1, 0]);
    expect([0.1, 2].map((zigzag) => o2Falls(600, -0.5, zigzag).length)).toEqual([1, 0]);
  });
  it('are not looked for where they were not measured', () => {
    expect(draftFallingHint(stream(600, {}))).toEqual([]);
    expect(o2FallingHint(stream(600, {}))).toEqual([]);
  });
});

describe('a warm-up that goes on too long', () => {
  type Lit = { atS?: number; burnsS?: number; kPerMinute?: number; zigzag?: number; turnedS?: number };
  const slow = ({ atS = 60, burnsS = 900, kPerMinute = 3, zigzag = 0, turnedS }: Lit) => {
    const endS = atS + burnsS;
    return slowWarmUpHint(
      stream(
        endS,
        { stackTemperature: points(endS, (s) => 150 + (kPerMinute * (s - atS)) / MIN + unsure(s, zigzag, 10)) },
        {
          episodes: [
            { kind: 'fresh', fromMs: 0, toMs: (atS - 1) * 1000, open: false },
            { kind: 'burning', fromMs: atS * 1000, toMs: endS * 1000, open: true },
          ],
          adjustmentsMs: turnedS === undefined ? [] : [turnedS * 1000],
        },
      ),
    );
  };
  it('is told from the seventh to the tenth minute of the flame', () => {
    const [hint] = slow({});
    expect(hint).toMatchObject({ pattern: 'slow-warm-up', figures: { minutes: 10 }, stretch: { fromMs: 480_000, toMs: 660_000 } });
    expect(hint!.figures['kPerMinute']).toBeCloseTo(3, 6);
    expect(hint!.strength).toBeCloseTo(0.75 * 0.7, 6);
    expect(slow({ burnsS: 560 })[0]!.stretch).toEqual({ fromMs: 480_000, toMs: 620_000 });
  });
  it('takes nine minutes of flame, and 1.5 K a minute that are sure', () => {
    expect([541, 539].map((burnsS) => slow({ burnsS }).length)).toEqual([1, 0]);
    expect([1.6, 1.4].map((kPerMinute) => slow({ kPerMinute }).length)).toEqual([1, 0]);
    expect([0.1, 6].map((zigzag) => slow({ kPerMinute: 2, zigzag }).length)).toEqual([1, 0]);
  });
  it('is none of a flame that a person turned meanwhile', () =>
    expect([50, 300, 600, 700].map((turnedS) => slow({ turnedS }).length)).toEqual([1, 0, 0, 1]));
  it('is none of a flame whose beginning was not seen', () => {
    const stackTemperature = points(900, (s) => 150 + s / 20);
    expect(slowWarmUpHint(stream(900, { stackTemperature }))).toEqual([]);
    expect(slow({ atS: 2 })).toHaveLength(1);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { airCurve, reserveOf, smokeApproach, type CurvePoint } from '../../../../shared/tuning/curve/air-curve.ts';
import { coValley } from '../../../../shared/tuning/curve/co-valley.ts';
import { curveGoal, richCoO2 } from '../../../../shared/tuning/curve/curve-goal.ts';
import { o2PointsFromCo2Points, reserveChoiceFor } from '../../../../shared/tuning/curve/reserve.ts';
import { smokeOnset, type SmokePoint } from '../../../../shared/tuning/curve/smoke-onset.ts';
import { limitsInForce } from '../../../../shared/tuning/advice/limits-in-force.ts';
import { makeTrial } from '../make-trial.ts';

const point = (o2: number, smoke: number): SmokePoint => ({ o2, smoke, random: 0.02, common: 0.1, spots: 1 });
const options = { stage: '1', co2MaxPercent: 15.49, reserveCo2Points: 1 };

describe('onset of smoke', () => {
  it('lies where the fit crosses one half, by hand: from 2 at O2 3 to 0 at O2 4 the half is at 3.75', () => {
    const onset = smokeOnset([point(6, 0), point(4, 0), point(3, 2)]);
    expect(onset).toMatchObject({ state: 'found', smokySide: 3, cleanSide: 4 });
    expect(onset.state === 'found' && onset.o2).toBeCloseTo(3.75, 12);
  });
  it('pools what goes against the order first: 0, 1 at O2 5, 4.5 become one half, so smoke begins at the leaner of them', () => {
    const onset = smokeOnset([point(7, 0), point(5, 1), point(4.5, 0), point(3, 4)]);
    expect(onset.state === 'found' && onset.smokySide).toBe(5);
  });
  it.each([
    { name: 'no trial', points: [], missing: 'trials' },
    { name: 'clean only', points: [point(6, 0), point(5, 0), point(4, 0)], missing: 'smoky-side' },
    { name: 'smoky only', points: [point(4, 1), point(3, 2), point(2, 4)], missing: 'clean-side' },
    { name: 'both sides, but two trials', points: [point(4, 0), point(3, 3)], missing: 'trials' },
    { name: 'a single half spot, which reading error can make', points: [point(6, 0), point(4, 0), point(3, 0.5)], missing: 'smoky-side' },
  ] as const)('says not enough points: $name', ({ points, missing }) => {
    expect(smokeOnset(points)).toMatchObject({ state: 'not-enough-points', missing });
  });
  it('never lies beyond the points, holds its own estimate, and is the same at every look', () => {
    const curves = fc.array(
      fc.record({ o2: fc.double({ min: 1, max: 9, noNaN: true }), smoke: fc.integer({ min: 0, max: 18 }).map((half) => half / 2) }),
      { minLength: 3, maxLength: 7 },
    );
    fc.assert(
      fc.property(curves, (raw) => {
        const points = raw.map(({ o2, smoke }) => point(o2, smoke));
        const onset = smokeOnset(points);
        if (onset.state !== 'found') return;
        const o2 = points.map((each) => each.o2);
        expect(onset.low).toBeGreaterThanOrEqual(Math.min(...o2));
        expect(onset.high).toBeLessThanOrEqual(Math.max(...o2));
        expect(onset.low).toBeLessThanOrEqual(onset.o2);
        expect(onset.o2).toBeLessThanOrEqual(onset.high);
        expect(smokeOnset([...points].reverse())).toEqual(onset);
      }),
      { numRuns: 40 },
    );
  });
  it('two spots at one O2 give the same onset in either order', () => {
    const spots = [point(1, 1.5), point(1, 0), point(1.05, 0), point(1, 0)];
    expect(smokeOnset([...spots].reverse())).toEqual(smokeOnset(spots));
  });
  it('gets narrower when the trials around it come closer', () => {
    const width = (points: SmokePoint[]): number => {
      const onset = smokeOnset(points);
      return onset.state === 'found' ? onset.high - onset.low : Infinity;
    };
    expect(width([point(6, 0), point(3.6, 0), point(3.3, 1), point(3, 3)])).toBeLessThan(width([point(6, 0), point(4.5, 0), point(3, 3)]));
  });
  it('covers: of 100 straight curves read with half-step noise the interval holds the truth in at least 90', () => {
    let seed = 1;
    const next = (): number => (seed = (seed * 16_807) % 2_147_483_647) / 2_147_483_647; // Park & Miller, Comm. ACM 31 (1988) 1192
    let inside = 0;
    let found = 0;
    for (let curve = 0; curve < 100; curve++) {
      const onset = 3 + next();
      const slope = 2 + 2 * next();
      const read = (o2: number): SmokePoint => {
        const smoke = Math.max(0, 0.5 + slope * (onset - o2)) + 0.4 * (next() - 0.5);
        return point(o2 + 0.03 * (next() - 0.5), Math.max(0, Math.round(2 * smoke) / 2));
      };
      const fit = smokeOnset([6, 5, 4.4, 3.7, 2.9, 2.4].map((o2) => read(o2 + 0.4 * (next() - 0.5))));
      if (fit.state !== 'found') continue;
      found++;
      if (fit.low <= onset && onset <= fit.high) inside++;
    }
    expect(found).toBeGreaterThan(95);
    expect(inside).toBeGreaterThanOrEqual(0.9 * found);
  });
});

describe('smoke with much air', () => {
  // oil that does not burn smokes at any air: closing the air to where "smoke starts" would be the wrong cure
  const clean = [makeTrial({ id: 'a', o2: 6, co: 20, smoke: 0 }), makeTrial({ id: 'b', o2: 4.5, co: 20, smoke: 0 })];
  const smoky = makeTrial({ id: 'c', o2: 3, co: 20, smoke: 2 });
  const airy = makeTrial({ id: 'd', o2: 11, co: 20, smoke: 2 });
  it('says nothing of where smoke starts, once the paper was clean with less', () => {
    const curve = airCurve([...clean, smoky, airy], options);
    expect(curve.points.filter(({ againstAir }) => againstAir === true).map(({ trialId }) => trialId)).toEqual(['d']);
    expect(curve.onset).toEqual(airCurve([...clean, smoky], options).onset);
    expect(airCurve([...clean, airy], options).onset).toMatchObject({ state: 'not-enough-points' });
  });
  it('counts as any other smoke below that air, and while nothing was clean', () => {
    const below = makeTrial({ id: 'd', o2: 9.9, co: 20, smoke: 2 });
    expect(airCurve([...clean, smoky, below], options).points.some(({ againstAir }) => againstAir === true)).toBe(false);
    expect(airCurve([smoky, airy], options).points.some(({ againstAir }) => againstAir === true)).toBe(false);
  });
});

describe('reserve', () => {
  it('turns 1 point of CO2 into 20.946/15.49 points of O2 (both straight between CO2 max and air)', () => {
    expect(o2PointsFromCo2Points(1, 15.49)).toBeCloseTo(1.352, 3);
  });
  it('knows the sourced ranges', () => {
    expect([0.5, 1, 1.5, 2, 2.5].map((points) => reserveChoiceFor(points)?.key)).toEqual([
      'classic',
      'current-training',
      'cautious',
      'cautious',
      undefined,
    ]);
  });
  it('is O2 over the onset, and the sensor error that both share drops out', () => {
    const onset = smokeOnset([point(6, 0), point(4, 0), point(3, 2)].map((each) => ({ ...each, common: 0.5 })));
    if (onset.state !== 'found') throw new Error('no onset');
    const reserve = reserveOf(makeTrial({ id: 'x', o2: 5.1, sensorU: 0.5, sd: 0 }), onset)!;
    expect(reserve.o2Points).toBeCloseTo(1.35, 12);
    // the onset must lie between its two trials at O2 3 and 4 (and their spread), whatever the sensor has wrong
    expect(reserve.low).toBeGreaterThan(5.1 - 4.1);
    expect(reserve.high).toBeLessThan(5.1 - 2.9);
    expect(reserve.low).toBeLessThan(reserve.o2Points);
    expect(reserve.high).toBeGreaterThan(reserve.o2Points);
    expect(onset.high - onset.low).toBeGreaterThan(reserve.high - reserve.low);
  });
});

describe('air curve', () => {
  const trials = [
    makeTrial({ id: 'a', o2: 7, co: 15, smoke: 0, atMs: 1 }),
    makeTrial({ id: 'b', o2: 5, co: 12, smoke: 0, atMs: 2 }),
    makeTrial({ id: 'c', o2: 4, co: 15, smoke: 0, atMs: 3 }),
    makeTrial({ id: 'd', o2: 3, co: 180, smoke: 2, atMs: 4 }),
  ];
  it('opens the window at onset plus reserve and names its upper end', () => {
    const { window } = airCurve(trials, options);
    expect(window!.fromO2).toBeCloseTo(3.75 + 20.946 / 15.49, 9);
    expect(window).toMatchObject({ upperEnd: 'reserve-limit', conflict: false });
    expect(airCurve(trials, { ...options, cardO2High: 6 }).window).toMatchObject({ upperEnd: 'target-card', toO2: 6, conflict: false });
    const chilled = [makeTrial({ id: 'l', o2: 7, co: 90, smoke: 0, atMs: 0 }), ...trials.slice(1)];
    expect(airCurve(chilled, options).window).toMatchObject({ upperEnd: 'co-rises', conflict: false });
    expect(airCurve(trials, { ...options, cardO2High: 4.5 }).window).toMatchObject({ upperEnd: 'target-card', conflict: true });
  });
  it('has no window without an onset', () => {
    expect(airCurve(trials.slice(0, 3), options).window).toBeUndefined();
  });
  it('draws unsettled readings but does not fit them', () => {
    const hurried = [...trials.slice(0, 3), makeTrial({ id: 'd', o2: 3, co: 180, smoke: 2, settled: false, atMs: 4 })];
    const curve = airCurve(hurried, options);
    expect(curve.points).toHaveLength(4);
    expect(curve.onset.state).toBe('not-enough-points');
  });
  it('sees both arms of CO, and only those that are there', () => {
    const valley = coValley([
      { o2: 2.5, coAirFreePpm: 300 },
      { o2: 3.5, coAirFreePpm: 20 },
      { o2: 5, coAirFreePpm: 15 },
      { o2: 9, coAirFreePpm: 120 },
    ]);
    expect(valley).toMatchObject({ richArm: true, leanArm: true, lowestO2: 5 });
    // by hand: near the lowest means 15 + 30 = 45 ppm; crossed at 3.5 - 25/280 and at 5 + 4 x 30/105
    expect(valley!.fromO2).toBeCloseTo(3.5 - 25 / 280, 9);
    expect(valley!.toO2).toBeCloseTo(5 + (4 * 30) / 105, 9);
    expect(
      coValley([
        { o2: 3, coAirFreePpm: 14 },
        { o2: 5, coAirFreePpm: 10 },
        { o2: 7, coAirFreePpm: 18 },
      ]),
    ).toMatchObject({ richArm: false, leanArm: false });
  });
  it('asks for the smoky side when a setting was not opened from it (NORA p 144)', () => {
    const curve = airCurve([...trials, makeTrial({ id: 'e', o2: 5.1, co: 12, smoke: 0, atMs: 5 })], options);
    expect(smokeApproach(curve, 'e')).toBe('from-smoke');
    expect(smokeApproach(curve, 'b')).toBe('closed-from-lean');
    expect(smokeApproach(airCurve(trials.slice(0, 3), options), 'b')).toBe('no-smoky-trial');
    expect(smokeApproach(curve, 'z')).toBe('not-known');
  });
});

describe('what the next trial is for', () => {
  const goal = (trials: Parameters<typeof airCurve>[0]) => curveGoal(airCurve(trials, options), limitsInForce({}));
  it('looks for smoke from the open side, for clean from the smoke, narrows, then sets', () => {
    expect(goal([makeTrial({ id: 'a', o2: 7, smoke: 0 })])).toMatchObject({ kind: 'find-smoke' });
    expect(goal([makeTrial({ id: 'a', o2: 3, smoke: 3 })])).toMatchObject({ kind: 'find-clean' });
    expect(
      goal([makeTrial({ id: 'a', o2: 6, smoke: 0 }), makeTrial({ id: 'b', o2: 5, smoke: 0 }), makeTrial({ id: 'c', o2: 3, smoke: 3 })]),
    ).toMatchObject({ kind: 'narrow-onset', targetO2: 4 });
    expect(
      goal([makeTrial({ id: 'a', o2: 6, smoke: 0 }), makeTrial({ id: 'b', o2: 3.8, smoke: 0 }), makeTrial({ id: 'c', o2: 3, smoke: 3 })])
        .kind,
    ).toBe('as-left');
    expect(goal([])).toEqual({ kind: 'none', reason: 'no-trials' });
  });
  it('stops where CO reaches the alarm before the paper shows smoke', () => {
    const trials = [
      makeTrial({ id: 'a', o2: 6, co: 20, smoke: 0 }),
      makeTrial({ id: 'b', o2: 4, co: 30, smoke: 0 }),
      makeTrial({ id: 'c', o2: 3, co: 500, smoke: 0 }),
    ];
    expect(goal(trials)).toEqual({ kind: 'stop', reason: 'co-before-smoke' });
  });
});

describe('where CO begins on the rich side', () => {
  const pointAt = (o2: number, coAirFreePpm: number | undefined, settled = true): CurvePoint => ({
    trialId: `o2 ${o2}`,
    o2,
    o2Half: 0.1,
    smoke: undefined,
    smokeHalf: undefined,
    coPpm: coAirFreePpm,
    coHalf: undefined,
    coAirFreePpm,
    settled,
    order: o2,
  });
  it.each([
    ['is at the level itself, as the notice is', [pointAt(6, 20), pointAt(4, 50), pointAt(3, 200)], 4],
    ['is not a hair below it', [pointAt(6, 20), pointAt(4, 49), pointAt(3, 200)], 3],
    ['is nowhere where more air does not cure it', [pointAt(6, 300), pointAt(4, 200), pointAt(3, 200)], undefined],
    ['is not told by a trial that was not settled', [pointAt(6, 20), pointAt(4, 60, false), pointAt(3, 200)], 3],
    ['is not told without CO', [pointAt(6, undefined), pointAt(4, undefined)], undefined],
  ] as const)('%s', (_, points, o2) => {
    expect(richCoO2(points, 50)).toBe(o2);
  });
});

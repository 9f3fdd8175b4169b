import { describe, expect, it } from 'vitest';
import { createBurner } from '../../../shared/burner/burner.ts';
import { findScenario } from '../../../shared/burner/scenarios/catalogue.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { classOverview, scoreCall, type CallResult } from '../../../shared/warm-up/call-it.ts';
import { difference, referenceBand, valueAt, type WarmUpCurve } from '../../../shared/warm-up/curve.ts';
import { createFireWatch } from '../../../shared/warm-up/light-off.ts';
import { steadyByTripleS } from '../../../shared/warm-up/steady.ts';

function samplesOf(
  name: string,
  seed: number,
  seconds: number,
  act?: (burner: ReturnType<typeof createBurner>, atMs: number) => void,
): Sample[] {
  const scenario = findScenario(name);
  if (!scenario.ok) throw new Error(scenario.error.detail);
  const burner = createBurner({ scenario: scenario.value, seed, shape: 'json' });
  const samples: Sample[] = [];
  for (let atMs = 1000; atMs <= seconds * 1000; atMs += 1000) {
    act?.(burner, atMs);
    for (const { timeMs, text } of burner.advanceTo(atMs)) {
      const line = JSON.parse(text) as Record<string, unknown>;
      const number = (key: string): Partial<Record<string, number>> => (typeof line[key] === 'number' ? { [key]: line[key] } : {});
      samples.push({ timeMs, values: { ...number('o2'), ...rename(number('t_stack'), 'stackTemperature') } });
    }
  }
  return samples;
}
const rename = (from: Partial<Record<string, number>>, to: string): Partial<Record<string, number>> =>
  Object.fromEntries(Object.values(from).map((value) => [to, value]));

describe('light-off and stop, found in the data', () => {
  it.each([1, 2, 3, 4, 5, 6])('finds the light-off of a cold start once, seed %i', (seed) => {
    const watch = createFireWatch();
    for (const sample of samplesOf('cold-start', seed, 600)) watch.push(sample);
    expect(watch.events.map(({ kind }) => kind)).toEqual(['light-off']);
  });
  it('takes a purge for no stop', () => {
    const watch = createFireWatch();
    for (const sample of samplesOf('purge', 1, 1200)) watch.push(sample);
    expect(watch.events.filter(({ kind }) => kind === 'stop')).toEqual([]);
  });
  it('finds the stop, and the next light-off', () => {
    const watch = createFireWatch();
    const act = (burner: ReturnType<typeof createBurner>, atMs: number) => {
      if (atMs === 600_000) burner.setPart('firing', false, atMs);
      if (atMs === 900_000) burner.setPart('firing', true, atMs);
    };
    for (const sample of samplesOf('tune-up', 3, 1200, act)) watch.push(sample);
    const kinds = watch.events.filter(({ timeMs }) => timeMs > 500_000);
    expect(kinds.map(({ kind }) => kind)).toEqual(['stop', 'light-off']);
    expect(Math.abs((kinds[0]?.timeMs ?? 0) - 620_000)).toBeLessThan(60_000);
    expect(Math.abs((kinds[1]?.timeMs ?? 0) - 915_000)).toBeLessThan(40_000);
  });
});

const exponential = (tau: number, end: number, seconds = 3600, name = 'curve'): WarmUpCurve => {
  const times = Array.from({ length: Math.floor(seconds / 10) + 1 }, (_, i) => i * 10);
  return {
    format: 1,
    name,
    runId: name,
    capturedWallMs: 0,
    source: 'port',
    startState: 'cold',
    tags: [],
    lightOffMs: 0,
    channels: { stackTemperature: { seconds: times, values: times.map((t) => end - (end - 20) * Math.exp(-t / tau)) } },
  };
};

describe('steady by three readings 15 min apart within 5 degF', () => {
  it('agrees with the closed form of one time constant', () => {
    // 200 K to go, tau 300 s: the first of the three must have less than 2.78 K more to go than the last
    // 200 exp(-t/300) (1 - exp(-1800/300)) = 2.778  ->  t = 300 ln(200 (1 - e^-6)/2.778) = 1282.5 s; the third comes 1800 s later
    const at = steadyByTripleS(exponential(300, 220, 4000).channels.stackTemperature!);
    expect(at).toBeGreaterThanOrEqual(3082);
    expect(at).toBeLessThanOrEqual(3093);
  });
  it('a middle reading that is off counts too, and only those that were taken', () => {
    const times = Array.from({ length: 601 }, (_, i) => i * 10);
    const stack = { seconds: times, values: times.map((t) => (t >= 600 && t < 1500 ? 215 : 210)) };
    // the hump is out of all three half an hour after its end
    expect(steadyByTripleS(stack)).toBe(1500 + 1800);
    expect(steadyByTripleS({ ...stack, values: times.map((t) => (t > 2500 ? 260 : 210)) })).toBe(1800);
  });
  it('is not reached by a short curve', () =>
    expect(steadyByTripleS(exponential(300, 220, 1700).channels.stackTemperature!)).toBeUndefined());
});

describe('curves over each other', () => {
  it('reads between points, and not across holes', () => {
    const curve = { seconds: [0, 10, 60], values: [1, 2, 7] };
    expect([valueAt(curve, 5), valueAt(curve, 10), valueAt(curve, 30), valueAt(curve, 61)]).toEqual([1.5, 2, undefined, undefined]);
  });
  it('subtracts on the first curve’s times', () => {
    const gap = difference(exponential(200, 230), exponential(200, 220), 'stackTemperature');
    expect(gap.values.at(-1)).toBeCloseTo(10, 2);
    expect(gap.values[0]).toBeCloseTo(0, 9);
  });
  it('makes a band of three or more', () => {
    const curves = [210, 220, 230].map((end) => exponential(200, end));
    const band = referenceBand(curves, 'stackTemperature');
    // sample standard deviation of 210, 220, 230 is 10
    expect(band?.middle.at(-1)).toBeCloseTo(220, 1);
    expect((band?.high.at(-1) ?? 0) - (band?.low.at(-1) ?? 0)).toBeCloseTo(40, 1);
    expect(referenceBand(curves.slice(1), 'stackTemperature')).toBeUndefined();
  });
});

describe('Call it', () => {
  const full: Reading = {
    id: 'r1',
    scope: 'full',
    settled: true,
    fromMs: 290_000,
    toMs: 300_000,
    takenMs: 300_000,
    final: true,
    channels: { o2: { mean: 5, sd: 0, n: 10, nEff: 10, u: 0 }, stackTemperature: { mean: 220, sd: 0, n: 10, nEff: 10, u: 0 } },
  };
  const samples = Array.from({ length: 600 }, (_, i): Sample => ({
    timeMs: i * 1000,
    values: { o2: 5, stackTemperature: 220 - 200 * Math.exp(-i / 60) },
  }));
  // 0.047 points a degree: procedure figure for oil at O2 4 %, computed
  const efficiency = (means: { stackTemperature?: number }) =>
    means.stackTemperature === undefined ? undefined : 90 - 0.047 * means.stackTemperature;
  it('says how early, and what it would have cost', () => {
    const score = scoreCall({ calledMs: 120_000, readings: [full], samples, efficiency });
    expect(score.earlyS).toBe(180);
    // mean of the last 11 samples up to 120 s: 200 e^-2 with a ten-second look back, about 29.5 K short
    expect(score.costStackK).toBeLessThan(-27);
    expect(score.costStackK).toBeGreaterThan(-32);
    expect(score.costEfficiencyPoints).toBeCloseTo(-0.047 * (score.costStackK ?? 0), 6);
    expect(score.points).toBe(2);
  });
  it('gives all points for a call soon after it was ready, and the pattern', () => {
    expect(scoreCall({ calledMs: 320_000, readings: [full], samples, efficiency, pattern: 'normal', patternSaid: 'normal' }).points).toBe(
      10,
    );
    expect(scoreCall({ calledMs: 320_000, readings: [full], samples, efficiency, pattern: 'normal', patternSaid: 'flutter' }).points).toBe(
      8,
    );
  });
  it('takes a point a minute for waiting', () =>
    expect(scoreCall({ calledMs: 300_000 + 180_000, readings: [full], samples, efficiency }).points).toBe(8));
  it('gives nothing for an early call of figures that were not there', () =>
    expect(scoreCall({ calledMs: 120_000, readings: [full], samples: [], efficiency }).points).toBe(2));
  it('says nothing of time when there was no reading', () =>
    expect(scoreCall({ calledMs: 1, readings: [], samples, efficiency })).toEqual({ points: 2 }));
  it('ranks a class', () => {
    const result = (trainee: string, points: number, earlyS: number): CallResult => ({
      format: 1,
      trainee,
      exercise: 'x',
      wallMs: 0,
      calledMs: 0,
      earlyS,
      points,
    });
    expect(classOverview([result('7', 4, 30), result('3', 9, -10), result('7', 8, -5)])).toEqual([
      { trainee: '3', calls: 1, points: 9, tooEarly: 0, meanEarlyS: -10 },
      { trainee: '7', calls: 2, points: 6, tooEarly: 1, meanEarlyS: 12.5 },
    ]);
  });
});

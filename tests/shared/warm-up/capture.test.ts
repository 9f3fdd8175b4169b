import { describe, expect, it } from 'vitest';
import type { ChannelState, Reading } from '../../../shared/measurement/state.ts';
import { captureCurve, fitPicture, type RunColumns } from '../../../shared/warm-up/capture.ts';
import { WarmUpCurve } from '../../../shared/warm-up/curve.ts';
import { builtInExercises, exercisesText, readExercises, scenarioPatterns } from '../../../shared/warm-up/exercises.ts';
import { callReasons } from '../../../shared/warm-up/reasons.ts';
import { findScenario } from '../../../shared/burner/scenarios/catalogue.ts';

const LIGHT_OFF_S = 60;
const END = 220;
const TAU = 180;
/** noise that repeats: a fixed linear congruential row, +-0.5 K */
function noise(): () => number {
  let state = 4321;
  return () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32 - 0.5;
}
/** T = end - (end - 20) exp(-t/tau) from light-off, and O2 from air to 5 %; closed form. */
function columnsOf(seconds: number, stopS = Infinity): RunColumns {
  const next = noise();
  const times = Array.from({ length: seconds }, (_, i) => i * 1000);
  const at = (s: number): number => (s < LIGHT_OFF_S ? 20 : END - (END - 20) * Math.exp(-(s - LIGHT_OFF_S) / TAU));
  return {
    o2: { timeMs: times, values: times.map((ms) => (ms / 1000 < LIGHT_OFF_S || ms / 1000 > stopS ? 20.9 : 5)) },
    stackTemperature: {
      timeMs: times,
      values: times.map((ms) => {
        const s = ms / 1000;
        return (s <= stopS ? at(s) : 20 + (at(stopS) - 20) * Math.exp(-(s - stopS) / 300)) + next();
      }),
    },
  };
}
const about = {
  name: 'boiler',
  runId: 'r',
  capturedWallMs: 0,
  source: 'port' as const,
  startState: 'cold' as const,
  tags: ['oil'],
  outdoorC: -3,
};

describe('capturing a run', () => {
  it('lines it up at light-off and finds time constant and end value', () => {
    const curve = captureCurve({ about, columns: columnsOf(1500), readings: [] });
    expect(WarmUpCurve.safeParse(curve).success).toBe(true);
    expect(curve.lightOffMs).toBe(LIGHT_OFF_S * 1000);
    const fit = curve.fits?.stackTemperature;
    expect(fit?.constants).toHaveLength(1);
    expect(fit?.constants[0]?.low).toBeLessThan(TAU);
    expect(fit?.constants[0]?.high).toBeGreaterThan(TAU);
    expect(Math.abs((fit?.endValue ?? 0) - END)).toBeLessThan(0.5);
    expect(fit?.honest).toBe(true);
    expect(fit?.missK).toBeLessThan(2);
  });
  it('looks no further than the stop of the burner', () => {
    const curve = captureCurve({ about, columns: columnsOf(2000, 1200), readings: [] });
    expect(Math.abs((curve.usedToS ?? 0) - (1200 - LIGHT_OFF_S))).toBeLessThan(5);
    expect(Math.abs((curve.fits?.stackTemperature?.endValue ?? 0) - END)).toBeLessThan(1);
  });
  it('looks no further than the first adjustment, and takes no reading from after it', () => {
    const setting = { stage: '1', positions: [{ name: 'Shutter', value: 4 }] };
    const reading = { scope: 'full', settled: true, takenMs: 1_000_000, channels: {} } as unknown as Reading;
    const marks = [{ id: 'm', timeMs: 900_000, body: { kind: 'adjustment', setting } as const }];
    const curve = captureCurve({ about, columns: columnsOf(1500), readings: [reading], marks });
    expect(curve.usedToS).toBe(900 - LIGHT_OFF_S);
    expect(curve.steadyOwnS).toBeUndefined();
    expect(captureCurve({ about, columns: columnsOf(1500), readings: [reading] }).steadyOwnS).toBe(1000 - LIGHT_OFF_S);
  });
  it('takes a light-off given by hand', () =>
    expect(captureCurve({ about, columns: columnsOf(600), readings: [], lightOffMs: 30_000 }).lightOffMs).toBe(30_000));
  it('shows what the fit leaves over', () => {
    const picture = fitPicture(captureCurve({ about, columns: columnsOf(1500), readings: [] }));
    // uniform on +-0.5 has the standard deviation 1/sqrt(12) = 0.289, and changes sign at about half of the points
    expect(picture?.largest).toBeLessThan(0.7);
    const count = picture?.residuals.length ?? 0;
    expect((picture?.crossings ?? 0) / count).toBeGreaterThan(0.35);
    // chance leaves about one part in the number of points of an eighth
    expect(picture?.waveShare).toBeLessThan(0.1);
    const sum = (picture?.residuals ?? []).reduce((total, value) => total + value * value, 0);
    expect(Math.sqrt(sum / count)).toBeGreaterThan(0.15);
    expect(Math.sqrt(sum / count)).toBeLessThan(0.32);
  });
  it('sees waves where the curve has more in it than two constants', () => {
    const columns = columnsOf(1500);
    const { timeMs, values } = columns.stackTemperature ?? { timeMs: [], values: [] };
    // the draft swings: 4 K up and down, a period of 12 min
    const swung = values.map((value, i) => value + 4 * Math.sin(((timeMs[i] ?? 0) / 720_000) * 2 * Math.PI));
    const picture = fitPicture(captureCurve({ about, columns: { ...columns, stackTemperature: { timeMs, values: swung } }, readings: [] }));
    expect(picture?.waveShare).toBeGreaterThan(0.3);
  });
  it('has no picture for a curve that is too short', () => {
    const curve = captureCurve({ about, columns: columnsOf(70), readings: [] });
    expect(fitPicture(curve)).toBeUndefined();
  });
});

describe('sets of exercises', () => {
  it('come back from a file as they went into it', () =>
    expect(readExercises(exercisesText(builtInExercises))).toEqual({ ok: true, value: builtInExercises }));
  it.each([
    ['not JSON', 'file-foreign'],
    ['{}', 'file-foreign'],
    ['{"format":"flueside-exercises","version":2}', 'file-newer'],
    ['{"format":"flueside-exercises","version":1,"name":"x","exercises":[]}', 'file-damaged'],
    [
      '{"format":"flueside-exercises","version":1,"name":"x","exercises":[{"name":"a","source":{"kind":"file","path":"/etc"}}]}',
      'file-damaged',
    ],
  ])('%s is refused', (text, code) => expect(readExercises(text)).toMatchObject({ ok: false, error: { code } }));
  it('the one that comes along names scenarios that exist, and gives no pattern away', () => {
    for (const { name, source, pattern } of builtInExercises.exercises) {
      if (source.kind !== 'simulated') throw new Error('a stored run cannot come along');
      const scenario = findScenario(source.scenario);
      expect(scenario.ok).toBe(true);
      expect(pattern).toBe(scenarioPatterns[source.scenario]);
      expect(name).toMatch(/^Burner [A-I]$/);
    }
  });
});

describe('why a call was early', () => {
  const state = (channel: ChannelState['channel'], more: Partial<ChannelState>): ChannelState =>
    ({ channel, state: 'settling', sinceMs: 0, band: 2, ...more }) as ChannelState;
  const states = {
    o2: state('o2', { state: 'settled', band: 0.2, value: 5 }),
    co: state('co', { band: 10, value: 40, headingFor: { value: 25, low: 20, high: 30 } }),
    stackTemperature: state('stackTemperature', { value: 190, headingFor: { value: 218, low: 215, high: 221 } }),
  };
  it('comes in the order of the channels, with what each still had to go', () => {
    const rows = callReasons(states, { o2: 5.02, co: 40, stackTemperature: 190 }, undefined);
    expect(rows.map(({ channel }) => channel)).toEqual(['o2', 'co', 'stackTemperature']);
    expect(rows[2]).toMatchObject({ toGo: 28, band: 2, state: 'settling', restAt: undefined });
  });
  it('goes by where it came to rest, once that is known', () => {
    const ready = { channels: { stackTemperature: { mean: 221 } } } as unknown as Reading;
    expect(callReasons(states, { stackTemperature: 190 }, ready)[2]).toMatchObject({ restAt: 221, toGo: 31, headingFor: 218 });
  });
});

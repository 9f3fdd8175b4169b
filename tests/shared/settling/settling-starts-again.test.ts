/** What makes settling start again: a turn of the air, a change nobody marked, and gas that is no flue gas. */
import { describe, expect, it } from 'vitest';
import type { Mark } from '../../../shared/measurement/mark.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { createSettling } from '../../../shared/settling/settling.ts';
import { createRandom } from '../../score/stream-random.ts';
import { lines, offered, step, tell } from './streams.ts';
import { coldStart } from './cold-start.ts';

const mark = (timeMs: number): Mark => ({ id: 'm', timeMs, body: { kind: 'adjustment', setting: { stage: '1', positions: [] } } });

describe('changes', () => {
  const turned = {
    o2: step(5, 6.5, 300, 9),
    co: step(30, 45, 300, 18),
    stack: (t: number): number => (t < 300 ? 230 : 246 - 9 * Math.exp(-(t - 300) / 5) - 7 * Math.exp(-(t - 300) / 80)),
  };

  it('ends the reading when the gas moves, and offers the next one for the new setting', () => {
    const { readings } = tell(lines(turned, { seconds: 800 }));
    const full = offered(readings, 'full');
    expect(full).toHaveLength(2);
    expect(full[1]!.takenMs).toBeGreaterThan(330_000);
    expect(Math.abs(full[1]!.first!.stackTemperature! - 246)).toBeLessThan(2.5);
    const ended = readings.find((r) => r.id === full[0]!.id && r.final)!;
    expect(ended.toMs).toBeLessThanOrEqual(304_000);
  });

  it('learns the metal without a bias from turns that begin in the middle of a block', () => {
    // thermocouple 6 s, metal 120 s with 45 % of the change: 230 to 246 and on to 222 degC (solution of the two equations)
    const after = (t: number, change: number): number =>
      t < 0 ? 0 : change * (1 - 0.55 * Math.exp(-t / 6) - (0.45 / (120 - 6)) * (120 * Math.exp(-t / 120) - 6 * Math.exp(-t / 6)));
    const z = [1, 3, 5, 7].map((seed) => {
      const { settling } = tell(
        lines({ stack: (t) => 230 + after(t - 301, 16) + after(t - 801, -24), o2: step(5, 6, 305, 8) }, { seconds: 950, seed }),
      );
      const { headingFor } = settling.states().find((s) => s.channel === 'stackTemperature')!;
      return (headingFor!.value - 222) / ((headingFor!.high - headingFor!.low) / 3.92);
    });
    // four runs: a mean beyond one standard deviation is no accident
    expect(Math.abs(z.reduce((a, b) => a + b, 0) / z.length)).toBeLessThan(1);
    expect(z.every((x) => Math.abs(x) < 2.5)).toBe(true);
  });

  it('offers a reading again after a marked turn that changed nothing', () => {
    const samples = lines({}, { seconds: 400 });
    const settling = createSettling();
    const readings: Reading[] = [];
    for (const s of samples) {
      if (s.timeMs === 250_000) readings.push(...settling.mark(mark(249_000)).readings);
      readings.push(...settling.push(s).readings);
    }
    expect(offered(readings, 'full')).toHaveLength(2);
  });

  it('learns the dead time from marks, also from one that comes late', () => {
    const settling = createSettling();
    for (const s of lines({ ...turned, o2: step(5, 6.5, 306, 9), co: step(30, 45, 306, 18) }, { seconds: 500 })) {
      settling.push(s);
      if (s.timeMs === 302_000) settling.mark(mark(300_000));
    }
    expect(settling.deadTimeS('o2')!).toBeGreaterThan(3);
    expect(settling.deadTimeS('o2')!).toBeLessThan(10);
  });

  it('starts again after a gap: nothing is joined across it', () => {
    const settling = createSettling();
    const readings: Reading[] = [];
    for (const s of lines({}, { seconds: 200 })) readings.push(...settling.push(s).readings);
    readings.push(...settling.gap(201_000).readings);
    for (const s of lines({}, { seconds: 200, fromS: 260, seed: 2 })) readings.push(...settling.push(s).readings);
    for (const r of readings) expect(r.fromMs > 250_000 || r.toMs < 250_000).toBe(true);
  });
});

describe('what is not flue gas', () => {
  const purge = (t: number): boolean => t >= 250 && t < 285;
  const purged = {
    o2: (t: number) => (purge(t) ? 20.9 - 15.9 * Math.exp(-(t - 250) / 6) : t < 250 ? 5 : 5 + 15.9 * Math.exp(-(t - 285) / 6)),
    co: (t: number) => (purge(t) ? 30 * Math.exp(-(t - 250) / 12) : t < 250 ? 30 : 30 - 30 * Math.exp(-(t - 285) / 12)),
  };

  it('leaves out a purge with fresh air and does not read the setting again', () => {
    const { readings, states } = tell(lines(purged, { seconds: 500 }));
    expect(states.some((s) => s.channel === 'o2' && s.reason === 'fresh-air')).toBe(true);
    expect(offered(readings, 'full')).toHaveLength(1);
    for (const r of readings) expect(r.channels.o2!.mean).toBeLessThan(5.4);
  });

  it('tells a probe that is out from a purge: the temperature falls too', () => {
    const { states } = tell(
      lines(
        {
          ...purged,
          stack: (t) => (purge(t) ? 60 + 170 * Math.exp(-(t - 250) / 8) : t < 250 ? 230 : 230 - 170 * Math.exp(-(t - 285) / 8)),
        },
        { seconds: 400 },
      ),
    );
    expect(states.some((s) => s.channel === 'stackTemperature' && s.reason === 'probe-out')).toBe(true);
  });

  it('never offers a reading of room air', () => {
    expect(tell(lines({ o2: () => 20.9, co: () => 0, stack: () => 22 }, { seconds: 300 })).readings).toHaveLength(0);
  });

  it('takes nothing while the instrument says that it is zeroing', () => {
    const samples = lines({}, { seconds: 300 }).map((s): Sample => ({ ...s, state: 'zeroing' }));
    const { readings, settling } = tell(samples);
    expect(readings).toHaveLength(0);
    expect(settling.states().every((s) => s.channel === 'stackTemperature' || s.channel === 'airTemperature' || s.state === 'absent')).toBe(
      true,
    );
  });

  it('calls an impossible value suspect, once it stays', () => {
    const samples = lines({}, { seconds: 200 });
    samples.forEach((s, i) => i > 150 && (s.values.o2 = 35));
    const { states, settling } = tell(samples);
    expect(states.some((s) => s.channel === 'o2' && s.state === 'suspect' && s.reason === 'impossible')).toBe(true);
    expect(settling.openReading()).toBeUndefined();
  });

  it('notices a frozen channel', () => {
    const samples = lines({}, { seconds: 400 });
    samples.forEach((s, i) => i > 250 && (s.values.stackTemperature = 230.1));
    expect(tell(samples).states.some((s) => s.channel === 'stackTemperature' && s.reason === 'stuck')).toBe(true);
  });

  it('does not call a coarse printout frozen', () => {
    const samples = lines(coldStart, { seconds: 900 }).map((s): Sample => ({
      ...s,
      values: { ...s.values, stackTemperature: Math.round(s.values.stackTemperature!), o2: Math.round(s.values.o2!) },
    }));
    expect(tell(samples).states.some((s) => s.reason === 'stuck')).toBe(false);
  });

  it('does not call a value frozen that has drifted off the edge between two steps of its printout', () => {
    // noise of 0.12 degC on whole degrees: flicker while the air stands at 20.5 degC, one value for minutes once it has gone up
    const r = createRandom(5);
    const air = (t: number): number => 20.5 + Math.max(0, Math.min(0.5, (t - 200) / 100));
    const samples = lines({}, { seconds: 600 }).map((s): Sample => ({
      ...s,
      values: { ...s.values, airTemperature: Math.round(air(s.timeMs / 1000) + 0.12 * r.normal()) },
    }));
    const printed = (fromS: number, toS: number) => new Set(samples.slice(fromS, toS).map((s) => s.values.airTemperature));
    expect(printed(0, 200)).toEqual(new Set([20, 21]));
    expect(printed(300, 400)).toEqual(new Set([21]));
    const { readings, states } = tell(samples);
    expect(states.some((s) => s.reason === 'stuck')).toBe(false);
    expect(offered(readings, 'full')).toHaveLength(1);
  });

  it('notices air let in before the probe: O2 up, air-free CO the same, stack unmoved', () => {
    // 15 % of air mixed into 5 % O2 and 80 ppm: O2 7.4 %, CO 68 ppm (balance by hand)
    const { states } = tell(lines({ o2: step(5, 7.385, 250, 8), co: step(80, 68, 250, 12) }, { seconds: 500 }));
    expect(states.some((s) => s.channel === 'o2' && s.reason === 'dilution')).toBe(true);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createBurner } from '../../../shared/burner/burner.ts';
import { scenarioList } from '../../../shared/burner/scenarios/catalogue.ts';
import { burnerOf, rowsOf, scenarioNamed, seeds } from './read-stream.ts';

describe('one run', () => {
  it.each(scenarioList.map(({ name }) => name))('%s is the same for the same seed, and another for another', (name) => {
    const text = (seed: number) => burnerOf(name, seed).advanceTo(120_000);
    expect(text(5)).toEqual(text(5));
    expect(text(5)).not.toEqual(text(6));
  });

  it('does not depend on how often or in which portions it is asked', () => {
    const pattern = fc.array(fc.integer({ min: 1, max: 40_000 }), { minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1000 }), pattern, fc.constantFrom(0.5, 1, 3, 10), (seed, pauses, ratePerSecond) => {
        const endMs = pauses.reduce((sum, pause) => sum + pause, 0);
        const changes = [
          { name: 'shutter', value: 3.2, atMs: Math.round(endMs * 0.3) },
          { name: 'shutter', value: 8, atMs: Math.round(endMs * 0.31) },
          { name: 'band', value: 2.6, atMs: Math.round(endMs * 0.7) },
        ];
        const scenario = scenarioNamed('tune-up');
        const whole = createBurner({ scenario, seed, ratePerSecond });
        for (const { name, value, atMs } of changes) whole.setAdjuster(name, value, atMs);
        const inPortions = createBurner({ scenario, seed, ratePerSecond });
        let nowMs = 0;
        const collected = [];
        for (const pause of pauses) {
          // a hand turns when its time has come, not before: told at the first call that reaches past it
          for (const { name, value, atMs } of changes) if (atMs >= nowMs && atMs < nowMs + pause) inPortions.setAdjuster(name, value, atMs);
          nowMs += pause;
          collected.push(...inPortions.advanceTo(nowMs));
          if (pause % 3 === 0) inPortions.truth(nowMs);
          if (pause % 3 === 1) inPortions.draft(nowMs);
        }
        expect(collected).toEqual(whole.advanceTo(endMs));
      }),
      { numRuns: 25 },
    );
  });

  it('tells the header first, then one line per period with its time', () => {
    const lines = createBurner({ scenario: scenarioNamed('tune-up'), seed: 1, ratePerSecond: 2 }).advanceTo(2000);
    expect(lines.map(({ timeMs }) => timeMs)).toEqual([0, 0, 500, 1000, 1500, 2000]);
    expect(lines[0]?.text).toBe('time s,O2 %,CO ppm,stack C,air C');
    expect(lines[2]?.text.startsWith('0.5,')).toBe(true);
  });

  it('looking ahead with the smoke pump loses no line', () => {
    const burner = burnerOf('tune-up', 1);
    burner.smokeSpot(10_000);
    burner.gauges(20_000);
    expect(burner.advanceTo(5000).length).toBe(7);
    expect(burner.advanceTo(20_000).length).toBe(15);
    expect(burner.advanceTo(3000)).toEqual([]);
  });
});

describe('rest', () => {
  const bands = { o2: 0.2, stackTemperature: 2, airTemperature: 1 } as const;
  it.each(seeds)('the normal tune-up settles within 600 s at one setting and stays (seed %d)', (seed) => {
    const burner = burnerOf('tune-up', seed);
    let lastOutsideS = 0;
    for (let s = 20; s <= 900; s++) {
      const { shown, headingFor } = burner.truth(s * 1000);
      if (!headingFor) throw new Error('the burner should fire');
      const coBand = Math.max(10, 0.1 * headingFor.co);
      const outside =
        Math.abs(shown.co - headingFor.co) > coBand ||
        (Object.keys(bands) as (keyof typeof bands)[]).some((channel) => Math.abs(shown[channel] - headingFor[channel]) > bands[channel]);
      if (outside) lastOutsideS = s;
    }
    expect(lastOutsideS).toBeGreaterThan(120);
    expect(lastOutsideS).toBeLessThan(500);
  });

  it.each(seeds)('more air: more O2, less CO on the rich arm and more on the lean one, a hotter stack (seed %d)', (seed) => {
    const ends = [3, 4, 6, 9].map((shutter) => {
      const burner = burnerOf('tune-up', seed);
      burner.setAdjuster('shutter', shutter, 0);
      const { headingFor, smokeAtRest } = burner.truth(30_000);
      if (!headingFor || smokeAtRest === undefined) throw new Error('the burner should fire');
      return { ...headingFor, smoke: smokeAtRest };
    });
    const [rich, onset, usual, lean] = ends;
    if (!rich || !onset || !usual || !lean) throw new Error('four settings');
    expect([rich.o2, onset.o2, usual.o2, lean.o2]).toEqual([rich.o2, onset.o2, usual.o2, lean.o2].toSorted((a, b) => a - b));
    expect(rich.co).toBeGreaterThan(usual.co);
    expect(lean.co).toBeGreaterThan(usual.co);
    expect(rich.smoke).toBeGreaterThanOrEqual(onset.smoke);
    expect(lean.smoke).toBeLessThan(0.05);
    expect(lean.stackTemperature).toBeGreaterThan(usual.stackTemperature + 2);
    expect(usual.stackTemperature).toBeGreaterThan(rich.stackTemperature + 5);
  });

  it.each(seeds)('what it says it is heading for is where it ends (seed %d)', (seed) => {
    const burner = burnerOf('tune-up', seed);
    burner.setAdjuster('shutter', 5, 0);
    const early = burner.truth(60_000).headingFor;
    const late = burner.truth(3_600_000).shown;
    if (!early) throw new Error('the burner should fire');
    expect(Math.abs(early.o2 - late.o2)).toBeLessThan(0.02);
    expect(Math.abs(early.stackTemperature - late.stackTemperature)).toBeLessThan(0.2);
    expect(Math.abs(early.co - late.co)).toBeLessThan(0.3);
  });

  it('closing the shutter below the true onset brings smoke to the pump, above it none', () => {
    let found = 0;
    for (const seed of [21, 22, 23, 24, 25, 26, 27, 28]) {
      const burner = burnerOf('tune-up', seed);
      const spotsAt = (aboveOnset: number, atMs: number) => {
        // find the shutter that gives that O2, as a patient hand would
        for (let shutter = 10; shutter >= 0; shutter -= 0.1) {
          burner.setAdjuster('shutter', shutter, atMs);
          const { headingFor, smokeOnsetO2 } = burner.truth(atMs + 100);
          atMs += 100;
          if (headingFor && headingFor.o2 <= smokeOnsetO2 + aboveOnset) break;
        }
        return [0, 1, 2].map((n) => burner.smokeSpot(atMs + 300_000 + n * 60_000)).filter(({ flaw }) => flaw === undefined);
      };
      const above = spotsAt(1.2, 400_000);
      const below = spotsAt(-0.8, 1_000_000);
      expect(above.every(({ number }) => number <= 0.5)).toBe(true);
      expect(below.every(({ number }) => number >= 1.5)).toBe(true);
      found += above.length + below.length;
    }
    expect(found).toBeGreaterThan(30);
  });
});

describe('what may be changed live', () => {
  it('keeps adjusters on their scale and in their steps, and refuses others', () => {
    const burner = burnerOf('tune-up', 1);
    expect(burner.setAdjuster('shutter', 12, 0)).toEqual({ ok: true, value: 10 });
    expect(burner.setAdjuster('band', 3.14159, 0)).toEqual({ ok: true, value: 3.1 });
    expect(burner.setAdjuster('damper', 1, 0).ok).toBe(false);
    expect(burner.setAdjuster('shutter', Number.NaN, 0).ok).toBe(false);
    burner.advanceTo(1000);
    expect(burner.adjusters().map(({ name, value }) => `${name} ${value}`)).toEqual(['shutter 10', 'band 3.1']);
  });

  it('refuses parts that do not exist and values of the wrong kind, and changes nothing', () => {
    const burner = burnerOf('tune-up', 1);
    expect(burner.setPart('warp', 1, 0).ok).toBe(false);
    expect(burner.setPart('firing', 1, 0).ok).toBe(false);
    expect(burner.setPart('leakFraction', true, 0).ok).toBe(false);
    expect(burner.setPart('inlet', 'xenon', 0).ok).toBe(false);
    expect(burner.setPart('inlet', { o2Percent: 200 }, 0).ok).toBe(false);
    expect(burner.setPart('__proto__', 1, 0).ok).toBe(false);
    expect(burner.advanceTo(60_000)).toEqual(burnerOf('tune-up', 1).advanceTo(60_000));
  });

  it('tells how its parts stand, amounts kept within what the model can bear', () => {
    const burner = burnerOf('tune-up', 1);
    burner.setPart('leakFraction', 7, 0);
    burner.setPart('purge', true, 0);
    burner.setPart('inlet', 'co-400', 0);
    burner.advanceTo(1000);
    const { amounts, switches, inlet } = burner.parts();
    expect(amounts.leakFraction).toBe(0.9);
    expect(switches).toEqual({ firing: false, secondStage: false, probeIn: true, purge: true, plugged: true });
    expect(inlet).toEqual({ o2Percent: 4, coPpm: 400, h2Ppm: 0 });
    burner.setPart('inlet', 'probe', 1000);
    burner.advanceTo(2000);
    expect(burner.parts().inlet).toBeUndefined();
  });

  it('answers a reference gas with dead time and first-order cells', () => {
    const scenario = scenarioNamed('bench-healthy');
    const burner = createBurner({
      scenario: {
        ...scenario,
        instrument: {
          ...scenario.instrument,
          deadTimeS: 4,
          o2Seconds: 8,
          coSeconds: 15,
          span: { ...scenario.instrument.span, co: 1 },
          zero: { ...scenario.instrument.zero, co: 0 },
        },
        events: [],
      },
      seed: 1,
    });
    burner.setPart('probeIn', false, 0);
    burner.setPart('inlet', 'air', 0);
    burner.truth(60_000);
    burner.setPart('inlet', 'co-400', 60_000);
    const firstAbove = (target: number) => {
      for (let ms = 60_000; ms < 200_000; ms += 100) if (burner.truth(ms).shown.co >= target) return ms - 60_000;
      return Infinity;
    };
    // closed form of a first-order lag behind a dead time: t = dead - tau ln(1 - share); the grid is 0.1 s
    expect(Math.abs(firstAbove(40) - (4000 - 15_000 * Math.log(0.9)))).toBeLessThanOrEqual(200);
    expect(Math.abs(firstAbove(360) - (4000 - 15_000 * Math.log(0.1)))).toBeLessThanOrEqual(200);
  });

  it('a pulled probe shows room air in every figure, and nothing is being headed for', () => {
    const burner = burnerOf('purge', 1);
    burner.setPart('probeIn', false, 10_000);
    const last = rowsOf(burner, 200).at(-1);
    expect(last?.o2).toBeGreaterThan(20.7);
    expect(last?.stack).toBeLessThan(40);
    expect(burner.truth(200_000).headingFor).toBeUndefined();
  });
});

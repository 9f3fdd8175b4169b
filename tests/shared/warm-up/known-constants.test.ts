import { describe, expect, it } from 'vitest';
import { captureCurve } from '../../../shared/warm-up/capture.ts';
import type { WarmUpFit } from '../../../shared/warm-up/curve.ts';
import { createRandom } from '../../score/stream-random.ts';

/** The issue's own figure: a 95 % interval that holds is met by 930 to 985 of 1000 seeded curves. */
const AT_LEAST = 930;
const AT_MOST = 985;

const LIGHT_OFF_S = 45;
type Made = { heading: number; taus: readonly number[]; amplitudes: readonly number[]; sd: number; lengthS: number; everyS: number };

/** T = heading - sum of A_k exp(-t/tau_k) from light-off, cold before; through the same path as a run that is kept. */
function fitOfRun({ heading, taus, amplitudes, sd, lengthS, everyS }: Made, seed: number): WarmUpFit | undefined {
  const r = createRandom(seed);
  const timeMs: number[] = [];
  const values: number[] = [];
  const cold = heading - amplitudes.reduce((sum, amplitude) => sum + amplitude, 0);
  for (let t = 0; t < LIGHT_OFF_S + lengthS; t += everyS) {
    timeMs.push(t * 1000);
    const since = t - LIGHT_OFF_S;
    const clean = since < 0 ? cold : taus.reduce((y, tau, k) => y - (amplitudes[k] ?? 0) * Math.exp(-since / tau), heading);
    values.push(clean + sd * r.normal());
  }
  const about = { name: 'made', runId: 'made', capturedWallMs: 0, source: 'port' as const, startState: 'cold' as const, tags: [] };
  return captureCurve({ about, columns: { stackTemperature: { timeMs, values } }, readings: [], lightOffMs: LIGHT_OFF_S * 1000 }).fits
    ?.stackTemperature;
}

describe('constants that are known, in curves that were captured', () => {
  it('lie inside the stated 95 % intervals of 930 to 985 of 1000 seeded curves', () => {
    let end = 0;
    let tau = 0;
    for (let seed = 0; seed < 1000; seed++) {
      const r = createRandom(131_000 + seed);
      const made = {
        heading: r.between(160, 320),
        taus: [r.between(60, 240)],
        amplitudes: [r.between(60, 220)],
        sd: r.between(0.2, 0.8),
        everyS: 3,
        lengthS: 0,
      };
      made.lengthS = (made.taus[0] ?? 0) * r.between(1, 4);
      const fit = fitOfRun(made, 171_000 + seed);
      if (fit !== undefined && fit.endLow <= made.heading && made.heading <= fit.endHigh) end++;
      const found = fit?.constants.at(-1);
      const known = made.taus[0] ?? 0;
      if (found?.low !== undefined && found.high !== undefined && found.low <= known && known <= found.high) tau++;
    }
    for (const count of [end, tau]) {
      expect(count).toBeGreaterThanOrEqual(AT_LEAST);
      expect(count).toBeLessThanOrEqual(AT_MOST);
    }
  }, 240_000);

  it('of two are never fitted with one', () => {
    let two = 0;
    for (let seed = 0; seed < 100; seed++) {
      const r = createRandom(151_000 + seed);
      const share = r.between(0.2, 0.5);
      const rise = r.between(100, 200);
      const fit = fitOfRun(
        {
          heading: r.between(180, 300),
          taus: [r.between(40, 90), r.between(400, 900)],
          amplitudes: [rise * (1 - share), rise * share],
          sd: r.between(0.2, 0.6),
          lengthS: r.between(900, 2400),
          everyS: 6,
        },
        161_000 + seed,
      );
      if (fit?.constants.length === 2) two++;
    }
    expect(two).toBe(100);
  });
});

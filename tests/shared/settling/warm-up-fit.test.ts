import { describe, expect, it } from 'vitest';
import { fitWarmUp, type WarmUpPoint } from '../../../shared/settling/fits/warm-up-fit.ts';
import { createRandom } from '../../score/stream-random.ts';

type Made = { heading: number; taus: number[]; amplitudes: number[]; sd: number; lengthS: number; everyS?: number; deadS?: number };
function curve({ heading, taus, amplitudes, sd, lengthS, everyS = 3, deadS = 0 }: Made, seed: number): WarmUpPoint[] {
  const r = createRandom(seed);
  const points: WarmUpPoint[] = [];
  for (let t = 0; t < lengthS; t += everyS) {
    const since = Math.max(0, t - deadS);
    points.push({ timeS: t, value: taus.reduce((y, tau, k) => y - amplitudes[k]! * Math.exp(-since / tau), heading) + sd * r.normal() });
  }
  return points;
}

describe('warm-up fit', () => {
  it('finds a curve without noise again', () => {
    const fit = fitWarmUp(curve({ heading: 220, taus: [150], amplitudes: [180], sd: 1e-4, lengthS: 300 }, 1))!;
    expect(fit.constants).toBe(1);
    expect(fit.heading.value).toBeCloseTo(220, 1);
    expect(fit.timeConstantsS[0]!.value).toBeCloseTo(150, 0);
  });

  it('agrees with the three-reading formula T = (T1 T3 - T2^2) / (T1 + T3 - 2 T2) on an exact curve', () => {
    const exact = (t: number): number => 220 - 200 * Math.exp(-t / 180);
    const [a, b, c] = [exact(60), exact(180), exact(300)];
    const formula = (a * c - b * b) / (a + c - 2 * b);
    const fit = fitWarmUp(Array.from({ length: 80 }, (_, i) => ({ timeS: 60 + 3 * i, value: exact(60 + 3 * i) })))!;
    expect(fit.heading.value).toBeCloseTo(formula, 2);
  });

  it('states intervals that hold: 930 to 985 of 1000 seeded curves inside their 95 %', () => {
    let heading = 0;
    let tau = 0;
    for (let seed = 0; seed < 1000; seed++) {
      const r = createRandom(31_000 + seed);
      const made = {
        heading: r.between(160, 320),
        taus: [r.between(60, 240)],
        amplitudes: [r.between(60, 220)],
        sd: r.between(0.2, 0.8),
        lengthS: 0,
      };
      made.lengthS = made.taus[0]! * r.between(1, 4);
      const fit = fitWarmUp(curve(made, 71_000 + seed))!;
      if (fit.heading.low <= made.heading && made.heading <= fit.heading.high) heading++;
      const found = fit.timeConstantsS.at(-1)!;
      if (found.low <= made.taus[0]! && made.taus[0]! <= found.high) tau++;
    }
    expect(heading).toBeGreaterThanOrEqual(930);
    expect(heading).toBeLessThanOrEqual(985);
    expect(tau).toBeGreaterThanOrEqual(930);
    expect(tau).toBeLessThanOrEqual(985);
    // a thousand fits: some seconds, more on a busy machine
  });

  it('does not fit two constants with one', () => {
    let two = 0;
    let heading = 0;
    for (let seed = 0; seed < 100; seed++) {
      const r = createRandom(51_000 + seed);
      const share = r.between(0.2, 0.5);
      const rise = r.between(100, 200);
      const made = {
        heading: r.between(180, 300),
        taus: [r.between(40, 90), r.between(400, 900)],
        amplitudes: [rise * (1 - share), rise * share],
        sd: r.between(0.2, 0.6),
        lengthS: r.between(900, 2400),
        everyS: 6,
      };
      const fit = fitWarmUp(curve(made, 61_000 + seed))!;
      if (fit.constants === 2) two++;
      if (fit.heading.low <= made.heading && made.heading <= fit.heading.high) heading++;
    }
    expect(two).toBe(100);
    expect(heading).toBeGreaterThanOrEqual(86);
  });

  it('finds one constant and no second one in a one-constant curve', () => {
    let one = 0;
    for (let seed = 0; seed < 100; seed++)
      if (fitWarmUp(curve({ heading: 230, taus: [120], amplitudes: [150], sd: 0.4, lengthS: 480 }, seed))!.constants === 1) one++;
    expect(one).toBeGreaterThanOrEqual(97);
  });

  it('calls a forecast usable only when the first two thirds predict the last third', () => {
    const good = fitWarmUp(curve({ heading: 230, taus: [120], amplitudes: [150], sd: 0.4, lengthS: 480 }, 5))!;
    expect(good.usable).toBe(true);
    const disturbed = curve({ heading: 230, taus: [120], amplitudes: [150], sd: 0.4, lengthS: 480 }, 6).map((p) => ({
      ...p,
      value: p.value + (p.timeS > 360 ? 8 : 0),
    }));
    const bad = fitWarmUp(disturbed)!;
    expect(bad.honestyMiss).toBeGreaterThan(2);
    expect(bad.usable).toBe(false);
  });

  it('finds the dead time before the rise', () => {
    const fit = fitWarmUp(curve({ heading: 230, taus: [100], amplitudes: [200], sd: 0.2, lengthS: 500, everyS: 1, deadS: 12 }, 9))!;
    expect(Math.abs(fit.deadTimeS - 12)).toBeLessThan(2);
  });

  describe.each([
    ['rising', 1],
    ['falling', -1],
  ])('of a curve without noise, %s', (_, sign) => {
    // 20 degC until 12 s after the first line, which comes 100 s into the run; then 200 K to go with 100 s
    const at = (since: number): number => 20 + sign * 200 * (1 - Math.exp(-Math.max(0, since) / 100));
    const points = Array.from({ length: 400 }, (_, second) => ({ timeS: 100 + second, value: at(second - 12) }));
    const fit = fitWarmUp(points)!;
    it('counts the dead time from the first line', () => expect(fit.deadTimeS).toBeCloseTo(12, 1));
    it('leaves out what the sensor itself lags, 20 s from the rise or as it is told', () => {
      // the rise is seen at 3 % of its 195.8 K, which are 2.98 s: with the next line, at 115 s
      expect(fit.fromS).toBe(135);
      expect(fitWarmUp(points, { sensorSeconds: 50 })!.fromS).toBe(165);
    });
    it('foretells every value, and when so much is still to come, on the clock of the lines', () => {
      for (const timeS of [150, 300, 900]) expect(fit.at(timeS)).toBeCloseTo(at(timeS - 112), 1);
      // 200 exp(-t/100) = 2 at 100 ln 100
      expect(fit.steadyAtS(2)).toBeCloseTo(112 + 100 * Math.log(100), 0);
      expect(fit.steadyAtS(20)).toBeCloseTo(112 + 100 * Math.log(10), 0);
    });
    it('says what was still to come at the first line that it took', () => {
      expect(fit.amplitudes).toHaveLength(1);
      expect(fit.amplitudes[0]! / (-sign * 200 * Math.exp(-23 / 100))).toBeCloseTo(1, 2);
      expect(fit.heading.value).toBeCloseTo(20 + sign * 200, 1);
      expect([fit.heading.low <= fit.heading.value, fit.heading.value <= fit.heading.high]).toEqual([true, true]);
    });
    it('has no dead time where the rise was under way at the first line, and leaves nothing out there', () => {
      const under = fitWarmUp(points.filter(({ timeS }) => timeS >= 140 && timeS % 10 === 0))!;
      expect([under.deadTimeS, under.fromS]).toEqual([0, 140]);
    });
  });

  it('says nothing from fewer than twelve points, before or after the rise', () => {
    const made = curve({ heading: 220, taus: [150], amplitudes: [180], sd: 0.1, lengthS: 300 }, 1);
    expect([11, 12].map((count) => fitWarmUp(made.slice(0, count)) !== undefined)).toEqual([false, true]);
    const waits = curve({ heading: 220, taus: [150], amplitudes: [180], sd: 0.01, lengthS: 80, deadS: 30 }, 1);
    expect(fitWarmUp(waits)).toBeUndefined();
    expect(fitWarmUp(waits, { sensorSeconds: 5 })).toBeDefined();
  });
  it('foretells nothing from fewer than eighteen points', () => {
    const made = curve({ heading: 220, taus: [30], amplitudes: [180], sd: 0.01, lengthS: 300 }, 1);
    expect([17, 18].map((count) => fitWarmUp(made.slice(0, count))!.usable)).toEqual([false, true]);
  });

  it('says nothing from too little', () =>
    expect(
      fitWarmUp([
        { timeS: 0, value: 20 },
        { timeS: 1, value: 21 },
      ]),
    ).toBeUndefined());
});

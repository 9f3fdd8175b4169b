import { figureOf } from '../../../../shared/tuning/trial/trial-figures.ts';
import { describe, expect, it } from 'vitest';
import { findFuel } from '../../../../shared/combustion/fuel.ts';
import { beforeAfter } from '../../../../shared/tuning/visit/before-after.ts';
import { cardFigures } from '../../../../shared/tuning/card/card-figures.ts';
import { flueCoLevel, roomCoLevel, setFlueCoLimits, unacknowledged } from '../../../../shared/tuning/advice/cautions.ts';
import { lockEcho } from '../../../../shared/tuning/trial/lock-echo.ts';
import { makeTrial } from '../make-trial.ts';

const conditions = { fuel: findFuel('no2')! };

describe('lock echo', () => {
  it('allows 2 sqrt(2) s: with s = 0.1 % a shift of 0.28 holds and 0.29 does not', () => {
    const before = makeTrial({ id: 'a', o2: 5 });
    expect(lockEcho(before, makeTrial({ id: 'b', o2: 5.28 }))).toMatchObject({ held: true });
    const shifted = lockEcho(before, makeTrial({ id: 'b', o2: 5.29 }))!;
    expect(shifted).toMatchObject({ held: false, worst: { channel: 'o2', before: 5, after: 5.29 } });
    expect(shifted.channels[0]!.allowed).toBeCloseTo(0.2828, 4);
  });
  it('grows with the spread of the readings and ignores the sensor error that both share', () => {
    const noisy = (id: string, o2: number) => makeTrial({ id, o2, sd: 1.1, sensorU: 5 });
    // s = 1.1/sqrt(30) = 0.2008, allowed 0.568
    expect(lockEcho(noisy('a', 5), noisy('b', 5.56))!.held).toBe(true);
    expect(lockEcho(noisy('a', 5), noisy('b', 5.58))!.held).toBe(false);
  });
  it('looks at CO and stack too, and has nothing to say without O2', () => {
    expect(lockEcho(makeTrial({ id: 'a', o2: 5, co: 10 }), makeTrial({ id: 'b', o2: 5, co: 60 }))).toMatchObject({
      held: false,
      worst: { channel: 'co' },
    });
    expect(lockEcho(makeTrial({ id: 'a', co: 10 }), makeTrial({ id: 'b', o2: 5 }))).toBeUndefined();
  });
});

describe('before and after', () => {
  const before = makeTrial({ id: 'a', o2: 8, co: 20, stackC: 280, airC: 20 });
  const after = makeTrial({ id: 'b', o2: 4.5, co: 15, stackC: 240, airC: 20 });
  it('saves 1 - before/after of the fuel (definition), and what both share cancels', () => {
    const result = beforeAfter(before, after, conditions, 900);
    if (typeof result === 'string') throw new Error(result);
    expect(result.fuelSavedPercent).toBeCloseTo(100 * (1 - result.beforePercent / result.afterPercent), 9);
    expect(result.gainPoints).toBeCloseTo(result.afterPercent - result.beforePercent, 9);
    expect(result.clear).toBe(true);
    // each efficiency alone is known to a few tenths of a point; their difference must be known better than two of them apart
    expect(result.gainExpanded).toBeLessThan(0.5);
    expect(result.gainExpanded).toBeGreaterThan(0);
    expect(result.yearly!.gallons).toBeCloseTo(9 * result.fuelSavedPercent, 9);
    // 10.21 kg CO2 per gallon of No. 2 oil: 40 CFR 98 Table C-1
    expect(result.yearly!.co2Kg! / result.yearly!.gallons).toBeCloseTo(10.21, 2);
  });
  it('claims nothing when nothing changed', () => {
    const same = beforeAfter(before, { ...before, id: 'c' }, conditions);
    expect(same).toMatchObject({ clear: false, gainPoints: 0 });
  });
  it('says which reading is not full, and takes a typed air temperature', () => {
    const gas = makeTrial({ id: 'g', o2: 5 });
    const noAir = makeTrial({ id: 'n', o2: 5, stackC: 220 });
    expect(beforeAfter(gas, after, conditions)).toBe('before-not-full');
    expect(beforeAfter(before, noAir, conditions)).toBe('after-not-full');
    expect(typeof beforeAfter(before, noAir, { ...conditions, airTypedC: 20 })).toBe('object');
    expect(beforeAfter(before, makeTrial({ id: 'x', o2: 19, stackC: 200, airC: 20 }), conditions)).toBe('after-not-computable');
  });
});

describe('figures for the card', () => {
  it('leaves out what was not measured, and keeps the gas figures without any temperature', () => {
    const figures = cardFigures(makeTrial({ id: 'a', o2: 5, co: 20 }), { conditions, smokeRule: 'single-spot' });
    expect(Object.keys(figures).sort()).toEqual([
      'co2Percent',
      'coAirFreePpm',
      'coAt3PercentO2Ppm',
      'coMgPerKwh',
      'coPpm',
      'excessAirPercent',
      'o2Percent',
    ]);
    // CO2 = CO2max (1 - O2/20.946) with CO2max 15.494 for No. 2 oil
    expect(figures.co2Percent!.value).toBeCloseTo(15.494 * (1 - 5 / 20.946), 2);
  });
  it('carry the tolerances that the visit holds, and the usual ones without', () => {
    const trial = makeTrial({ id: 'a', o2: 5, co: 20, stackC: 220, airC: 20 });
    const tolerances = { o2Percent: 1.2, coPpm: 60, coShare: 0.05, stackK: 12, airK: 4, fuelPoints: 0.25 };
    const figures = (given?: typeof tolerances) =>
      cardFigures(trial, { conditions: { ...conditions, ...(given && { tolerances: given }) }, smokeRule: 'single-spot' });
    const [usual, wide] = [figures(), figures(tolerances)];
    // U = 2 a / sqrt 3 of a rectangular half-width a (JCGM 100:2008, 4.3.7 and 6.2), the reading's own spread added in squares
    const spread = figureOf(trial, 'stackTemperature')!.random;
    expect(wide.stackC!.expanded).toBeCloseTo(2 * Math.hypot(12 / Math.sqrt(3), spread), 9);
    for (const quantity of ['o2Percent', 'coPpm', 'stackC', 'efficiencyHhvPercent', 'coAirFreePpm'] as const) {
      expect(wide[quantity]!.value).toBe(usual[quantity]!.value);
      expect(wide[quantity]!.expanded).toBeGreaterThan(usual[quantity]!.expanded! * 1.5);
    }
    const gain = (given?: typeof tolerances) => {
      const [found, left] = [makeTrial({ id: 'f', o2: 8, stackC: 260, airC: 20 }), trial];
      const result = beforeAfter(found, left, { ...conditions, ...(given && { tolerances: given }) });
      if (typeof result === 'string') throw new Error(result);
      return result;
    };
    expect(gain(tolerances).gainPoints).toBe(gain().gainPoints);
    expect(gain(tolerances).gainExpanded).toBeGreaterThan(gain().gainExpanded);
  });
  it('has a smoke number only when the rule has its spots', () => {
    const of = (smoke: number[]) => cardFigures(makeTrial({ id: 'a', o2: 5, smoke }), { conditions, smokeRule: 'mean-of-three-whole' });
    expect(of([1, 1]).smokeNumber).toBeUndefined();
    expect(of([1, 1, 2]).smokeNumber!.value).toBe(1);
    expect(of([1, 1]).oilTrace).toEqual({ value: 0, expanded: 0 });
  });
});

describe('CO', () => {
  it('in the room: notice above 9, stop at 35, out at 100 (US outdoor air 8 h and 1 h figures; NORA p 134-135)', () => {
    expect([0, 8.9, 9, 34, 35, 99, 100, 400].map(roomCoLevel)).toEqual([
      'clear',
      'clear',
      'notice',
      'notice',
      'stop',
      'stop',
      'out',
      'out',
    ]);
  });
  it('in the flue: notice at 100, alarm at 400 air-free; over range is an alarm; no value is none', () => {
    const level = (airFreePpm: number | undefined, overRange = false, measuredPpm?: number) =>
      flueCoLevel({ airFreePpm, measuredPpm, overRange });
    expect([level(99), level(100), level(399), level(400), level(undefined, true), level(undefined), level(undefined, false, 500)]).toEqual(
      ['clear', 'notice', 'notice', 'alarm', 'alarm', 'clear', 'alarm'],
    );
  });
  it('limits are raised only with a reason', () => {
    expect(setFlueCoLimits({ noticePpm: 100, alarmPpm: 800 })).toMatchObject({ ok: false, error: { key: 'limit-needs-reason' } });
    expect(setFlueCoLimits({ noticePpm: 100, alarmPpm: 800, reason: '  ' }).ok).toBe(false);
    expect(setFlueCoLimits({ noticePpm: 100, alarmPpm: 800, reason: 'maker states 600' }).ok).toBe(true);
    expect(setFlueCoLimits({ noticePpm: 50, alarmPpm: 200 }).ok).toBe(true);
    expect(setFlueCoLimits({ noticePpm: 500, alarmPpm: 400, reason: 'because' })).toMatchObject({ error: { key: 'limit-order' } });
    expect(setFlueCoLimits({ noticePpm: 0, alarmPpm: NaN })).toMatchObject({ error: { key: 'limit-not-positive' } });
  });
  it('cautions are asked for once', () => {
    expect(unacknowledged('as-left', [])).toEqual(['hot-surfaces', 'ports-closed']);
    expect(unacknowledged('as-left', [{ key: 'hot-surfaces' }])).toEqual(['ports-closed']);
  });
});

/** What is not there, or cannot be, is blank with a reason: never NaN, never a silent zero. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import { explain } from '../../../shared/combustion/figures/explain.ts';
import { fuelIds, fuels } from '../../../shared/combustion/fuel.ts';
import { lossKeys } from '../../../shared/combustion/figures/loss-figures.ts';
import { savingWithUncertainty } from '../../../shared/combustion/saving.ts';
import { Derived, derivedKeys } from '../../../shared/measurement/derived.ts';
import type { DeriveInput } from '../../../shared/combustion/figures/figures.ts';
import { blankSentences } from '../../../shared/words/core/blank-sentences.ts';

const whole: DeriveInput = { timeMs: 5, fuel: fuels['no2-2000s'], o2PercentDry: 5, coPpmDry: 20, stackC: 200, airC: 20 };

it('gives every figure when everything is there', () => {
  const { values, expanded, blank, timeMs } = derive(whole);
  expect(timeMs).toBe(5);
  expect(blank).toEqual({});
  expect(Object.keys(values).sort()).toEqual([...derivedKeys].sort());
  expect(Object.keys(expanded).sort()).toEqual([...derivedKeys].sort());
});

it('is a value or a blank, never both, never NaN, whatever comes in', () => {
  const odd = fc.oneof(
    fc.double(),
    fc.double({ min: -50, max: 1200, noNaN: true }),
    fc.constantFrom(0, -0, NaN, Infinity, -Infinity, 18, 15, 20.9, 20.946, 21, undefined),
  );
  const input = fc.record({
    timeMs: fc.constant(0),
    fuel: fc.constantFrom(...fuelIds.map((id) => fuels[id])),
    o2PercentDry: odd,
    co2PercentDry: odd,
    coPpmDry: odd,
    stackC: odd,
    airC: odd,
    humidityKgPerKg: fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(NaN, undefined, -1)),
    pressurePa: fc.oneof(fc.double({ min: 1, max: 1e6, noNaN: true }), fc.constantFrom(0, NaN, undefined)),
    sulfurPpm: fc.oneof(fc.double({ min: 0, max: 50_000, noNaN: true }), fc.constant(undefined)),
  });
  fc.assert(
    fc.property(input, (any) => {
      const derived = derive(any);
      for (const key of derivedKeys) {
        const { [key]: value } = derived.values;
        expect((value === undefined) !== (derived.blank[key] === undefined), key).toBe(true);
        if (value !== undefined) expect(Number.isFinite(value) && Number.isFinite(derived.expanded[key]), `${key} ${value}`).toBe(true);
      }
      expect(Derived.safeParse(derived).success).toBe(true);
      expect(explain(any).length).toBe(derivedKeys.length);
    }),
    { numRuns: 400 },
  );
});

describe('reasons', () => {
  it('no O2 and no CO2', () => {
    const { blank, values } = derive({ ...whole, o2PercentDry: undefined });
    expect(blank.excessAirPercent).toBe('no-o2');
    expect(blank.efficiencyHhvPercent).toBe('no-o2');
    expect(values.netStackC).toBe(180);
    expect(derive({ ...whole, o2PercentDry: undefined, missing: { o2: 'silent' } }).blank.lambda).toBe('silent');
  });

  it('no CO: CO figures blank, efficiency stays', () => {
    const { blank, values } = derive({ ...whole, coPpmDry: undefined });
    expect(blank.lossCoPercent).toBe('no-co');
    expect(blank.coAirFreePpm).toBe('no-co');
    expect(values.efficiencyHhvPercent).toBeDefined();
  });

  it('CO over range: no efficiency, because the loss is unknown', () => {
    const { blank, values } = derive({ ...whole, coPpmDry: undefined, missing: { co: 'co-over-range' } });
    expect(blank.efficiencyHhvPercent).toBe('co-over-range');
    expect(blank.lossCoPercent).toBe('co-over-range');
    expect(values.lossDryGasPercent).toBeDefined();
  });

  it('no temperatures', () => {
    expect(derive({ ...whole, stackC: undefined }).blank.efficiencyHhvPercent).toBe('no-stack-temperature');
    expect(derive({ ...whole, airC: undefined }).blank.efficiencyHhvPercent).toBe('no-air-temperature');
    expect(derive({ ...whole, airC: undefined }).blank.netStackC).toBe('no-air-temperature');
    expect(derive({ ...whole, airC: undefined }).values.waterDewPointMarginK).toBeDefined();
    expect(derive({ ...whole, airC: undefined, missing: { air: 'suspect' } }).blank.siegertLossPercent).toBe('suspect');
  });

  it.each([
    [18, undefined],
    [18.01, 'o2-above-18'],
    [20.9, 'o2-above-18'],
    [21.6, 'o2-not-possible'],
    [-0.1, 'o2-not-possible'],
  ])('O2 %s %% -> %s', (o2PercentDry, reason) => {
    const { blank } = derive({ ...whole, o2PercentDry });
    for (const key of ['excessAirPercent', 'efficiencyHhvPercent', 'siegertLossPercent', 'lossLatentPercent'] as const)
      expect(blank[key], key).toBe(reason);
  });

  it.each([
    [15, undefined],
    [15.01, 'o2-above-15'],
  ])('air-free CO at O2 %s %% -> %s', (o2PercentDry, reason) => {
    expect(derive({ ...whole, o2PercentDry }).blank.coAirFreePpm).toBe(reason);
    expect(derive({ ...whole, o2PercentDry }).values.excessAirPercent).toBeDefined();
  });

  it('a stack at or below the air or the dew point: no losses, dew point still there', () => {
    for (const key of lossKeys) {
      expect(derive({ ...whole, stackC: 20 }).blank[key], key).toBe('stack-not-above-air');
      expect(derive({ ...whole, stackC: 45 }).blank[key], key).toBe('condensing');
    }
    const { values } = derive({ ...whole, stackC: 45 });
    expect(values.waterDewPointMarginK).toBeLessThan(0);
    // the margin closes exactly at the dew point
    const dew = values.waterDewPointC ?? NaN;
    expect(derive({ ...whole, stackC: dew }).blank.efficiencyHhvPercent).toBe('condensing');
    expect(derive({ ...whole, stackC: dew + 1e-6 }).values.efficiencyHhvPercent).toBeDefined();
  });

  it('no constants: kerosene and methane have no Siegert loss', () => {
    expect(derive({ ...whole, fuel: fuels.no1 }).blank.siegertLossPercent).toBe('no-constants-for-fuel');
    expect(derive({ ...whole, fuel: fuels.methane }).blank.siegertLossPercent).toBe('no-constants-for-fuel');
  });

  it('impossible CO', () => {
    expect(derive({ ...whole, coPpmDry: -21 }).blank.excessAirPercent).toBe('out-of-range');
    expect(derive({ ...whole, coPpmDry: 100_001 }).blank.lossCoPercent).toBe('out-of-range');
  });

  it('a CO cell that reads a little below zero blanks nothing and is not cut off', () => {
    const { blank, values } = derive({ ...whole, coPpmDry: -3 });
    expect(blank).toEqual({});
    expect(values.coAirFreePpm).toBeCloseTo((-3 * 20.9) / 15.9, 9);
    expect(
      Math.abs((values.efficiencyHhvPercent ?? NaN) - (derive({ ...whole, coPpmDry: 0 }).values.efficiencyHhvPercent ?? NaN)),
    ).toBeLessThan(0.01);
  });

  it('all have a sentence', () => {
    for (const sentence of Object.values(blankSentences)) expect(sentence).toMatch(/^[A-Z].*\.$/);
  });

  it('make a saving undefined, not zero', () => {
    expect(savingWithUncertainty({ ...whole, o2PercentDry: 19 }, whole)).toBeUndefined();
  });
});

import { expect, it } from 'vitest';
import { findFuel } from '../../../shared/combustion/fuel.ts';
import type { ChannelStatistics, Reading } from '../../../shared/measurement/state.ts';
import { deriveReading } from '../../../shared/pipeline/derive-now.ts';

const of = (mean: number, sd: number, nEff: number): ChannelStatistics => ({ mean, sd, n: 60, nEff, u: 0 });
const excessAir = (o2: ChannelStatistics) => {
  const reading: Reading = {
    id: 'r',
    scope: 'gas',
    settled: true,
    fromMs: 0,
    toMs: 60_000,
    takenMs: 50_000,
    final: true,
    channels: { o2, co: of(20, 0, 30) },
  };
  const { values, expanded } = deriveReading({ reading, fuel: findFuel('no2')! });
  return { value: values.excessAirPercent ?? NaN, expanded: expanded.excessAirPercent ?? NaN };
};

it('the uncertainty of a reading holds the spread of its means: s / sqrt(n_eff) beside the tolerance, in quadrature (JCGM 100:2008, 4.2.3)', () => {
  const calm = excessAir(of(5, 0, 25));
  const restless = excessAir(of(5, 1, 25));
  const short = excessAir(of(5, 1, 1));
  expect([restless.value, short.value]).toEqual([calm.value, calm.value]);
  // what is added to the variance by a standard error of 1 is 25 times what 1 / sqrt(25) adds
  const added = (one: { expanded: number }): number => one.expanded ** 2 - calm.expanded ** 2;
  expect(added(restless)).toBeGreaterThan(0);
  expect(added(short) / added(restless)).toBeCloseTo(25, 6);
});

it('a spread of which nothing is known adds nothing', () => {
  expect(excessAir(of(5, 1, 0))).toEqual(excessAir(of(5, 0, 25)));
});

/** Units as instruments send them, against published factors. */
import { describe, expect, it } from 'vitest';
import { toInner } from '../../../shared/lines/to-inner.ts';
import { channelIds, type ChannelId } from '../../../shared/measurement/channel.ts';
import { sentUnits, unitsFor, type SentUnit } from '../../../shared/measurement/sent-unit.ts';

const inner = (channel: ChannelId, unit: SentUnit, value: number): number => {
  const conversion = toInner(channel, unit);
  return conversion === undefined ? NaN : value * conversion.factor + conversion.offset;
};

describe('a pressure in pascal', () => {
  // NIST SP 811 (2008), appendix B.8; inches and millimetres of water and of mercury: the conventional ones
  it.each([
    ['Pa', 1],
    ['hPa', 100],
    ['mbar', 100],
    ['kPa', 1000],
    ['bar', 100_000],
    ['inH2O', 249.0889],
    ['mmH2O', 9.80665],
    ['psi', 6894.757],
    ['inHg', 3386.389],
  ] as const)('one %s is %d', (unit, pascal) => {
    for (const channel of ['draft', 'pumpPressure'] as const) expect(Math.abs(inner(channel, unit, 1) / pascal - 1)).toBeLessThan(1e-6);
  });
});

describe('a temperature in degC', () => {
  // ITS-90: 0 degC = 273.15 K = 32 degF, 100 degC = 212 degF
  it.each([
    ['C', 210, 210],
    ['F', 32, 0],
    ['F', 212, 100],
    ['F', -40, -40],
    ['K', 273.15, 0],
    ['K', 373.15, 100],
  ] as const)('%s %d is %d', (unit, sent, celsius) => {
    for (const channel of ['stackTemperature', 'airTemperature'] as const) expect(inner(channel, unit, sent)).toBeCloseTo(celsius, 9);
  });
});

describe('a gas', () => {
  it.each([
    ['o2', '%', 4.1, 4.1],
    ['o2', 'fraction', 0.041, 4.1],
    ['o2', 'ppm', 41_000, 4.1],
    ['co2', 'ppb', 41_000_000, 4.1],
    ['co', 'ppm', 120, 120],
    ['co', 'ppb', 120_000, 120],
    ['co', '%', 0.012, 120],
    ['ambientCo', 'fraction', 0.00012, 120],
    ['no', '%', 0.012, 120],
  ] as const)('%s %s %d is %d in %%vol or ppm', (channel, unit, sent, expected) => {
    expect(inner(channel, unit, sent)).toBeCloseTo(expected, 9);
  });
  // molar volume at 0 degC and 101.325 kPa: 22.413 969 54 m3/kmol (CODATA 2018); molar masses: IUPAC abridged standard atomic weights
  it.each([
    ['co', 28.01],
    ['ambientCo', 28.01],
    ['no', 30.006],
    ['no2', 46.005],
    ['so2', 64.058],
  ] as const)('%s: one ppm is %d / 22.414 mg/m3', (channel, molarMass) => {
    expect(Math.abs(inner(channel, 'mg/m3', molarMass / 22.41396954) - 1)).toBeLessThan(1e-4);
  });
});

it('a unit that the channel is never sent in gives nothing', () => {
  expect(toInner('o2', 'mg/m3')).toBeUndefined();
  expect(toInner('co', 'C')).toBeUndefined();
  expect(toInner('draft', '%')).toBeUndefined();
  expect(toInner('stackTemperature', 'none')).toBeUndefined();
  for (const channel of channelIds)
    for (const unit of sentUnits) expect(toInner(channel, unit) !== undefined, `${channel} ${unit}`).toBe(unitsFor(channel).includes(unit));
});
it('a further channel stays as it was sent, whatever its unit', () => {
  for (const unit of sentUnits) expect(toInner('aux1', unit)).toEqual({ factor: 1, offset: 0 });
});

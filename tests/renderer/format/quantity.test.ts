import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  decimalsFor,
  formatDifference,
  formatInterval,
  formatNumber,
  formatPosition,
  formatSmoke,
  formatValue,
  formatWithHalf,
} from '../../../shared/format/quantity.ts';

const MINUS = '\u2212';
const THIN = '\u2009';

describe('formatNumber', () => {
  it.each([
    [5.06, 1, '5.1'],
    [-4, 0, `${MINUS}4`],
    [-0.04, 1, '0.0'],
    [1204, 0, `1${THIN}204`],
    [1234567.5, 1, `1${THIN}234${THIN}567.5`],
    [217, -1, '220'],
    [-217, -1, `${MINUS}220`],
    [999.96, 1, `1${THIN}000.0`],
  ])('%d with %d decimals is %s', (value, decimals, text) => {
    expect(formatNumber(value, decimals)).toBe(text);
  });

  it('never writes a hyphen and reads back to within half a step', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.integer({ min: 0, max: 3 }), (value, decimals) => {
        const text = formatNumber(value, decimals);
        expect(text).not.toContain('-');
        expect(Math.abs(Number(text.replaceAll(THIN, '').replace(MINUS, '-')) - value)).toBeLessThanOrEqual(0.5 * 10 ** -decimals + 1e-9);
      }),
    );
  });
});

describe('digits that the uncertainty carries', () => {
  // One significant digit, two if it begins with 1: the common reading of JCGM 100:2008, 7.2.6 ("at most two significant digits").
  it.each([
    [0.6, 1, 1],
    [0.12, 2, 2],
    [0.12, 1, 1],
    [0.096, 3, 2],
    [4, 0, 0],
    [12, 0, 0],
    [34, 0, -1],
    [96, 0, -1],
    [140, 0, -1],
    [340, 0, -2],
    [0, 1, 1],
  ])('half-width %d of a figure with %d decimals: %d decimals', (half, most, decimals) => {
    expect(decimalsFor(half, most)).toBe(decimals);
  });

  it('gives value and half-width the same decimals', () => {
    expect(formatWithHalf('efficiencyHhvPercent', { value: 84.63, half: 0.58 }, 'metric')).toEqual({
      value: '84.6',
      half: '±0.6',
      unit: '%',
    });
    expect(formatWithHalf('stackTemperature', { value: 217.2, half: 1.9 }, 'metric')).toEqual({ value: '217', half: '±2', unit: '°C' });
    expect(formatWithHalf('co', { value: 163, half: 60 }, 'metric')).toEqual({ value: '160', half: '±60', unit: 'ppm' });
  });
  it('never shows an uncertainty of zero', () => {
    expect(formatWithHalf('o2', { value: 5.1, half: 0.004 }, 'metric').half).toBe('±0.1');
    fc.assert(
      fc.property(fc.double({ min: 1e-9, max: 1e4, noNaN: true }), (half) => {
        expect(formatWithHalf('o2', { value: 5, half }, 'metric').half).toMatch(/[1-9]/);
      }),
    );
  });
});

describe('units', () => {
  // 211 degC = 211 * 1.8 + 32 = 411.8 degF (definition of the scale)
  it('shows temperatures in the chosen unit', () => {
    expect(formatValue('stackTemperature', 211, 'us')).toBe('412');
    expect(formatValue('stackTemperature', 211, 'metric')).toBe('211');
  });
  it('leaves the 32 out of differences', () => {
    // 6 K = 10.8 degF
    expect(formatDifference('stackTemperature', 6, 'us')).toBe(`11${THIN}°F`);
    expect(formatDifference('stackTemperature', -6, 'metric')).toBe(`6${THIN}K`);
    expect(formatValue('netStackC', 190, 'us')).toBe('342');
  });
  it('writes an interval as the larger half', () => {
    expect(formatInterval('o2', { value: 5.1, low: 5.05, high: 5.2 }, 'metric')).toBe(`5.1 ±0.1${THIN}%`);
  });
  it('shows draft in inches of water: -4 Pa / 249.089 = -0.016', () => {
    expect(formatValue('draft', -4, 'us')).toBe(`${MINUS}0.016`);
  });
});

describe('smoke and positions', () => {
  it.each([
    [0, '0'],
    [0.5, '½'],
    [1, '1'],
    [1.5, '1½'],
    [9, '9'],
  ])('%d is %s', (number, text) => expect(formatSmoke(number)).toBe(text));
  it.each([
    [4.75, '4.75'],
    [3, '3'],
    [-0.5, `${MINUS}0.5`],
    [0.1 + 0.2, '0.3'],
  ])('position %d is %s', (value, text) => expect(formatPosition(value)).toBe(text));
});

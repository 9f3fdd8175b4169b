/** Figures inside sentences, by the person's units: the same on screen and on paper. */
import { formatDuration } from '../format/duration.ts';
import {
  formatDifference,
  formatNumber,
  formatPosition,
  formatSmoke,
  formatWithUnit,
  withUnit,
  type UnitSystem,
} from '../format/quantity.ts';
import { formatLength, type LengthUnit } from '../units/length.ts';
import type { Formats } from './tune/tune-formats.ts';

export const formatsFor = (units: UnitSystem, lengthUnit: LengthUnit = units === 'us' ? 'inch' : 'mm'): Formats => ({
  o2: (percent) => formatWithUnit('o2', percent, units),
  ppm: (ppm) => withUnit(formatNumber(ppm, 0), 'ppm'),
  temperature: (celsius) => formatWithUnit('stackTemperature', celsius, units),
  difference: (kelvin) => formatDifference('stackTemperature', kelvin, units),
  draft: (pa) => formatWithUnit('draft', pa, units),
  pressure: (pa) => formatWithUnit('pumpPressure', pa, units),
  length: (mm) => formatLength(mm, lengthUnit),
  percent: (value) => withUnit(formatNumber(value, 0), '%'),
  points: (value) => formatNumber(value, 1),
  figure: (value) => formatPosition(Number(value.toFixed(2))),
  smoke: formatSmoke,
  duration: (seconds) => formatDuration(seconds * 1000),
});

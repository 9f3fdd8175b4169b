/** Figures of the bench as text. Units are those of the certificate: %vol and ppm, in both unit systems. */
import type { BenchChannel } from '../../bench/instrument.ts';
import { DASH, decimalsFor, formatNumber, withUnit } from '../../format/quantity.ts';

export const unitOf = (channel: BenchChannel): string => (channel === 'o2' || channel === 'co2' ? '%' : 'ppm');
const most = (channel: BenchChannel): number => (unitOf(channel) === '%' ? 2 : 1);
/** as many digits as the doubt carries */
const digitsOf = (channel: BenchChannel, expanded: number | undefined): number =>
  expanded === undefined || expanded <= 0 ? (unitOf(channel) === '%' ? 2 : 0) : Math.max(0, decimalsFor(expanded, most(channel)));

export const figure = (channel: BenchChannel, value: number | undefined, expanded?: number): string =>
  value === undefined ? DASH : formatNumber(value, digitsOf(channel, expanded));
export const signed = (channel: BenchChannel, value: number, expanded?: number): string => {
  const text = figure(channel, value, expanded);
  return value > 0 && /[1-9]/.test(text) ? `+${text}` : text;
};
export const withHalf = (channel: BenchChannel, expanded: number): string => {
  const digits = digitsOf(channel, expanded);
  return `±${formatNumber(Math.max(expanded, 10 ** -digits / 2), digits)}`;
};
const MOST_DIGITS = 4;
/** the limit as it is judged by: '±12.5', not '±13' */
export const limitText = (limit: number): string => `±${formatNumber(limit, fewestDigits(limit))}`;
const fewestDigits = (value: number): number => {
  let digits = 0;
  while (digits < MOST_DIGITS && Math.abs(Number(value.toFixed(digits)) - value) > 1e-9 * Math.max(1, value)) digits += 1;
  return digits;
};
/** An error with as many digits as its doubt carries, and more where it would stand on the wrong side of the limit beside it. */
export function errorBeside(channel: BenchChannel, error: number, limit: number | undefined, expanded: number): string {
  const least = digitsOf(channel, expanded);
  const size = Math.abs(error);
  const isOver = limit !== undefined && size > limit + 1e-9 * Math.max(1, limit);
  let digits = least;
  while (digits < MOST_DIGITS && limit !== undefined && Number(size.toFixed(digits)) > limit + 1e-9 !== isOver) digits += 1;
  const text = formatNumber(error, digits);
  return error > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}
export const unitText = (channel: BenchChannel, text: string): string => withUnit(text, unitOf(channel));
/** '402 ppm', '4.00 %' */
export const certified = (channel: BenchChannel, value: number): string =>
  unitText(channel, formatNumber(value, unitOf(channel) === '%' ? 2 : Number.isInteger(value) ? 0 : 1));

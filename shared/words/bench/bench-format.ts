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
export const unitText = (channel: BenchChannel, text: string): string => withUnit(text, unitOf(channel));
/** '402 ppm', '4.00 %' */
export const certified = (channel: BenchChannel, value: number): string =>
  unitText(channel, formatNumber(value, unitOf(channel) === '%' ? 2 : Number.isInteger(value) ? 0 : 1));

/** Number -> text, driven by the table of quantities. True minus, thin spaces, no more digits than the uncertainty carries. */
import { quantities, type Quantity, type QuantityId, type Shown } from '../units/quantities.ts';

export type UnitSystem = 'us' | 'metric';

const THIN_SPACE = '\u2009';
const TRUE_MINUS = '\u2212';
export const DASH = '–';

/** How a quantity is shown under a unit system: shown = inner * factor + offset. */
export function shownAs(id: QuantityId, units: UnitSystem): Required<Shown> {
  const quantity: Quantity = quantities[id];
  const shown = units === 'us' ? quantity.us : quantity.metric;
  if (shown === undefined) return { unit: quantity.unit, factor: 1, offset: 0, decimals: quantity.decimals };
  return { unit: shown.unit, factor: shown.factor, offset: shown.offset ?? 0, decimals: shown.decimals };
}

/** `decimals` may be negative: -1 rounds to tens. Thousands are parted by a thin space. */
export function formatNumber(value: number, decimals: number): string {
  const step = 10 ** -decimals;
  const rounded = decimals < 0 ? Math.round(value / step) * step : value;
  const [whole = '0', fraction] = Math.abs(rounded).toFixed(Math.max(0, decimals)).split('.');
  const grouped = whole.length > 3 ? whole.replace(/\B(?=(\d{3})+(?!\d))/g, THIN_SPACE) : whole;
  const text = fraction === undefined ? grouped : `${grouped}.${fraction}`;
  const isZero = !/[1-9]/.test(text);
  return rounded < 0 && !isZero ? `${TRUE_MINUS}${text}` : text;
}

export const formatValue = (id: QuantityId, inner: number, units: UnitSystem): string => {
  const shown = shownAs(id, units);
  return formatNumber(inner * shown.factor + shown.offset, shown.decimals);
};

export const withUnit = (text: string, unit: string): string => (unit === '' ? text : `${text}${THIN_SPACE}${unit}`);

export const formatWithUnit = (id: QuantityId, inner: number, units: UnitSystem): string =>
  withUnit(formatValue(id, inner, units), shownAs(id, units).unit);

/**
 * How many decimals a half-width carries: one significant digit, two if it begins with 1 and the value has the digits.
 * Never more than the quantity is shown with; negative for half-widths of ten and more.
 */
export function decimalsFor(half: number, most: number): number {
  if (!(half > 0)) return most;
  const exponent = Math.floor(Math.log10(half) + 1e-12);
  const first = Math.round(half / 10 ** exponent);
  // 0.96 rounds to 1.0: it begins with 1 then, one place further left
  const places = 0 - (first === 10 ? exponent + 1 : exponent);
  return Math.min(most, first === 1 || first === 10 ? places + 1 : places);
}

export type ValueWithHalf = { value: string; half: string; unit: string };

/** 84.6 and 0.6 -> { value: '84.6', half: '±0.6', unit: '%' }. A half-width under one step of the last digit shows as one step. */
export function formatWithHalf(id: QuantityId, inner: { value: number; half: number }, units: UnitSystem): ValueWithHalf {
  const shown = shownAs(id, units);
  const half = Math.abs(inner.half * shown.factor);
  const decimals = decimalsFor(half, shown.decimals);
  const shownHalf = Math.max(half, 10 ** -decimals);
  return {
    value: formatNumber(inner.value * shown.factor + shown.offset, decimals),
    half: `±${formatNumber(shownHalf, decimals)}`,
    unit: shown.unit,
  };
}

/** One string: '217 ±2 °C'. */
export function formatInterval(id: QuantityId, interval: { value: number; low: number; high: number }, units: UnitSystem): string {
  const half = Math.max(interval.high - interval.value, interval.value - interval.low, 0);
  const text = formatWithHalf(id, { value: interval.value, half }, units);
  return withUnit(`${text.value} ${text.half}`, text.unit);
}

/** Nozzle sizes are told apart in hundredths. @param inner L/h */
export function flowText(inner: number, units: UnitSystem): string {
  const { factor, decimals, unit } = shownAs('nozzleFlow', units);
  return withUnit(formatNumber(inner * factor, Math.max(2, decimals)), unit);
}

/** A change, not a level: the 32 of the Fahrenheit scale stays out of it. */
export function formatDifference(id: QuantityId, inner: number, units: UnitSystem): string {
  const shown = shownAs(id, units);
  const size = Math.abs(inner * shown.factor);
  const text = formatNumber(Math.max(size, 10 ** -shown.decimals), shown.decimals);
  const unit = shown.unit === '°C' ? 'K' : shown.unit;
  return withUnit(text, unit);
}

/** Smoke numbers are the only vulgar fractions on screen: 1.5 -> '1½', 0.5 -> '½'. */
export function formatSmoke(number: number): string {
  const whole = Math.floor(number);
  const rest = number - whole;
  if (Math.abs(rest - 0.5) < 1e-9) return whole === 0 ? '½' : `${whole}½`;
  return Number.isInteger(number) ? String(number) : formatNumber(number, 1);
}

/** A position on the user's own scale: no trailing zeros, true minus. */
export const formatPosition = (value: number): string => {
  const text = String(Number(Math.abs(value).toFixed(4)));
  return value < 0 ? `${TRUE_MINUS}${text}` : text;
};

/** Draft is spoken of in pascal and in millibar where units are metric: both stand there. */
export const draftBoth = (pa: number, units: UnitSystem): string =>
  units === 'us'
    ? formatWithUnit('draft', pa, units)
    : `${formatWithUnit('draft', pa, units)} (${withUnit(formatNumber(pa / 100, 3), 'mbar')})`;

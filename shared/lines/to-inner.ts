import type { ChannelId } from '../measurement/channel.ts';
import { unitsFor, type SentUnit } from '../measurement/sent-unit.ts';
import { KELVIN_OFFSET, PA_PER_BAR, PA_PER_IN_HG, PA_PER_IN_WC, PA_PER_MBAR, PA_PER_MM_WC, PA_PER_PSI } from '../units/convert.ts';

/** inner = sent * factor + offset */
export type Conversion = { readonly factor: number; readonly offset: number };

/**
 * Molar volume of an ideal gas at 0 degC and 101.325 kPa, m3/kmol.
 * @source R = 8.314 462 618 J/(mol K) (SI, exact) * 273.15 K / 101 325 Pa
 */
const MOLAR_VOLUME = (8.314462618 * 273.15 * 1000) / 101_325;
/** kg/kmol. @source IUPAC abridged standard atomic weights: C 12.011, O 15.999, N 14.007, S 32.06 */
const MOLAR_MASS: Partial<Record<ChannelId, number>> = {
  co: 12.011 + 15.999,
  ambientCo: 12.011 + 15.999,
  no: 14.007 + 15.999,
  no2: 14.007 + 2 * 15.999,
  so2: 32.06 + 2 * 15.999,
};

const scaled = (factor: number): Conversion => ({ factor, offset: 0 });
const pascalPer: Partial<Record<SentUnit, number>> = {
  Pa: 1,
  daPa: 10,
  hPa: PA_PER_MBAR,
  mbar: PA_PER_MBAR,
  kPa: 1000,
  bar: PA_PER_BAR,
  inH2O: PA_PER_IN_WC,
  mmH2O: PA_PER_MM_WC,
  psi: PA_PER_PSI,
  inHg: PA_PER_IN_HG,
};
const perMillionPer: Partial<Record<SentUnit, number>> = { ppm: 1, ppb: 1e-3, '%': 1e4, fraction: 1e6 };

/**
 * How a unit as sent becomes the channel's inner unit (%vol, ppm, degC, Pa).
 * `mg/m3` is taken at 0 degC and 101.325 kPa without an oxygen reference; the recipe's reader is told so when it is learned.
 * @returns undefined when the channel cannot be sent in this unit
 */
export function toInner(channel: ChannelId, unit: SentUnit): Conversion | undefined {
  if (!unitsFor(channel).includes(unit)) return undefined;
  if (channel.startsWith('aux')) return scaled(1);
  if (unit === 'C') return scaled(1);
  if (unit === 'F') return { factor: 1 / 1.8, offset: -32 / 1.8 };
  if (unit === 'K') return { factor: 1, offset: -KELVIN_OFFSET };
  const pascal = pascalPer[unit];
  if (pascal !== undefined) return scaled(pascal);
  if (unit === 'mg/m3') return scaled(MOLAR_VOLUME / (MOLAR_MASS[channel] ?? MOLAR_VOLUME));
  const perMillion = perMillionPer[unit] ?? 1;
  if (channel !== 'o2' && channel !== 'co2') return scaled(perMillion);
  return scaled(unit === '%' ? 1 : unit === 'fraction' ? 100 : unit === 'ppm' ? 1e-4 : 1e-7);
}

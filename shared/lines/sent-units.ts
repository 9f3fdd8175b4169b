import type { ChannelId } from '../measurement/channel.ts';
import { unitsFor, type SentUnit } from '../measurement/recipe.ts';
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
 * @returns undefined when the channel can not be sent in this unit
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
  // Powers of ten are divided, not multiplied by their inexact inverse: 0.041 is 4.1 %, not 4.1000000000000005.
  return scaled(unit === '%' ? 1 : unit === 'fraction' ? 100 : unit === 'ppm' ? 1e-4 : 1e-7);
}

const spellings: Record<string, SentUnit> = {
  '%': '%',
  '%vol': '%',
  'vol%': '%',
  '%v': '%',
  'v%': '%',
  '%v/v': '%',
  '%o2': '%',
  '%dry': '%',
  'vol.%': '%',
  '%vol.': '%',
  'mol%': '%',
  '%mol': '%',
  pct: '%',
  percent: '%',
  prozent: '%',
  'vol-%': '%',
  '%volume': '%',
  '%voldry': '%',
  'vol%dry': '%',
  volpct: '%',
  pctvol: '%',
  '%tr': '%',
  ppm: 'ppm',
  ppmv: 'ppm',
  ppmvol: 'ppm',
  vpm: 'ppm',
  ppmdry: 'ppm',
  ppmvd: 'ppm',
  ppmd: 'ppm',
  'umol/mol': 'ppm',
  'µmol/mol': 'ppm',
  'ml/m3': 'ppm',
  'ppm(v)': 'ppm',
  ppb: 'ppb',
  ppbv: 'ppb',
  'mg/m3': 'mg/m3',
  'mg/m³': 'mg/m3',
  'mg/nm3': 'mg/m3',
  'mg/nm³': 'mg/m3',
  mgm3: 'mg/m3',
  'mg/m^3': 'mg/m3',
  'mg/m3n': 'mg/m3',
  c: 'C',
  '°c': 'C',
  degc: 'C',
  'deg.c': 'C',
  celsius: 'C',
  '℃': 'C',
  ºc: 'C',
  ßc: 'C',
  øc: 'C',
  '*c': 'C',
  gradc: 'C',
  degreesc: 'C',
  "'c": 'C',
  '"c': 'C',
  oc: 'C',
  f: 'F',
  '°f': 'F',
  degf: 'F',
  'deg.f': 'F',
  fahrenheit: 'F',
  '℉': 'F',
  ºf: 'F',
  ßf: 'F',
  øf: 'F',
  '*f': 'F',
  degreesf: 'F',
  "'f": 'F',
  k: 'K',
  '°k': 'K',
  degk: 'K',
  kelvin: 'K',
  pa: 'Pa',
  hpa: 'hPa',
  mbar: 'mbar',
  mb: 'mbar',
  kpa: 'kPa',
  bar: 'bar',
  psi: 'psi',
  psig: 'psi',
  inhg: 'inHg',
  '"hg': 'inHg',
  inh2o: 'inH2O',
  inwc: 'inH2O',
  'in.wc': 'inH2O',
  '"wc': 'inH2O',
  '"h2o': 'inH2O',
  'inw.c.': 'inH2O',
  '"w.c.': 'inH2O',
  iwc: 'inH2O',
  inwg: 'inH2O',
  '"wg': 'inH2O',
  'in.w.c.': 'inH2O',
  'in.h2o': 'inH2O',
  mmh2o: 'mmH2O',
  mmwc: 'mmH2O',
  mmws: 'mmH2O',
  mmwg: 'mmH2O',
};
/** Spellings that mean something else in capitals or small letters are looked up as they stand. */
const unitTable = new Map(Object.entries(spellings));

/**
 * The unit that a text names, as found behind a value, in brackets of a header, or in a row of units.
 * The degree sign may come in any of its code pages, or be lost altogether.
 */
export function unitFromText(text: string): SentUnit | undefined {
  if (text.length > LONGEST_UNIT) return undefined;
  const known = seen.get(text);
  if (known !== undefined) return known === false ? undefined : known;
  const unit = lookUp(text);
  // Streams say the same few units again and again; noise does not fill the memory.
  if (seen.size < MOST_SEEN) seen.set(text, unit ?? false);
  return unit;
}

const LONGEST_UNIT = 24;
const MOST_SEEN = 500;
const seen = new Map<string, SentUnit | false>();

function lookUp(text: string): SentUnit | undefined {
  const bare = text
    .toLowerCase()
    .replace(/[\s_]+/g, '')
    .replace(/[\u00f8\u00df\u00ba\ufffd]/g, '°')
    .replace(/^\u00c2?°/, '°')
    .replace(/^[([{]+|[)\]}]+$/g, '');
  if (bare === '') return undefined;
  return unitTable.get(bare) ?? (bare.startsWith('°') ? unitTable.get(bare.slice(1)) : undefined);
}

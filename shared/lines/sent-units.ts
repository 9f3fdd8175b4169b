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
  percentvol: '%',
  'm3/m3%': '%',
  'vol_%': '%',
  porcentaje: '%',
  pourcent: '%',
  '%mole': '%',
  'mole%': '%',
  percent: '%',
  prozent: '%',
  'vol-%': '%',
  'vol.-%': '%',
  '%-vol': '%',
  'v/v%': '%',
  'vol.-prozent': '%',
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
  'cm3/m3': 'ppm',
  partspermillion: 'ppm',
  'mol/mol': 'fraction',
  'm3/m3': 'fraction',
  'v/v': 'fraction',
  ppb: 'ppb',
  ppbv: 'ppb',
  'mg/m3': 'mg/m3',
  'mg/m³': 'mg/m3',
  'mg/nm3': 'mg/m3',
  'mg/nm³': 'mg/m3',
  mgm3: 'mg/m3',
  'mg/m^3': 'mg/m3',
  'mg/m3n': 'mg/m3',
  'mg/nm^3': 'mg/m3',
  'mg·m-3': 'mg/m3',
  'mgm-3': 'mg/m3',
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
  deg_c: 'C',
  degreecelsius: 'C',
  gradcelsius: 'C',
  grad: 'C',
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
  kelvins: 'K',
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
  if (text.length > LONGEST_UNIT || startsLikeNumber(text)) return undefined;
  const known = seen.get(text);
  if (known !== undefined) return known === false ? undefined : known;
  const unit = lookUp(text);
  // Streams say the same few units again and again; noise does not fill the memory.
  if (seen.size < MOST_SEEN) seen.set(text, unit ?? false);
  return unit;
}

const LONGEST_UNIT = 24;
/** no unit of a channel begins with a digit, a sign or a mark; numbers do not fill the memory */
const startsLikeNumber = (text: string): boolean => {
  const code = text.charCodeAt(0);
  return (code >= 48 && code <= 57) || code === 43 || code === 45 || code === 46;
};
const MOST_SEEN = 500;
const seen = new Map<string, SentUnit | false>();

function lookUp(text: string): SentUnit | undefined {
  const bare = text
    .toLowerCase()
    .replace(/[\s_]+/g, '')
    .replace(/[\u00f8\u00df\u00ba\ufffd]/g, '°')
    .replace(/^\u00c2?°/, '°')
    .replace(/³/g, '3')
    .replace(/\((?:dry|tr\.?|trocken|sec|secco|seco)\)$/, '')
    .replace(/^[([{]+|[)\]}]+$/g, '');
  if (bare === '') return undefined;
  return unitTable.get(bare) ?? (bare.startsWith('°') ? unitTable.get(bare.slice(1)) : undefined);
}

/**
 * Units of quantities that no channel is sent in. A column in one of them is never a channel: mass, flow, voltage, counts, humidity and so on.
 * The value names the quantity, for the reasons that a person sees.
 */
const foreignQuantities = [
  'mass',
  'length',
  'flow',
  'voltage',
  'current',
  'power',
  'speed',
  'count',
  'time',
  'date',
  'humidity',
  'lambda',
  'dust',
  'extinction',
  'conductivity',
  'frequency',
  'level',
  'volume',
  'light',
  'angle',
  'text',
  'unknown',
] as const;
export type ForeignQuantity = (typeof foreignQuantities)[number];

const foreignRows: readonly (readonly [RegExp, ForeignQuantity])[] = [
  [/^(g|kg|mg|ug|ng|t|lb|lbs|oz|gram|grams|gramm|kilogramm?|tonnes?|kgs)$/, 'mass'],
  [/^(km|m|cm|mm|um|nm|in|inch|inches|ft|mil)$/, 'length'],
  [
    /^(l|ml|m3|n?m3|scm|sl|cf|ft3|gal|gallons?|kg|g|mg|lb|lbs|t|mol|kmol|mmol)(\/|per|p)(s|sec|min|h|hr|hour|d|day)$|^(lpm|slpm|sccm|scfm|cfm|gpm|gph|lph|l\/m|slm|lps|scfh|acfm|nm3h|m3h)$/,
    'flow',
  ],
  [/^(g|kg|mg|ug)(\/|per)(m2|m\^2|cm2)(\/?s|s-1|\/?h)?$|^(kg|g)m-2s-1$|^g\/s\/m2$|^g\/m2s$/, 'mass'],
  [/^(v|mv|kv|uv|volts?|vdc|vac|mvolt|millivolts?|volt)$/, 'voltage'],
  [/^(a|ma|ua|na|ka|amp|amps|ampere)$/, 'current'],
  [/^(w|kw|mw|va|kva|kvar|wh|kwh|mwh|j|kj|mj|gj|btu|btu\/h|cal|kcal|kw\/m2|w\/m2|kwm-2|kw\/m\^2|mj\/kg|kj\/g|mj\/m2|w\/mk|hp)$/, 'power'],
  [/^(rpm|1\/min|min-1|u\/min|upm|m\/s|m\/min|km\/h|kph|mph|ft\/s|ft\/min|fpm|m\/s2|m\/s\^2|mm\/s|g-force|rad\/s|knots?|r\/min)$/, 'speed'],
  [
    /^(counts?|cts|raw|adc|digits?|bits?|lsb|cnt|pulses?|imp|steps?|#|cps|cpm|pcs|pieces|stk|hex|bytes?|kb|#\/cm3|1\/cm3|1\/l|#\/l|pt\/cc)$/,
    'count',
  ],
  [
    /^(s|sec|secs|second|seconds|ms|us|min|mins|minutes?|h|hr|hrs|hours?|d|days?|sekunden?|minuten|stunden|segundos?|secondi|secondes?|hh:mm:ss|hh:mm|h:m:s|ns|msec)$/,
    'time',
  ],
  [/^(date|datum|fecha|data|time|datetime|timestamp|utc|dd\.mm\.yy(yy)?|yyyy-mm-dd|ts|iso)$/, 'date'],
  [/^(%rh|%rf|rh%|rh|%hr|%ur|g\/m3|g\/kg|rf%|%r\.?h\.?)$/, 'humidity'],
  [/^(lambda|\u03bb|lam|afr|phi|-\/-)$/, 'lambda'],
  [/^([u\u00b5\u03bcn]g\/(n?m3|n?m\^3|n?m\u00b3|cm3)|[u\u00b5\u03bc]gm-?3|mg\/kwh|mg\/mj|g\/gj|g\/kwh)$/, 'dust'],
  [/^(1\/m|\/m|m-1|1\/mm|mm-1|m\^-1|mm\^-1|m2\/kg|m2\/g|%opacity|opacity|fsn|od|abs|m\^2\/kg|m2\/s)$/, 'extinction'],
  [/^([mu\u00b5]s\/cm|s\/m|ohm|kohm|mohm|\u03c9|k\u03c9|ohms|ph|ntu)$/, 'conductivity'],
  [/^(hz|khz|mhz|ghz)$/, 'frequency'],
  [/^(db|dba|db\(a\)|dbm|rssi)$/, 'level'],
  [/^(l|ml|m3|cm3|ft3|gal|nm3|liter|litre|litro)$/, 'volume'],
  [/^(lx|lux|cd|lm|par|w\/sr|nit)$/, 'light'],
  [/^(\u00b0|deg|degrees?|rad)$/, 'angle'],
  [/^(text|string|char|chr|bool|boolean|flag|on\/off|0\/1|enum|int|float|id)$/, 'text'],
];

export type UnitMeaning =
  | { readonly kind: 'sent'; readonly unit: SentUnit }
  | { readonly kind: 'foreign'; readonly quantity: ForeignQuantity; readonly text: string };

/** @param isSurelyUnit the text is in a row of units, so that an unknown word is a unit too */
export function unitMeaning(text: string, isSurelyUnit = false): UnitMeaning | undefined {
  const unit = unitFromText(text);
  if (unit !== undefined) return { kind: 'sent', unit };
  if (text.length > LONGEST_UNIT || /^[\d.,+-]*$/.test(text)) return undefined;
  const bare = text
    .toLowerCase()
    .replace(/[\s_]+/g, '')
    .replace(/\u00b2/g, '2')
    .replace(/\u00b3/g, '3')
    .replace(/\*\*/g, '^')
    .replace(/^[([{<]+|[)\]}>]+$/g, '')
    .replace(/[.:]$/, '');
  if (bare === '' || /^-+$/.test(bare)) return undefined;
  const found = foreignRows.find(([pattern]) => pattern.test(bare));
  if (found !== undefined) return { kind: 'foreign', quantity: found[1], text: text.trim() };
  return isSurelyUnit && /[a-z\u00b5\u03bb/^%]/.test(bare) ? { kind: 'foreign', quantity: 'unknown', text: text.trim() } : undefined;
}

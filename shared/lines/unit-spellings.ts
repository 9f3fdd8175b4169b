import type { SentUnit } from '../measurement/sent-unit.ts';

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
  dapa: 'daPa',
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

export const LONGEST_UNIT = 24;
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

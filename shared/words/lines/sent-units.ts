import type { SentUnit } from '../../measurement/sent-unit.ts';

/** Units as a person reads them. */
export const sentUnitWords: Readonly<Record<SentUnit, string>> = {
  '%': '%',
  fraction: '0 to 1',
  ppm: 'ppm',
  ppb: 'ppb',
  'mg/m3': 'mg/m³',
  C: '°C',
  F: '°F',
  K: 'K',
  Pa: 'Pa',
  daPa: 'daPa',
  hPa: 'hPa',
  mbar: 'mbar',
  kPa: 'kPa',
  bar: 'bar',
  inH2O: 'in w.c.',
  mmH2O: 'mm w.c.',
  psi: 'psi',
  inHg: 'in Hg',
  none: 'as sent',
};

import { z } from 'zod';
import type { ChannelId as Channel } from './channel.ts';

/** Units an instrument may send. `mg/m3` is referred to 0 degC and 101.325 kPa, as sent (no oxygen reference). */
export const sentUnits = [
  '%',
  'fraction',
  'ppm',
  'ppb',
  'mg/m3',
  'C',
  'F',
  'K',
  'Pa',
  'daPa',
  'hPa',
  'mbar',
  'kPa',
  'bar',
  'inH2O',
  'mmH2O',
  'psi',
  'inHg',
  'none',
] as const;
export const SentUnit = z.enum(sentUnits);
export type SentUnit = (typeof sentUnits)[number];

const gases = ['%', 'fraction', 'ppm', 'ppb'] as const;
const pressures = ['Pa', 'daPa', 'hPa', 'mbar', 'kPa', 'bar', 'inH2O', 'mmH2O', 'psi', 'inHg'] as const;
const temperatures = ['C', 'F', 'K'] as const;
const unitsOf: Record<Channel, readonly SentUnit[]> = {
  o2: gases,
  co2: gases,
  co: [...gases, 'mg/m3'],
  ambientCo: [...gases, 'mg/m3'],
  no: [...gases, 'mg/m3'],
  no2: [...gases, 'mg/m3'],
  so2: [...gases, 'mg/m3'],
  stackTemperature: temperatures,
  airTemperature: temperatures,
  draft: pressures,
  pumpPressure: pressures,
  aux1: sentUnits,
  aux2: sentUnits,
  aux3: sentUnits,
  aux4: sentUnits,
};
export const unitsFor = (channel: Channel): readonly SentUnit[] => unitsOf[channel];

/** The unit that each channel has inside, and in values typed from a display. */
export const innerUnit: Readonly<Record<Channel, SentUnit>> = {
  o2: '%',
  co: 'ppm',
  co2: '%',
  stackTemperature: 'C',
  airTemperature: 'C',
  no: 'ppm',
  no2: 'ppm',
  so2: 'ppm',
  draft: 'Pa',
  pumpPressure: 'Pa',
  ambientCo: 'ppm',
  aux1: 'none',
  aux2: 'none',
  aux3: 'none',
  aux4: 'none',
};

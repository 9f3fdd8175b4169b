import type { ChannelId } from '../../../measurement/channel.ts';

/** What a column can be. The first seven are channels; most others are the instrument's own computations, never taken for measured. */
const roles = [
  'o2',
  'co',
  'stack',
  'air',
  'co2',
  'no',
  'no2',
  'so2',
  'draft',
  'ambientCo',
  'pumpPressure',
  'time',
  'date',
  'counter',
  'status',
  'check',
  'label',
  'unitText',
  'net',
  'efficiency',
  'loss',
  'excessAir',
  'lambda',
  'dewPoint',
  'coCorrected',
  'nox',
  'reference',
  'otherTemperature',
  'battery',
  'humidity',
  'other',
] as const;
export type Role = (typeof roles)[number];

/** What is read where a column is one of these. */
export const channelOfRole = {
  o2: 'o2',
  co: 'co',
  co2: 'co2',
  stack: 'stackTemperature',
  air: 'airTemperature',
  no: 'no',
  no2: 'no2',
  so2: 'so2',
  draft: 'draft',
  ambientCo: 'ambientCo',
  pumpPressure: 'pumpPressure',
} as const satisfies Partial<Record<Role, ChannelId>>;

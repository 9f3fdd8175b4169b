/** What a line can carry. Inner units: %vol dry, ppm dry, degC, Pa (draft: against the room, suction negative). */
export const channelIds = [
  'o2',
  'co',
  'co2',
  'stackTemperature',
  'airTemperature',
  'no',
  'no2',
  'so2',
  'draft',
  'pumpPressure',
  'ambientCo',
  'aux1',
  'aux2',
  'aux3',
  'aux4',
] as const;
export type ChannelId = (typeof channelIds)[number];

/** The four that the settling detector watches, in the order in which they are always shown. */
export const settlingChannels = ['o2', 'co', 'stackTemperature', 'airTemperature'] as const;
export type SettlingChannel = (typeof settlingChannels)[number];

/** Names of the four on the command line. */
export const shortNames = { o2: 'o2', co: 'co', stackTemperature: 'stack', airTemperature: 'air' } as const satisfies Record<
  SettlingChannel,
  string
>;

import type { SettlingChannel } from '../measurement/channel.ts';

/** Half-widths of the band of rest, inner units; `coFraction` is relative to the value. */
export type Bands = {
  readonly o2Percent: number;
  readonly coPpm: number;
  readonly coFraction: number;
  readonly stackC: number;
  readonly airC: number;
};

/** Our choice; common practice as to size (2 degC of stack temperature are about 0.1 point of stack loss). */
export const defaultBands: Bands = { o2Percent: 0.2, coPpm: 10, coFraction: 0.1, stackC: 2, airC: 1 };

/** @returns the half-width of the band of `channel` around `value`, inner unit */
export function bandAt(bands: Bands, channel: SettlingChannel, value: number): number {
  switch (channel) {
    case 'o2':
      return bands.o2Percent;
    case 'co':
      return Math.max(bands.coPpm, bands.coFraction * Math.abs(value));
    case 'stackTemperature':
      return bands.stackC;
    case 'airTemperature':
      return bands.airC;
  }
}

import type { SettlingChannel } from '../measurement/channel.ts';

/**
 * The dials: a channel is read when the probability that its heading lies further than 1.25 bands from what is read is below `wrong`, and that for one band
 * below `outside`; with several channels the parts of their dials add up. A gas that has not settled is on a slope, or has a way to go that a cell goes
 * in seconds: waiting is cheap and tells. The metal behind the stack goes its way for minutes, and is as likely wrong as it says.
 */
export const dials: Record<SettlingChannel, { readonly wrong: number; readonly outside?: number }> = {
  o2: { wrong: 0.05 },
  co: { wrong: 0.05 },
  stackTemperature: { wrong: 0.1, outside: 0.35 },
  airTemperature: { wrong: 0.2 },
};

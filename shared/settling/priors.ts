import type { SettlingChannel } from '../measurement/channel.ts';

/** What one channel is like before anything is known; inner units. */
export type Prior = {
  /** sd of a block mean, and its smallest believable value */
  readonly noise: number;
  readonly least: number;
  /** at the start: how far the heading and the slow part may be away, at rest or moving */
  readonly rest: { readonly headingSd: number; readonly slowSd: number };
  /** usual value of a burner that burns, for a start out of fresh air */
  readonly burning?: number;
  readonly moving: { readonly headingSd: number; readonly slowSd: number };
  /** a change of this channel's own: base, and part of the deviation seen */
  readonly jump: number;
  /** a change seen in another channel: how far this one may move */
  readonly echo: number;
};

export const priors: Record<SettlingChannel, Prior> = {
  o2: {
    noise: 0.05,
    least: 0.006,
    rest: { headingSd: 0.05, slowSd: 0 },
    moving: { headingSd: 3, slowSd: 0 },
    burning: 6,
    jump: 1,
    echo: 0.3,
  },
  co: { noise: 2, least: 0.25, rest: { headingSd: 2, slowSd: 0 }, moving: { headingSd: 60, slowSd: 0 }, jump: 40, echo: 15 },
  stackTemperature: {
    noise: 0.3,
    least: 0.03,
    rest: { headingSd: 0.5, slowSd: 1.5 },
    moving: { headingSd: 15, slowSd: 25 },
    jump: 5,
    echo: 8,
  },
  airTemperature: { noise: 0.1, least: 0.03, rest: { headingSd: 0.2, slowSd: 0 }, moving: { headingSd: 2, slowSd: 0 }, jump: 2, echo: 0 },
};

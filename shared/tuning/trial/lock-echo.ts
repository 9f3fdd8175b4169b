import type { Trial } from './trial.ts';
import { figureOf } from './trial-figures.ts';

export type EchoChannel = { channel: 'o2' | 'co' | 'stackTemperature'; before: number; after: number; allowed: number; held: boolean };
export type LockEcho = { held: boolean; channels: EchoChannel[]; worst: EchoChannel | undefined };

/**
 * Repeatability of one reading, standard uncertainty: never taken as better than this, whatever a quiet minute shows.
 * Own choice: one digit of a usual display for O2, and what draft wander does to CO and stack between two readings.
 */
const LEAST = { o2: () => 0.1, co: (ppm: number) => Math.max(3, 0.05 * Math.abs(ppm)), stackTemperature: () => 1 } as const;

/**
 * After the screws are tight the reading must repeat. Two readings of the same thing differ by less than 2 sqrt(2) s in 95 of 100 cases,
 * s being the standard uncertainty of one of them without what the sensor has wrong in both.
 *
 * @returns undefined when either trial lacks O2
 */
export function lockEcho(before: Trial, after: Trial): LockEcho | undefined {
  const channels = (['o2', 'co', 'stackTemperature'] as const).flatMap((channel): EchoChannel[] => {
    const [first, second] = [figureOf(before, channel), figureOf(after, channel)];
    if (!first || !second) return [];
    const least = LEAST[channel](first.mean);
    const s = Math.sqrt((Math.max(first.random, least) ** 2 + Math.max(second.random, least) ** 2) / 2);
    const allowed = 2 * Math.SQRT2 * s;
    return [{ channel, before: first.mean, after: second.mean, allowed, held: Math.abs(second.mean - first.mean) <= allowed }];
  });
  if (!channels.some(({ channel }) => channel === 'o2')) return undefined;
  const excess = (echo: EchoChannel): number => Math.abs(echo.after - echo.before) / echo.allowed;
  const worst = channels.filter((echo) => !echo.held).sort((a, b) => excess(b) - excess(a))[0];
  return { held: worst === undefined, channels, worst };
}

import { isFlueO2 } from './gas-basis.ts';
import type { Trial } from './trial.ts';

/** What reading a trial still lacks, in the order in which it is asked for. */
export const trialGaps = ['reading', 'settled-reading', 'smoke', 'draft'] as const;
export type TrialGap = (typeof trialGaps)[number];

export function gapsOf(trial: Trial): TrialGap[] {
  const gaps: TrialGap[] = [];
  if (!trial.reading) gaps.push('reading');
  else if (!trial.reading.settled) gaps.push('settled-reading');
  if (!trial.smoke || (trial.smoke.spots.length === 0 && trial.smoke.notTaken !== true)) gaps.push('smoke');
  if (trial.draft?.overFirePa === undefined && trial.draft?.breechPa === undefined) gaps.push('draft');
  return gaps;
}

/** Mean and standard uncertainties of one channel: `random` is what differs from trial to trial, `common` what all share (the sensor). */
export type Figure = { mean: number; random: number; common: number };

export function figureOf(trial: Trial, channel: 'o2' | 'co' | 'stackTemperature' | 'airTemperature'): Figure | undefined {
  const statistics = trial.reading?.channels[channel];
  if (!statistics) return undefined;
  const random = statistics.sd / Math.sqrt(Math.max(1, statistics.nEff));
  return { mean: statistics.mean, random, common: Math.sqrt(Math.max(0, statistics.u ** 2 - random ** 2)) };
}

/** Settled, with an O2 that a flue can have: only these say where the air is. */
export function isFittable(trial: Trial): boolean {
  const o2 = figureOf(trial, 'o2');
  return trial.reading?.settled === true && o2 !== undefined && isFlueO2(o2.mean);
}

/** The usable spots' mean; undefined when no spot counts. */
export function smokeOf(trial: Trial): number | undefined {
  const usable = trial.smoke?.spots.filter((spot) => spot.flaw === undefined) ?? [];
  return usable.length === 0 ? undefined : usable.reduce((sum, spot) => sum + spot.number, 0) / usable.length;
}

/** Alarms in words: what to do first, then why. */
import { formatNumber, withUnit } from '../../format/quantity.ts';
import type { Alarm } from '../../tuning/advice/alarms.ts';

/** First on every screen and paper while CO in the room is at 35 ppm or more. */
export const roomUnsafe = 'Shut the burner off, open windows, get people out of the room.';

export const roomCoWords = {
  clear: () => 'Room CO is low.',
  notice: (ppm: string) => `${ppm} of CO in the room. Look for the source.`,
  stop: (ppm: string) => `${roomUnsafe} ${ppm} of CO in the room.`,
  out: (ppm: string) => `Everybody out now. ${ppm} of CO in the room. Call for help from outside; do not stay to ventilate.`,
} as const;
/** In the place of the figure. */
const roomOverRange = 'More than the meter can show';
const flueCoWords = {
  clear: () => 'CO in the flue is low.',
  notice: (ppm: string) => `${ppm} of CO air-free in the flue. Find out why before going on.`,
  alarm: (ppm: string) => `Open the air, or stop the burner. ${ppm} of CO air-free in the flue.`,
  overRange: 'Open the air, or stop the burner. CO is over the instrument’s range.',
} as const;

export const bypassLine = (what: string): string => `Bypass in place: ${what}. Remove it before you leave.`;

export const alarmWords = {
  flueTitle: 'CO and O2 in the flue',
  change: 'Change the limits',
  limits: (notice: string, alarm: string, floor: string): string =>
    `CO: notice at ${notice}, alarm at ${alarm}, air-free. Flueside never suggests a setting below ${floor} O2.`,
  raiseTitle: 'Limits of CO and O2 in the flue',
  notice: 'CO notice, air-free',
  alarm: 'CO alarm, air-free',
  floor: 'Lowest O2',
  reason: 'Reason, goes into the report',
  keep: 'Save the limits',
  roomAgain: 'CO in the room now',
  roomUse: 'Save reading',
  roomOfOther: 'This is the room of another visit than the one on screen. The reading is saved there.',
  roomCleared: 'Stay out of the room. Only a reading taken from outside it may be saved.',
  why: 'Air-free, so that excess air does not hide it. Common practice.',
} as const;

const ppmText = (ppm: number): string => withUnit(formatNumber(ppm, 0), 'ppm');

const spikeWords = {
  strong: (ppm: string, peak: string) => `${ppm} of CO air-free in the flue, after light-off. Highest ${peak}.`,
  rest: 'Usual in the first minute if it falls. If it stays or comes back, open the air or stop the burner.',
};

export function alarmSentence(alarm: Alarm): { strong: string; rest: string } {
  if (alarm.key === 'room-co') {
    const shown = alarm.overRange === true ? roomOverRange : ppmText(alarm.ppm);
    return { strong: roomCoWords[alarm.level](shown), rest: '' };
  }
  if (alarm.overRange) return { strong: flueCoWords.overRange, rest: '' };
  const ppm = ppmText(alarm.ppm ?? 0);
  if (alarm.spikePeakPpm !== undefined) return { strong: spikeWords.strong(ppm, ppmText(alarm.spikePeakPpm)), rest: spikeWords.rest };
  const strong = flueCoWords[alarm.level](ppm);
  return alarm.isAirFree ? { strong, rest: alarmWords.why } : { strong: strong.replace(' air-free', ', as measured,'), rest: '' };
}

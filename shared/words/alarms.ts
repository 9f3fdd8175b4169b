/** Alarms in words: what to do first, then why. */
import { formatNumber, withUnit } from '../format/quantity.ts';
import type { Alarm } from '../tuning/alarms.ts';
import { flueCoWords, roomCoWords } from './tune.ts';
import { alarmWords } from './visit.ts';

const ppmText = (ppm: number): string => withUnit(formatNumber(ppm, 0), 'ppm');

const spikeWords = {
  strong: (ppm: string, peak: string) => `${ppm} of CO air-free in the flue, after light-off. Highest ${peak}.`,
  rest: 'Usual in the first minute if it falls. If it stays or comes back, open the air or stop the burner.',
};

export function alarmSentence(alarm: Alarm): { strong: string; rest: string } {
  if (alarm.key === 'room-co') return { strong: roomCoWords[alarm.level](ppmText(alarm.ppm)), rest: '' };
  if (alarm.overRange) return { strong: flueCoWords.overRange, rest: '' };
  const ppm = ppmText(alarm.ppm ?? 0);
  if (alarm.spikePeakPpm !== undefined) return { strong: spikeWords.strong(ppm, ppmText(alarm.spikePeakPpm)), rest: spikeWords.rest };
  const strong = flueCoWords[alarm.level](ppm);
  return alarm.isAirFree ? { strong, rest: alarmWords.why } : { strong: strong.replace(' air-free', ', as measured,'), rest: '' };
}

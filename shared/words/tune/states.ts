import type { AbsentReason } from '../../measurement/sample.ts';
import type { BlankReason } from '../../measurement/derived.ts';
import type { SettlingChannel } from '../../measurement/channel.ts';
import type { StateName, StateReason } from '../../measurement/state.ts';

/** The eight states of a channel, in lower case wherever they stand. */
export const stateWords: Readonly<Record<StateName, string>> = {
  moving: 'moving',
  settling: 'settling',
  settled: 'settled',
  drifting: 'drifting',
  surging: 'surging',
  absent: 'absent',
  suspect: 'suspect',
  silent: 'silent',
};

export const channelWords: Readonly<Record<SettlingChannel, { name: string; inText: string; far: string }>> = {
  o2: { name: 'O2', inText: 'O2', far: 'dry' },
  co: { name: 'CO', inText: 'CO', far: 'dry' },
  stackTemperature: { name: 'Stack', inText: 'stack', far: 'gross' },
  airTemperature: { name: 'Air', inText: 'air', far: 'intake' },
};

const absent: Readonly<Record<AbsentReason, string>> = {
  'over-range': 'over range',
  'under-range': 'under range',
  error: 'the instrument reports an error',
  'warming-up': 'instrument warming up',
  'not-fitted': 'not fitted',
  blank: 'no value in the line',
  'not-a-number': 'not a number in the line',
  'not-measuring': 'instrument not measuring',
  'two-values': 'two values in one line',
  corrected: 'a line says that it is corrected, so it is not measured',
};

const other: Readonly<Record<Exclude<StateReason, AbsentReason>, string>> = {
  impossible: 'outside what is possible',
  stuck: 'has not changed at all',
  'fresh-air': 'fresh air',
  'probe-out': 'probe out of the stack',
  dilution: 'diluted by room air',
  zeroing: 'instrument zeroing',
  typed: 'typed',
  'no-lines': 'no lines',
};

/** Rising or falling steadily, or swinging: how it moves, what it usually is, and what can be done meanwhile. */
export const unrestWords = {
  rate: (amount: string, isUp: boolean): string => `${amount} ${isUp ? 'up' : 'down'}`,
  every: (seconds: string): string => `every ${seconds}`,
  unevenly: 'not at regular times',
  between: (low: string, high: string): string => `${low} to ${high}`,
  /** 'O2 drifts, CO surges: no reading.' */
  noReading: (moves: readonly (readonly [channel: string, state: 'drifting' | 'surging'])[]): string =>
    `${moves.map(([channel, state]) => `${channel} ${state === 'drifting' ? 'drifts' : 'surges'}`).join(', ')}: no reading.`,
  measureDraft: 'Measure the draft.',
  byHand: 'Reading by hand',
  usuallyTitle: 'What it usually is',
  how: {
    drifting: (channels: string): string => `${channels}, rising or falling steadily`,
    surging: (channels: string): string => `${channels}, swinging up and down`,
  },
  handAbout: 'You can take a reading by hand. It is saved as not settled.',
  usually: {
    drifting: 'Usually falling draft, oil warming up, a tight room short of air, or a slipping fan.',
    surging: 'Usually air in the oil, hunting pressure, or a regulator swinging in gusts.',
  },
} as const;

/** Why a channel is absent, suspect or left out, as its second line. */
export function reasonWords(channel: SettlingChannel, reason: StateReason, high: boolean): string {
  if (reason === 'impossible' && channel === 'o2') return high ? 'above what air can hold' : 'below zero';
  if (reason === 'over-range' || reason === 'under-range') return `${channelWords[channel].name} ${absent[reason]}`;
  return reason in absent ? absent[reason as AbsentReason] : other[reason as keyof typeof other];
}

/** Why a computed figure is blank; stands under its label. */
export const blankWords: Readonly<Record<BlankReason, string>> = {
  'no-o2': 'no O2',
  'no-co': 'no CO',
  'no-stack-temperature': 'no stack temperature',
  'no-air-temperature': 'no air temperature',
  'o2-above-18': 'O2 above 18 %',
  'o2-above-15': 'O2 above 15 %',
  'o2-not-possible': 'O2 not possible',
  condensing: 'condensing',
  'stack-not-above-air': 'stack not above air',
  'co-over-range': 'CO over range',
  'outside-correlation': 'outside the formula',
  'no-constants-for-fuel': 'no constants for fuel',
  inconsistent: 'values contradict',
  silent: 'no lines',
  suspect: 'a value is suspect',
  'out-of-range': 'out of range',
};

export const excludedWords: Readonly<Record<string, string>> = {
  'fresh-air': 'fresh air',
  zeroing: 'zeroing',
  'probe-out': 'probe out',
  dilution: 'room air',
  hold: 'hold',
  'warming-up': 'instrument warming up',
};

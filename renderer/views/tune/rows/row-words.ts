/** The words beside a channel's lane, and the whole row as one spoken label. Pure. */
import type { SettlingChannel } from '../../../../shared/measurement/channel.ts';
import { quantities } from '../../../../shared/units/quantities.ts';
import { common } from '../../../../shared/words/common.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { channelWords, reasonWords, stateWords, unrestWords } from '../../../../shared/words/tune/states.ts';
import type { ChannelRowState } from '../../../state/channels.ts';
import { formatDuration, formatTimeLeft } from '../../../../shared/format/duration.ts';
import {
  DASH,
  formatInterval,
  formatNumber,
  formatValue,
  formatWithUnit,
  shownAs,
  withUnit,
  type UnitSystem,
} from '../../../../shared/format/quantity.ts';

export type RowWords = {
  name: string;
  /** unit and basis: '%, dry' */
  basis: string;
  figure: string;
  state: string;
  /** second line */
  left: string;
  /** third line */
  to: string;
  /** everything, for screen readers and the tool tip */
  label: string;
};

export function rowWordsOf(row: ChannelRowState, nowMs: number, lineAgeMs: number | undefined, units: UnitSystem): RowWords {
  const { channel, state, value, detail, typed } = row;
  const name = channelWords[channel].name;
  const { unit } = shownAs(channel, units);
  const basis = [unit, quantities[channel].basis].filter((part) => part !== undefined && part !== '').join(', ');
  const figure = value === undefined ? DASH : formatValue(channel, value, units);
  const since = detail === undefined ? undefined : Math.max(0, nowMs - detail.sinceMs);
  const base = { name, basis, figure, state: typed ? common.typed : stateWords[state] };
  const lines = typed ? { left: '', to: '' } : secondLines(row, since, lineAgeMs, units);
  const spoken = [
    live.rowLabel(name, value === undefined ? live.noValue : withUnit(figure, unit), base.state),
    lines.left,
    headingSpoken(row, units),
    timeSpoken(row),
  ];
  return { ...base, ...lines, label: spoken.filter((part) => part !== '').join(', ') };
}

function secondLines(
  row: ChannelRowState,
  sinceMs: number | undefined,
  lineAgeMs: number | undefined,
  units: UnitSystem,
): { left: string; to: string } {
  const { channel, state, detail, value } = row;
  const heading = detail?.headingFor === undefined ? '' : live.headingFor(formatInterval(channel, detail.headingFor, units));
  switch (state) {
    case 'settled':
      return { left: sinceMs === undefined ? '' : live.forTime(formatDuration(sinceMs)), to: heading };
    case 'settling': {
      const seconds = detail?.secondsLeft?.value;
      return { left: seconds === undefined ? live.forecastShort : live.left(formatTimeLeft(seconds)), to: heading };
    }
    case 'moving':
      return { left: live.noForecast, to: '' };
    case 'drifting':
      return {
        left: detail?.perMinute === undefined ? '' : unrestWords.rate(formatRate(channel, detail.perMinute, units), detail.perMinute > 0),
        to: sinceMs === undefined ? '' : live.forTime(formatDuration(sinceMs)),
      };
    case 'surging': {
      const swing = detail?.swing;
      if (swing === undefined) return { left: '', to: '' };
      return {
        left: swing.periodS === undefined ? unrestWords.unevenly : unrestWords.every(`${Math.round(swing.periodS)} s`),
        to: unrestWords.between(formatValue(channel, swing.low, units), formatWithUnit(channel, swing.high, units)),
      };
    }
    case 'suspect':
      return {
        left: detail?.reason === undefined ? live.notUsed : reasonWords(channel, detail.reason, (value ?? 0) > 0),
        to: live.notUsed,
      };
    case 'absent':
      return {
        left: detail === undefined ? live.waitingChannel : detail.reason === undefined ? '' : reasonWords(channel, detail.reason, true),
        to: sinceMs === undefined ? '' : live.forTime(formatDuration(sinceMs)),
      };
    case 'silent':
      return { left: lineAgeMs === undefined ? '' : live.forTime(formatDuration(lineAgeMs)), to: '' };
  }
}

/** '0.6 %/min': one decimal below ten, none above. */
function formatRate(channel: SettlingChannel, perMinute: number, units: UnitSystem): string {
  const { unit, factor } = shownAs(channel, units);
  const size = Math.abs(perMinute * factor);
  return withUnit(formatNumber(size, size < 10 ? 1 : 0), `${unit}/min`);
}

function headingSpoken({ channel, detail, state }: ChannelRowState, units: UnitSystem): string {
  if (detail?.headingFor === undefined || state === 'silent' || state === 'absent') return '';
  return live.headingInterval(formatValue(channel, detail.headingFor.low, units), formatWithUnit(channel, detail.headingFor.high, units));
}

function timeSpoken({ detail, state }: ChannelRowState): string {
  if (detail?.secondsLeft === undefined || state !== 'settling') return '';
  return live.timeInterval(formatTimeLeft(detail.secondsLeft.low), formatTimeLeft(detail.secondsLeft.high));
}

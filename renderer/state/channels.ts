/** Which channel rows are shown, and how each stands. Pure. */
import { settlingChannels, type SettlingChannel } from '../../shared/measurement/channel.ts';
import type { ChannelState, StateName } from '../../shared/measurement/state.ts';
import { hasNotSpoken } from '../../shared/measurement/first-block.ts';
import type { RunRecord } from './run-record.ts';

export type ChannelRowState = {
  channel: SettlingChannel;
  state: StateName;
  /** undefined: nothing to show but a dash */
  value: number | undefined;
  typed: boolean;
  detail: ChannelState | undefined;
  /** joined with the row above or below by the thick bar */
  joinsAbove: boolean;
  joinsBelow: boolean;
};

/** O2, CO, stack, air, in this order; a channel that the instrument lacks has no row. */
export function channelsShown({ info, face }: RunRecord): SettlingChannel[] {
  return settlingChannels.filter(
    (channel) =>
      info.channels.includes(channel) ||
      face.states[channel] !== undefined ||
      (channel === 'airTemperature' && info.typedAirC !== undefined),
  );
}

const isLost = ({ info }: RunRecord): boolean => info.phase === 'lost';

export function channelRows(record: RunRecord, latest: (channel: SettlingChannel) => number | undefined): ChannelRowState[] {
  const rows = channelsShown(record).map((channel): ChannelRowState => {
    const detail = record.face.states[channel];
    const isTyped = channel === 'airTemperature' && record.info.typedAirC !== undefined && !record.info.channels.includes('airTemperature');
    const blank = { channel, typed: isTyped, detail, joinsAbove: false, joinsBelow: false };
    if (isTyped) return { ...blank, state: 'settled', value: record.info.typedAirC };
    if (record.info.source.kind === 'typed') {
      const value = latest(channel);
      return { ...blank, typed: value !== undefined, state: value === undefined ? 'absent' : 'settled', value, detail: undefined };
    }
    if (isLost(record)) return { ...blank, state: 'silent', value: undefined };
    // nothing is known yet: no direction, no pin; a first value is shown as it comes, before the detector has a block of them
    const isFirst = detail === undefined || hasNotSpoken(detail);
    if (isFirst) return { ...blank, detail: undefined, state: latest(channel) === undefined ? 'absent' : 'moving', value: latest(channel) };
    if (detail.state === 'silent' || detail.state === 'absent') return { ...blank, state: detail.state, value: undefined };
    return { ...blank, state: detail.state, value: detail.value ?? latest(channel) };
  });
  rows.forEach((row, index) => {
    const above = rows[index - 1];
    if (above === undefined || above.state !== 'settled' || row.state !== 'settled') return;
    row.joinsAbove = true;
    above.joinsBelow = true;
  });
  return rows;
}

/** When the last good line came, as an age; undefined before the first. */
export function lineAgeMs({ info, face }: RunRecord): number | undefined {
  if (info.phase === 'lost' && info.lostSinceMs !== undefined)
    return Math.max(0, face.timeMs - (face.counters.lastGoodMs ?? info.lostSinceMs));
  return face.counters.lastGoodMs === undefined ? undefined : Math.max(0, face.timeMs - face.counters.lastGoodMs);
}

export const isSilent = (record: RunRecord): boolean => {
  const states = Object.values(record.face.states);
  return record.info.phase === 'running' && states.length > 0 && states.every(({ state }) => state === 'silent');
};

/** The model's value minus where it is heading, in bands: where the pin stands. The figure beside it is the measured one. */
export function bandsAwayOf({ detail, value }: ChannelRowState): number | undefined {
  const now = detail?.estimate ?? value;
  if (detail?.headingFor === undefined || now === undefined || value === undefined || detail.band <= 0) return undefined;
  return (now - detail.headingFor.value) / detail.band;
}

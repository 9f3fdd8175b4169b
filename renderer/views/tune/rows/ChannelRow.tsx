import type { SettlingChannel } from '../../../../shared/measurement/channel.ts';
import { channelWords } from '../../../../shared/words/tune/states.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Lane } from '../../../components/Lane.tsx';
import type { LaneSizeName } from '../../../components/lane-geometry.ts';
import { bandsAwayOf, type ChannelRowState } from '../../../state/channels.ts';
import { rowWordsOf } from './row-words.ts';
import { shownAs, type UnitSystem } from '../../../../shared/format/quantity.ts';
import '../TrialsColumn.css';
import './ChannelRow.css';

type Props = {
  row: ChannelRowState;
  isFirst: boolean;
  isLast: boolean;
  nowMs: number;
  lineAgeMs: number | undefined;
  units: UnitSystem;
  size: LaneSizeName;
  hidden?: boolean;
};

/** One channel: what it is, how much, where it stands against its rest, and in words. */
export function ChannelRow({ row, isFirst, isLast, nowMs, lineAgeMs, units, size }: Props) {
  const words = rowWordsOf(row, nowMs, lineAgeMs, units);
  const far = size === 'far';
  const isMinor = row.channel === 'airTemperature';
  const lane = <LaneCell row={row} size={size} isFirst={isFirst} isLast={isLast} />;
  const figure = (
    <div className={`figure${row.value === undefined ? ' off' : ''}${words.figure.length > 4 ? ' long' : ''}`}>{words.figure}</div>
  );
  return (
    <div
      className={`channel${isMinor && !far ? ' minor' : ''}`}
      role="group"
      aria-label={words.label}
      title={words.label}
      data-channel={row.channel}
      data-state={row.state}
    >
      {far ? (
        <>
          <div className="label">
            <b>
              <ChannelName text={words.name} />
            </b>{' '}
            {farBasis(row.channel, units)}
          </div>
          {figure}
        </>
      ) : (
        <div className="figure-cell">
          <div className="label">
            <b>
              <ChannelName text={words.name} />
            </b>{' '}
            {words.basis}
          </div>
          {figure}
        </div>
      )}
      {lane}
      <div className="words-cell">
        <div className="state">{words.state}</div>
        {words.left !== '' && (!isMinor || far || row.state !== 'settled') && (
          <div className={`left${words.left.length > 18 ? ' long' : ''}`}>
            <ChannelName text={words.left} />
          </div>
        )}
        {words.to !== '' && !far && (!isMinor || row.state !== 'settling') && (
          <div className="to">
            <ChannelName text={words.to} />
          </div>
        )}
      </div>
    </div>
  );
}

const farBasis = (channel: SettlingChannel, units: UnitSystem): string => `${shownAs(channel, units).unit}, ${channelWords[channel].far}`;

function LaneCell({ row, size, isFirst, isLast }: Pick<Props, 'row' | 'size' | 'isFirst' | 'isLast'>) {
  const { detail, state } = row;
  const joinable = state !== 'silent' && state !== 'absent';
  return (
    <div className="lane-cell">
      {!isFirst && joinable && <div className={`link above ${row.joinsAbove ? 'solid' : 'dotted'}`} />}
      <Lane state={state} size={size} bandsAway={bandsAwayOf(row)} direction={detail?.direction} />
      {!isLast && joinable && <div className={`link below ${row.joinsBelow ? 'solid' : 'dotted'}`} />}
    </div>
  );
}

import { ChannelName } from '../../../components/ChannelName.tsx';
import { Lane } from '../../../components/Lane.tsx';
import type { RunRecord } from '../../../state/run-record.ts';
import { rowWordsOf } from '../../tune/rows/row-words.ts';
import { useLiveFacts } from '../../tune/use-live-facts.ts';
import { bandsAwayOf, type ChannelRowState } from '../../../state/channels.ts';
import { formatDuration, formatTimeLeft } from '../../../../shared/format/duration.ts';
import '../visit.css';
import './LiveStrip.css';

/** O2, CO and stack in the bar of the air curve: figure, lane, state. */
export function LiveStrip({ record }: { record: RunRecord }) {
  const { rows, units, ageMs } = useLiveFacts(record);
  return (
    <div className="live-strip">
      {rows.slice(0, 3).map((row) => {
        const words = rowWordsOf(row, record.face.timeMs, ageMs, units);
        return (
          <div key={row.channel} className="live-strip-one" role="group" aria-label={words.label}>
            <div>
              <div className="small second unwrapped">
                <ChannelName text={words.name} /> {words.basis.split(',')[0]}
              </div>
              <div className="strip-figure">{words.figure}</div>
            </div>
            <span className="strip-lane">
              <Lane state={row.state} bandsAway={bandsAwayOf(row)} direction={row.detail?.direction} />
            </span>
            <div className="small strip-words">
              <b>{words.state}</b>
              <br />
              <span className="second">{shortTime(row, record.face.timeMs)}</span>
            </div>
          </div>
        );
      })}
    </div>
  );
}

const shortDuration = (ms: number): string => formatDuration(ms < 60_000 ? ms : Math.floor(ms / 60_000) * 60_000);

const shortTime = ({ state, detail }: ChannelRowState, nowMs: number): string => {
  if (detail === undefined) return '';
  if (state === 'settled') return `for ${shortDuration(nowMs - detail.sinceMs)}`;
  if (state === 'settling') return detail.secondsLeft === undefined ? '' : `${formatTimeLeft(detail.secondsLeft.value)} left`;
  return '';
};

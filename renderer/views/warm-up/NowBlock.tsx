import { warmUp } from '../../../shared/words/warm-up.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Lane } from '../../components/Lane.tsx';
import { bandsAwayOf, type ChannelRowState } from '../../state/channels.ts';
import { rowWordsOf } from '../tune/rows/row-words.ts';
import './warm-up.css';

/** The chosen channel of the run on screen: figure, slot and pin, state in words. */
export function NowBlock({ row, nowMs, units }: { row: ChannelRowState; nowMs: number; units: 'us' | 'metric' }) {
  const words = rowWordsOf(row, nowMs, undefined, units);
  const { detail, state, value } = row;
  return (
    <div role="group" aria-label={words.label}>
      <h2>{warmUp.runNowTitle}</h2>
      <div className="row now-figure">
        <div className={`figure${value === undefined ? ' off' : ''}`}>{words.figure}</div>
        <Lane state={state} bandsAway={bandsAwayOf(row)} direction={detail?.direction} />
      </div>
      <div className="now-state">
        {words.state}
        {words.left === '' ? '' : `, ${words.left}`}
      </div>
      <div className="second">
        <ChannelName text={words.to} />
      </div>
    </div>
  );
}

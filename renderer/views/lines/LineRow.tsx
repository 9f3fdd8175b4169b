import { memo } from 'react';
import type { LineReport } from '../../../shared/ipc/run-documents.ts';
import { lines as words } from '../../../shared/words/source.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { LineMarkSign } from './LineMarkSign.tsx';
import { piecesOf } from './visible-text.ts';
import { formatClock } from '../../../shared/format/duration.ts';
import './LineRow.css';
import './lines.css';

/**
 * One line as it came: shape, time of arrival, bytes with each channel's underline, and why it was not understood. The selected
 * one is shown whole, over as many rows as it takes.
 */
export const LineRow = memo(function LineRow({
  line,
  startWallMs,
  zoneMinutes,
  isSelected,
  select,
}: {
  line: LineReport;
  startWallMs: number;
  zoneMinutes: number;
  isSelected: boolean;
  select: (number: number) => void;
}) {
  const why = line.why === undefined ? '' : line.mark === 'rejected' ? words.why(line.why) : line.why;
  return (
    <li
      className={`line-row ${line.mark}${isSelected ? ' selected' : ''}`}
      aria-current={isSelected ? 'true' : undefined}
      onClick={() => select(line.number)}
    >
      <span>
        <LineMarkSign mark={line.mark} />
        <span className="hidden-text">{words.legend[line.mark]}</span>
      </span>
      <span className="third">{formatClock(startWallMs + line.timeMs, zoneMinutes, 'milliseconds')}</span>
      <span className="text">
        {piecesOf(line).map(({ text, kind, channel }, index) => (
          <span key={index} className={kind === 'field' ? `span span-${channel}` : kind === 'control' ? 'control' : 'plain-text'}>
            {text}
          </span>
        ))}
      </span>
      <span className={`why${line.mark === 'rejected' ? '' : ' plain'}`}>
        <ChannelName text={why} />
      </span>
    </li>
  );
});

import { common } from '../../../shared/words/common.ts';
import { source } from '../../../shared/words/source.ts';
import { useApp } from '../../app-parts.ts';
import { SourceSign } from '../../components/Signs.tsx';
import { lineAgeMs } from '../../state/channels.ts';
import { selectRun } from '../../state/selectors.ts';
import { sourceStateOf } from '../../state/source-state.ts';
import { formatAge, formatDuration } from '../../../shared/format/duration.ts';
import { formatNumber } from '../../../shared/format/quantity.ts';
import './SourceBar.css';

/** What is connected, how fast, how fresh, how much was not understood. Always in view. */
export function SourceBar() {
  const record = useApp(selectRun);
  const panelOpened = useApp((state) => state.panelOpened);
  const { shape, alarm, name, about } = sourceStateOf(record);
  // the scenario's name would give the pattern away
  const isHidden = useApp((state) => state.callIt) && record?.info.source.kind === 'simulated';
  const counters = record?.face.counters;
  const ageMs = record === undefined ? undefined : lineAgeMs(record);
  return (
    <div
      className={`source${alarm ? ' cut' : ''}`}
      role="region"
      aria-label={common.region.source}
      data-region="source"
      data-source={shape}
    >
      <button type="button" className="source-name" onClick={() => panelOpened('source')}>
        <SourceSign shape={shape} />
        <div>
          <b>{name}</b>
          <div className="second">{isHidden ? source.hiddenBurner : about}</div>
          <span className="hidden-text">{source.openPanel}</span>
        </div>
      </button>
      {counters !== undefined && (
        <>
          {!alarm && (
            <div className="figure rate">
              <b>{formatNumber(counters.linesPerSecond, 1)}</b>
              {source.linesPerSecond}
            </div>
          )}
          <div className="figure optional">
            <b>{ageMs === undefined ? '–' : alarm ? formatDuration(ageMs) : formatAge(ageMs)}</b>
            {source.sinceGood}
          </div>
          <button type="button" className="figure" onClick={() => panelOpened('lines')}>
            <span>
              <b>{formatNumber(counters.rejected, 0)}</b>
              {source.notUnderstood} <span className="hidden-text">{source.openLines}</span>
            </span>
          </button>
        </>
      )}
    </div>
  );
}

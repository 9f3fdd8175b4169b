import { useMemo } from 'react';
import { formatDay } from '../../../../shared/format/date.ts';
import { formatClock, formatDuration } from '../../../../shared/format/duration.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import type { RunSummary } from '../../../../shared/ipc/run-info.ts';
import { common } from '../../../../shared/words/common.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { progress as progressWords } from '../../../../shared/words/progress.ts';
import { recordWords } from '../../../../shared/words/paper/technical-record.ts';
import { panned, spanOf, towardsMark, zoomed } from '../../../charts/trend-window.ts';
import { Key } from '../../../components/Key.tsx';
import { ProgressLine } from '../../../components/ProgressLine.tsx';
import { BrokenSlot } from '../../../components/Signs.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { ReadingRows } from '../../tune/entries/ReadingsTable.tsx';
import { RunTrend } from './RunTrend.tsx';
import { useStretch } from './use-stretch.ts';
import '../records.css';
import './run.css';

/** One stored run: its trend over the whole length, however long it is. Points are fetched for what is looked at, thinned by the host. */
export function RunPage({ run, back }: { run: RunSummary; back: () => void }) {
  const { header, durationMs, lines, runId } = run;
  const { startWallMs, zoneMinutes, source } = header;
  const { whole, state, view, move, setView } = useStretch(runId, durationMs);
  const isThere = state !== undefined && state !== 'none' && state.channels.length > 0;
  const progress = typeof state === 'object' ? state.progress : undefined;
  const deeds = useMemo(
    () => ({
      earlier: () => move((window, now) => panned(window, now, -0.5)),
      later: () => move((window, now) => panned(window, now, 0.5)),
      closer: () => move((window, now) => zoomed(window, now, 0.5)),
      wider: () => move((window, now) => zoomed(window, now, 2)),
    }),
    [move],
  );
  useKey('panLeft', deeds.earlier);
  useKey('panRight', deeds.later);
  useKey('zoomIn', deeds.closer);
  useKey('zoomOut', deeds.wider);
  useKey('follow', () => setView(whole));
  useKey('marks', () => move((window, now) => towardsMark(window, now, isThere ? state.content.marks.map(({ timeMs }) => timeMs) : [])));

  const { fromMs, toMs } = spanOf(view, durationMs);
  // a day and its next have the same times: then the day is said, too
  const days = formatDay(startWallMs, zoneMinutes) !== formatDay(startWallMs + durationMs, zoneMinutes);
  const clock = (ms: number): string => {
    const wallMs = startWallMs + Math.max(0, Math.min(durationMs, ms));
    const time = formatClock(wallMs, zoneMinutes, toMs - fromMs < 10 * 60_000 ? 'seconds' : 'minutes');
    return days ? `${formatDay(wallMs, zoneMinutes)} ${time}` : time;
  };
  return (
    <div className="run-page">
      <div className="records-title">
        <div className="grow">
          <h1>
            {formatDay(startWallMs, zoneMinutes)} {formatClock(startWallMs, zoneMinutes, 'minutes')}
          </h1>
          <span className="second">
            {[
              recordWords.sources[source.kind === 'serial' ? 'port' : source.kind],
              formatDuration(durationMs),
              `${formatNumber(lines, 0)} ${words.runColumns.lines}`,
            ].join(' · ')}
          </span>
        </div>
        <button type="button" className="button" onClick={back}>
          {words.runBack}
        </button>
      </div>
      {progress !== undefined && (
        <ProgressLine
          title={progressWords.reading[progress.stage]}
          about={progressWords.readingAbout[progress.stage]}
          share={progress.share}
          leftMs={progress.leftMs}
        />
      )}
      {isThere ? (
        <>
          <div className="row run-tools" role="group" aria-label={live.trend.label}>
            <button type="button" className="button" onClick={deeds.earlier}>
              {words.runEarlier} <Key action="panLeft" />
            </button>
            <button type="button" className="button" onClick={deeds.later}>
              {words.runLater} <Key action="panRight" />
            </button>
            <button type="button" className="button" onClick={deeds.closer}>
              {words.runIn} <Key action="zoomIn" />
            </button>
            <button type="button" className="button" onClick={deeds.wider}>
              {words.runOut} <Key action="zoomOut" />
            </button>
            <button type="button" className="button" onClick={() => setView(whole)}>
              {words.runWhole} <Key action="follow" />
            </button>
            <span className="grow" />
            <span className="second" role="status">
              {clock(fromMs)} – {clock(toMs)}
            </span>
          </div>
          <RunTrend
            fetched={state}
            view={view}
            move={move}
            label={words.runTrend(clock(fromMs), clock(toMs))}
            durationMs={durationMs}
            startWallMs={startWallMs}
            zoneMinutes={zoneMinutes}
          />
          {state.base.readings.length + state.base.marks.length > 0 && (
            <section aria-label={live.tableTitle}>
              <h2>{live.tableTitle}</h2>
              <ReadingRows
                className="tight"
                readings={state.base.readings}
                marks={state.base.marks}
                startWallMs={startWallMs}
                zoneMinutes={zoneMinutes}
                isNumbered
              />
            </section>
          )}
        </>
      ) : (
        <div className="report-empty" role="status">
          <BrokenSlot large />
          <div>
            <h2>{state === 'none' ? words.runNone : common.loading}</h2>
            {state === 'none' && <p className="second">{words.runNoneAbout}</p>}
          </div>
        </div>
      )}
    </div>
  );
}

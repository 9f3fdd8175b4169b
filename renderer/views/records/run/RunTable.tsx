import { useState } from 'react';
import { formatDay } from '../../../../shared/format/date.ts';
import { formatClock, formatDuration } from '../../../../shared/format/duration.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import type { RunSummary } from '../../../../shared/ipc/run-info.ts';
import { recordWords } from '../../../../shared/words/paper/technical-record.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { common } from '../../../../shared/words/common.ts';
import { useParts } from '../../../app-parts.ts';
import { saveDownload } from '../../../backend/save-download.ts';
import { RunPage } from './RunPage.tsx';
import { useAnswer } from '../../../queries/use-answer.ts';
import '../records.css';

const forms = ['run', 'csv', 'json', 'text'] as const;
/** a thousand rows at once would be slow to lay out, and nobody reads them */
const MOST_AT_FIRST = 60;

/** Every run on this computer, newest first, whether a visit owns it or not. */
export function RunTable({ showVisit }: { showVisit: (id: string) => void }) {
  const list = useAnswer('source.list', {});
  const [runId, setRunId] = useState<string>();
  const [most, setMost] = useState(MOST_AT_FIRST);
  if (list === undefined) return <div className="loading">{common.loading}</div>;
  if (list.runs.length === 0)
    return (
      <div className="records-none">
        <h1 className="hidden-text">{words.sections.runs}</h1>
        <b>{words.noRuns}</b>
        <p className="second">{words.noRunsAbout}</p>
      </div>
    );
  const looked = list.runs.find((run) => run.runId === runId);
  if (looked !== undefined) return <RunPage key={looked.runId} run={looked} back={() => setRunId(undefined)} />;
  return (
    <>
      <h1 className="hidden-text">{words.sections.runs}</h1>
      <table className="tight records-runs" aria-label={words.sections.runs}>
        <thead>
          <tr>
            <th scope="col">{words.runColumns.begun}</th>
            <th scope="col">{words.runColumns.source}</th>
            <th scope="col" className="right">
              {words.runColumns.lasts}
            </th>
            <th scope="col" className="right">
              {words.runColumns.lines}
            </th>
            <th scope="col">{words.runColumns.state}</th>
            <th scope="col">{words.runColumns.visit}</th>
            <th scope="col">
              <span className="hidden-text">{words.runLook}</span>
            </th>
            <th scope="col">{words.actions.export}</th>
          </tr>
        </thead>
        <tbody>
          {list.runs.slice(0, most).map((run) => (
            <RunRow key={run.runId} run={run} showVisit={showVisit} look={() => setRunId(run.runId)} />
          ))}
        </tbody>
      </table>
      {list.runs.length > most && (
        <button type="button" className="button" onClick={() => setMost(most + MOST_AT_FIRST)}>
          {words.more}
        </button>
      )}
    </>
  );
}

function RunRow({ run, showVisit, look }: { run: RunSummary; showVisit: (id: string) => void; look: () => void }) {
  const { actions } = useParts();
  const { header } = run;
  const { source, startWallMs, zoneMinutes, visitId } = header;
  const state = run.damaged ? words.runStates.damaged : run.ended ? words.runStates.ended : words.runStates.open;
  return (
    <tr>
      <td className="unwrapped">
        {formatDay(startWallMs, zoneMinutes)} {formatClock(startWallMs, zoneMinutes, 'minutes')}
      </td>
      <td>{recordWords.sources[source.kind === 'serial' ? 'port' : source.kind]}</td>
      <td className="right unwrapped">{formatDuration(run.durationMs)}</td>
      <td className="right">{formatNumber(run.lines, 0)}</td>
      <td>{state}</td>
      <td>
        {visitId === undefined ? (
          '–'
        ) : (
          <button type="button" className="button quiet" onClick={() => showVisit(visitId)}>
            {words.sections.visits.slice(0, -1)}
          </button>
        )}
      </td>
      <td className="unwrapped">
        <button type="button" className="button quiet" onClick={look}>
          {words.runLook}
        </button>
      </td>
      <td className="unwrapped">
        {forms.map((form) => (
          <button key={form} type="button" className="button quiet" onClick={() => void actions.exportRun(run.runId, form, saveDownload)}>
            {words.exportRun[form]}
          </button>
        ))}
      </td>
    </tr>
  );
}

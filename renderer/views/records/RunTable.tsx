import { formatDay } from '../../../shared/format/date.ts';
import { formatClock, formatDuration } from '../../../shared/format/duration.ts';
import { formatNumber } from '../../../shared/format/quantity.ts';
import type { RunSummary } from '../../../shared/ipc/run-info.ts';
import { recordWords } from '../../../shared/words/report.ts';
import { records as words } from '../../../shared/words/records.ts';
import { useParts } from '../../app-parts.ts';
import { saveDownload } from '../../backend/save-download.ts';
import { useAnswer } from './use-records.ts';

const forms = ['run', 'csv', 'json', 'text'] as const;

/** Every run on this computer, newest first, whether a visit owns it or not. */
export function RunTable({ showVisit }: { showVisit: (id: string) => void }) {
  const list = useAnswer('source.list', {});
  if (list === undefined) return null;
  if (list.runs.length === 0) return <p className="records-none">{words.noRuns}</p>;
  return (
    <table className="tight records-runs">
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
          <th scope="col">{words.actions.export}</th>
        </tr>
      </thead>
      <tbody>
        {list.runs.map((run) => (
          <RunRow key={run.runId} run={run} showVisit={showVisit} />
        ))}
      </tbody>
    </table>
  );
}

function RunRow({ run, showVisit }: { run: RunSummary; showVisit: (id: string) => void }) {
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
        {forms.map((form) => (
          <button key={form} type="button" className="button quiet" onClick={() => void actions.exportRun(run.runId, form, saveDownload)}>
            {words.exportRun[form]}
          </button>
        ))}
      </td>
    </tr>
  );
}

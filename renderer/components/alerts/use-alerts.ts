import { useApp } from '../../app-parts.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { alertsOf } from '../../state/top-alert.ts';
import type { Alert } from '../../state/alert.ts';

/** Everything that has to be said now, the weightiest first: alarms of the host, the run's own, what stands, what was refused. */
export function useAlerts(record: RunRecord | undefined): Alert[] {
  const standing = useApp((state) => state.standing);
  const answer = useApp((state) => state.answer);
  const alarms = useApp((state) => state.alarms);
  const visit = useApp((state) => state.visit);
  const runs = useApp((state) => state.runs);
  const workspace = useApp((state) => state.workspace);
  const runId = useApp((state) => state.runId);
  return alertsOf(record, { standing, answer, alarms, visit, runs, workspace, runId });
}

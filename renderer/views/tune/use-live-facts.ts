/** What every form of the live view (near, far) derives from the record once. */
import { useApp, useParts } from '../../app-parts.ts';
import { probeHeadline } from '../../../shared/words/tune/probe.ts';
import { useProbeGate } from '../visit/use-probe-gate.ts';
import { useAlerts } from '../../components/alerts/use-alerts.ts';
import { channelRows, isSilent, lineAgeMs } from '../../state/channels.ts';
import { headlineOf } from '../../state/readiness.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { selectUnits, trialsOfRun } from '../../state/selectors.ts';

export function useLiveFacts(record: RunRecord) {
  const { buffers } = useParts();
  const units = useApp(selectUnits);
  const run = buffers.of(record.info.runId);
  const rows = channelRows(record, (channel) => run.latest(channel));
  const { info } = record;
  const trials = useApp(trialsOfRun(info.runId));
  const running = trials.findLast((one) => one.running);
  const alerts = useAlerts(record);
  const probe = useProbeGate();
  return {
    units,
    rows,
    trials,
    trial: trials.at(-1),
    running,
    // nothing is read before the probe may go in
    headline:
      (info.phase === 'running' && !isSilent(record) ? probeHeadline(probe) : undefined) ?? headlineOf(record, rows, units, running),
    alert: alerts[0],
    otherAlerts: Math.max(0, alerts.length - 1),
    ageMs: lineAgeMs(record),
    isVoid: info.phase === 'lost' || isSilent(record),
  };
}

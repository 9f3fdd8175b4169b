import { flameChangeAfter } from '../../../shared/tuning/inferred-time.ts';
import type { SafetyTestId } from '../../../shared/tuning/safety-plan.ts';
import { safetyScreen as words } from '../../../shared/words/visit.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { formatNumber } from '../../format/quantity.ts';
import { selectRun } from '../../state/selectors.ts';

/** What the gas says about a time that is taken by hand: a hint with its label, never the figure. */
export function InferredTime({ test }: { test: SafetyTestId }) {
  const { visits } = useParts();
  const startedMs = useApp((state) => state.watches[test]?.startedRunMs);
  const runId = useApp((state) => selectRun(state)?.info.runId);
  // twice a second at most: the face of the run is not renewed more often
  useApp((state) => Math.floor((selectRun(state)?.face.timeMs ?? 0) / 500));
  if (startedMs === undefined || runId === undefined) return null;
  const change = flameChangeAfter(visits.samplesOf(runId), startedMs);
  if (change === undefined) return null;
  return (
    <div className="second small inferred">
      <ChannelName
        text={words.inferred(change.kind, formatNumber(change.seconds, 0), formatNumber(Math.max(1, Math.ceil(change.doubtS)), 0))}
      />{' '}
      {words.inferredNot}
    </div>
  );
}

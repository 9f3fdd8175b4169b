import { flameChangeAfter } from '../../../../shared/tuning/trial/inferred-time.ts';
import type { SafetyTestId } from '../../../../shared/tuning/safety/safety-plan.ts';
import { safetyScreen as words } from '../../../../shared/words/visit/screens/safety.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { samplesBetween } from '../../../live/samples-from-history.ts';
import { selectRun } from '../../../state/selectors.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import './safety.css';

/** What is looked at: enough of a steady flame, and longer than any control waits. */
const BEFORE_MS = 30_000;
const AFTER_MS = 300_000;

/** What the gas says about a time that is taken by hand: a hint with its label, never the figure. */
export function InferredTime({ test }: { test: SafetyTestId }) {
  const { buffers } = useParts();
  const run = useApp((state) => state.watches[test]?.run);
  // twice a second at most: the face of the run is not renewed more often
  useApp((state) => Math.floor((selectRun(state)?.face.timeMs ?? 0) / 500));
  if (run === undefined) return null;
  const change = flameChangeAfter(samplesBetween(buffers.of(run.runId), run.timeMs - BEFORE_MS, run.timeMs + AFTER_MS), run.timeMs);
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

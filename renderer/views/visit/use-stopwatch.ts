import { useCallback, useEffect, useState } from 'react';
import type { SafetyTestId } from '../../../shared/tuning/safety-plan.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { selectRun } from '../../state/selectors.ts';
import type { Watch } from '../../state/visit-slice.ts';

export type Stopwatch = { seconds: number; phase: 'ready' | 'running' | 'stopped'; press: () => void; reset: () => void };

export const isRunning = (watch: Watch | undefined): boolean => watch !== undefined && watch.seconds === undefined;

/** The watch of one test. Both times are taken in the press itself; it goes on while another screen is looked at. */
export function useStopwatch(test: SafetyTestId, everyMs = 50): Stopwatch {
  const { store, buffers } = useParts();
  const watch = useApp((state) => state.watches[test]);
  const [now, setNow] = useState(() => performance.now());
  const running = isRunning(watch);
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => setNow(performance.now()), everyMs);
    return () => clearInterval(timer);
  }, [running, everyMs]);
  const press = useCallback(() => {
    const at = performance.now();
    const state = store.getState();
    const current = state.watches[test];
    if (current === undefined) {
      const runId = selectRun(state)?.info.runId;
      const startedRunMs = runId === undefined ? undefined : buffers.of(runId).nowMs();
      setNow(at);
      state.watchChanged(test, { startedAt: at, startedRunMs, seconds: undefined });
    } else if (current.seconds === undefined) state.watchChanged(test, { ...current, seconds: (at - current.startedAt) / 1000 });
  }, [store, buffers, test]);
  const reset = useCallback(() => store.getState().watchChanged(test, undefined), [store, test]);
  const seconds = watch === undefined ? 0 : (watch.seconds ?? Math.max(0, now - watch.startedAt) / 1000);
  return { seconds, phase: watch === undefined ? 'ready' : running ? 'running' : 'stopped', press, reset };
}

import { useCallback, useEffect, useState } from 'react';
import type { SafetyTestId } from '../../../../shared/tuning/safety/safety-plan.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import type { Watch } from '../../../state/visit-slice.ts';

export type Stopwatch = {
  seconds: number;
  phase: 'ready' | 'running' | 'stopped';
  /** from the start to each lap, s */
  laps: readonly number[];
  /** @returns whether the host took it */
  press: () => Promise<boolean>;
  lap: () => void;
  reset: () => void;
};

const none: readonly number[] = [];

export const isRunning = (watch: Watch | undefined): boolean => watch?.running === true;

/** The host's watch of one test: it takes the times, this window only shows them. It goes on while another screen is looked at. */
export function useStopwatch(test: SafetyTestId, everyMs = 50): Stopwatch {
  const { visits } = useParts();
  const watch = useApp((state) => state.watches[test]);
  const [now, setNow] = useState(() => performance.now());
  const running = isRunning(watch);
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => setNow(performance.now()), everyMs);
    return () => clearInterval(timer);
  }, [running, everyMs]);
  const press = useCallback(() => visits.watch(test, 'press'), [visits, test]);
  const lap = useCallback(() => void visits.watch(test, 'lap'), [visits, test]);
  const reset = useCallback(() => void visits.watch(test, 'reset'), [visits, test]);
  const seconds = watch === undefined ? 0 : watch.elapsedS + (running ? Math.max(0, now - watch.heardAt) / 1000 : 0);
  return {
    seconds,
    phase: watch === undefined ? 'ready' : running ? 'running' : 'stopped',
    laps: watch?.laps ?? none,
    press,
    lap,
    reset,
  };
}

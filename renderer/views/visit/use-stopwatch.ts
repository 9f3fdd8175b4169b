import { useCallback, useEffect, useRef, useState } from 'react';

export type Stopwatch = { seconds: number; phase: 'ready' | 'running' | 'stopped'; press: () => void; reset: () => void };

/** Starts and stops with one press; both times are taken in the press itself, from a clock that no one can set. */
export function useStopwatch(now: () => number = () => performance.now()): Stopwatch {
  const [phase, setPhase] = useState<Stopwatch['phase']>('ready');
  const [seconds, setSeconds] = useState(0);
  const current = useRef<{ phase: Stopwatch['phase']; startedAt: number }>({ phase: 'ready', startedAt: 0 });
  const clock = useRef(now);
  useEffect(() => {
    if (phase !== 'running') return undefined;
    const timer = setInterval(() => setSeconds((clock.current() - current.current.startedAt) / 1000), 50);
    return () => clearInterval(timer);
  }, [phase]);
  const go = (next: Stopwatch['phase']): void => {
    current.current.phase = next;
    setPhase(next);
  };
  const press = useCallback(() => {
    const at = clock.current();
    if (current.current.phase === 'running') {
      setSeconds((at - current.current.startedAt) / 1000);
      go('stopped');
    } else if (current.current.phase === 'ready') {
      current.current.startedAt = at;
      go('running');
    }
  }, []);
  const reset = useCallback(() => {
    go('ready');
    setSeconds(0);
  }, []);
  return { seconds, phase, press, reset };
}

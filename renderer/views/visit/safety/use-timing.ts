import { useState } from 'react';
import type { SafetyResult, WatchStart } from '../../../../shared/tuning/safety/safety-result.ts';
import type { SafetyTest } from '../../../../shared/tuning/safety/safety-plan.ts';
import { isTimedTest, judgeTimedTest } from '../../../../shared/tuning/safety/timed-test.ts';
import { useApp } from '../../../app-parts.ts';
import { typedWithin, valueOf } from '../../../fields/typed.ts';
import { useVisit } from '../use-visit.ts';
import { useStopwatch } from './use-stopwatch.ts';

export type Timing = ReturnType<typeof useTiming>;

/**
 * The time of one test: its watch, what is written on the control, and what follows from both. Times in seconds.
 *
 * @param before the result of the same test that stands in the visit
 */
export function useTiming(test: SafetyTest, before: SafetyResult | undefined) {
  const { visit } = useVisit();
  const watch = useStopwatch(test.id);
  const lastVisit = useApp((state) => state.lastVisit);
  // written on the control, so no measurement
  const ratedLast = lastVisit?.safety.findLast((result) => result.test === test.id && result.markedSeconds !== undefined)?.markedSeconds;
  const [rated, setRated] = useState(String(before?.markedSeconds ?? ratedLast ?? ''));
  const [startedFrom, setStartedFrom] = useState<WatchStart>(
    before?.startedFrom ?? (test.id === 'flame-failure' ? 'flame-lost' : 'valve-opens'),
  );
  /** lap of a recycling control */
  const [restartS, setRestart] = useState<number>();
  const typedRated = typedWithin(rated, { low: 0.1, high: 3600 });
  const ratedSeconds = valueOf(typedRated);
  const seconds = watch.phase === 'ready' ? (before?.seconds ?? 0) : watch.seconds;
  const timed = isTimedTest(test.id) ? test.id : undefined;
  const control = visit.control ?? {};
  const recycles = timed === 'flame-failure' && control.onFlameLoss === 'recycles';
  const judged =
    timed !== undefined && watch.phase === 'stopped'
      ? judgeTimedTest({ test: timed, seconds: Math.round(seconds * 10) / 10, ratedS: ratedSeconds, control, startedFrom, restartS })
      : undefined;
  return {
    watch,
    seconds,
    rated,
    setRated,
    typedRated,
    ratedSeconds,
    startedFrom,
    setStartedFrom,
    restartS,
    timed,
    control,
    recycles,
    judged,
    lap: (): void => setRestart(Math.round(watch.seconds * 10) / 10),
    startOver: (): void => {
      watch.reset();
      setRestart(undefined);
    },
  };
}

/**
 * A time taken by hand against the time that the control counts. Trial for ignition is counted from the opening of the oil valve, so a
 * valve-on delay is apart; loss of flame from when the flame is gone. A recycling control waits, starts again, and only its new trial is
 * counted.
 *
 * @source recycle wait 60 to 90 s and one restart with a fresh trial: NORA Oilheat Technicians Manual p 236; valve-on delay: p 239 and 241.
 * The times themselves are those typed from the control.
 */
import { z } from 'zod';
import { judgeTiming, type TimingNote, type TimingVerdict } from './safety-plan.ts';
import type { WatchStart } from './safety-result.ts';

const seconds = z.number().positive().max(3600);
/** What the control's plate or sheet says; every field may be blank. */
export const Control = z.object({
  onFlameLoss: z.enum(['locks-out', 'recycles']).optional(),
  valveOnDelayS: seconds.optional(),
  recycleWaitS: seconds.optional(),
  prePurgeS: seconds.optional(),
  postPurgeS: seconds.optional(),
  /** European marking: from the flame's loss to the valve's closing */
  reactionTimeS: seconds.optional(),
});
export type Control = z.infer<typeof Control>;
export const isTimedTest = (test: string): test is 'lockout-no-ignition' | 'flame-failure' =>
  test === 'lockout-no-ignition' || test === 'flame-failure';

/** What is missing before the time can be judged. */
export type TimingMissing = 'rated' | 'valve-on-delay' | 'recycle-wait' | 'restart-after-lockout';

export type TimedJudgement = {
  verdict: TimingVerdict;
  notes: TimingNote[];
  /** of the time on the watch, what the control counts */
  countedS: number | undefined;
  apart: { valveOnDelayS?: number; recycleWaitS?: number };
  missing: TimingMissing | undefined;
};

export function judgeTimedTest({
  test,
  seconds: whole,
  ratedS,
  control = {},
  startedFrom,
  restartS,
  lastVisitSeconds,
}: {
  test: 'lockout-no-ignition' | 'flame-failure';
  seconds: number;
  /** the time on the control for what this test counts: the trial for ignition, the safety time, or the lockout after loss of flame */
  ratedS: number | undefined;
  control?: Control | undefined;
  startedFrom: WatchStart;
  /** lap of a recycling control: when the burner started again */
  restartS?: number | undefined;
  lastVisitSeconds?: number | undefined;
}): TimedJudgement {
  const cannot = (missing: TimingMissing): TimedJudgement => ({ verdict: 'no-mark', notes: [], countedS: undefined, apart: {}, missing });
  const delay = control.valveOnDelayS ?? control.prePurgeS;
  const apart: TimedJudgement['apart'] = {};
  let counted = whole;
  const recycles = test === 'flame-failure' && control.onFlameLoss === 'recycles';
  if (recycles) {
    const wait = restartS ?? control.recycleWaitS;
    if (wait === undefined) return cannot('recycle-wait');
    if (wait >= whole) return cannot('restart-after-lockout');
    counted -= wait;
    apart.recycleWaitS = wait;
  }
  // the trial begins when the valve opens: after a start of the burner that is later
  if (recycles || startedFrom === 'burner-starts') {
    if (delay === undefined) return cannot('valve-on-delay');
    counted -= delay;
    apart.valveOnDelayS = delay;
  }
  counted = Math.max(0, counted);
  if (ratedS === undefined) return { ...cannot('rated'), countedS: counted, apart };
  const { verdict, notes } = judgeTiming({ seconds: counted, markedSeconds: ratedS, lastVisitSeconds });
  return { verdict, notes, countedS: counted, apart, missing: undefined };
}

/**
 * Pass pressed while the watch runs: it is stopped, and passes by that one press only where the time that the control counts is known and inside its mark. Over
 * it, too close, without a mark, far below it or unlike the last visit: the person looks at the time first.
 */
export const passesAtOnce = (judged: TimedJudgement | undefined): boolean => judged?.verdict === 'pass' && judged.notes.length === 0;

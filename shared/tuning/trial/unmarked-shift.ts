import type { Mark } from '../../measurement/mark.ts';
import type { ChannelState } from '../../measurement/state.ts';

/** The question "what was changed?", asked once for each shift of O2 that no mark explains. */
export type ShiftQuestion = { id: string; atMs: number; fromPercent: number; toPercent: number };

export type ShiftWatch = {
  /** where O2 last rested */
  rest: number | undefined;
  /** a move that is under way or has just ended, and no mark for it yet */
  candidate: { atMs: number; fromPercent: number; seenMs: number } | undefined;
  question: ShiftQuestion | undefined;
  /** the last mark that explains a move */
  lastMarkMs: number | undefined;
  asked: number;
};

export const startShiftWatch = (): ShiftWatch => ({
  rest: undefined,
  candidate: undefined,
  question: undefined,
  lastMarkMs: undefined,
  asked: 0,
});

/** Own choice: a shift smaller than this would not change a decision, and flutter and draft wander make such ones by themselves. */
const LEAST_SHIFT_PERCENT = 0.4;
/** Sampling line and hand: a mark may come this long before the gas shows the change, or be pressed this long after it. */
const MARK_BEFORE_MS = 45_000;
const MARK_AFTER_MS = 20_000;

/** One state of the O2 channel. Purges, probe pulled out, dilution and silence are no adjustments and are never asked about. */
export function watchShift(watch: ShiftWatch, o2: ChannelState): ShiftWatch {
  if (o2.state === 'absent' || o2.state === 'suspect' || o2.state === 'silent' || o2.reason !== undefined)
    return { ...watch, candidate: undefined };
  const now = o2.value;
  if (now === undefined) return watch;
  if (o2.state === 'settled') {
    const settledShift = watch.candidate && !watch.question ? ask(watch, watch.candidate, now, o2.timeMs) : watch;
    const pending =
      settledShift.candidate !== undefined && settledShift.question === undefined && isShift(settledShift.candidate.fromPercent, now);
    return pending ? settledShift : { ...settledShift, rest: now, candidate: undefined };
  }
  if (watch.rest === undefined) return watch;
  if (!watch.candidate) {
    if (!isShift(watch.rest, o2.headingFor?.value ?? now) && !isShift(watch.rest, now)) return watch;
    return { ...watch, candidate: { atMs: o2.sinceMs, fromPercent: watch.rest, seenMs: o2.timeMs } };
  }
  return watch.question ? watch : ask(watch, watch.candidate, now, o2.timeMs);
}

const isShift = (from: number, to: number): boolean => Math.abs(to - from) >= LEAST_SHIFT_PERCENT;

function ask(watch: ShiftWatch, candidate: NonNullable<ShiftWatch['candidate']>, now: number, timeMs: number): ShiftWatch {
  if (explains(watch.lastMarkMs, candidate.atMs)) return { ...watch, candidate: undefined, rest: undefined };
  if (timeMs - candidate.seenMs < MARK_AFTER_MS || !isShift(candidate.fromPercent, now)) return watch;
  const asked = watch.asked + 1;
  return {
    ...watch,
    asked,
    candidate: undefined,
    rest: undefined,
    question: { id: `shift-${asked}`, atMs: candidate.atMs, fromPercent: candidate.fromPercent, toPercent: now },
  };
}

const explains = (markMs: number | undefined, shiftMs: number): boolean =>
  markMs !== undefined && markMs >= shiftMs - MARK_BEFORE_MS && markMs <= shiftMs + MARK_AFTER_MS;

/** A mark was made. One that explains the open question answers it. */
export function watchMark(watch: ShiftWatch, mark: Mark): ShiftWatch {
  if (mark.body.kind !== 'adjustment' && mark.body.kind !== 'pressure' && mark.body.kind !== 'draft') return watch;
  const question = watch.question && explains(mark.timeMs, watch.question.atMs) ? undefined : watch.question;
  return { ...watch, lastMarkMs: mark.timeMs, question, candidate: undefined, rest: undefined };
}

/** Answered, or "nothing was changed": either way it is not asked again. */
export const shiftAnswered = (watch: ShiftWatch): ShiftWatch => ({ ...watch, question: undefined });

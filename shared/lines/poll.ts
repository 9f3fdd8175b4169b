import type { LineRecipe, Polling } from '../measurement/recipe.ts';

/**
 * Asking an instrument, as a pure state machine that a serial source drives with its clock. It never sends without consent, never
 * asks again before an answer or the time-out, and keeps late and double answers apart from the one it waits for.
 */

/** The user has seen the bytes and agreed, for this recipe at this device. */
export type PollConsent = { readonly recipeHash: string; readonly deviceId: string; readonly command: string };
export type PollTarget = { readonly recipeHash: string; readonly deviceId: string };

export type PollCounts = { sent: number; answered: number; timedOut: number; late: number; double: number };
export type PollState = 'no-consent' | 'idle' | 'waiting' | 'flushing' | 'backing-off';

export type Heard = 'answer' | 'late' | 'double' | 'unasked';

export type Poller = {
  /** What to do now. `send` is to be written at once; ask again at `wakeAtMs` or after the next line, whichever is first. */
  next(nowMs: number): { readonly send?: string | undefined; readonly wakeAtMs: number };
  /** A line that gave a sample (echoes and prompts don't count). Only an 'answer' is to be used. */
  heard(nowMs: number): Heard;
  readonly state: PollState;
  readonly counts: Readonly<PollCounts>;
  /** ms; median of the last answers, undefined before the first */
  readonly usualAnswerMs: number | undefined;
};

/** @source common practice: three times the usual answer, half a second at least */
const LEAST_TIMEOUT_MS = 500;
const USUAL_TIMES = 3;
/** before anything is known about the instrument */
const FIRST_TIMEOUT_MS = 2000;
const ANSWERS_KEPT = 9;
const LONGEST_BACK_OFF_MS = 30_000;
/** a line so soon behind an answer is the same answer twice */
const DOUBLE_WITHIN_MS = 300;
/** an answer that is later than this will not come any more */
const MOST_LATE_MS = 10_000;
/** so many answers make the usual time known */
const KNOWN_AFTER = 3;

/** A recipe as one text, keys in order: what a hash for the consent is taken over. */
export function canonicalRecipe(recipe: LineRecipe): string {
  const ordered = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(ordered);
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(
      Object.entries(value as Record<string, unknown>)
        .filter(([, inner]) => inner !== undefined)
        .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
        .map(([key, inner]) => [key, ordered(inner)]),
    );
  };
  return JSON.stringify(ordered(recipe));
}

export function createPoller(polling: Polling, target: PollTarget, consent: PollConsent | undefined): Poller {
  const mayAsk =
    consent !== undefined &&
    consent.recipeHash === target.recipeHash &&
    consent.deviceId === target.deviceId &&
    consent.command === polling.command;
  const counts: PollCounts = { sent: 0, answered: 0, timedOut: 0, late: 0, double: 0 };
  const answerTimes: number[] = [];
  let state: PollState = mayAsk ? 'idle' : 'no-consent';
  let sentAtMs = -Infinity;
  let dueMs = -Infinity;
  let lastAnswerMs = -Infinity;
  let failures = 0;
  /** when questions were asked that were given up, and whose answers may still be on their way; oldest first */
  let owed: number[] = [];
  /** nothing is asked until the answers that are owed have come, or cannot come any more */
  let isDraining = false;

  const usual = (): number | undefined => {
    const sorted = [...answerTimes].sort((a, b) => a - b);
    return sorted[Math.floor(sorted.length / 2)];
  };
  const timeoutMs = (): number => {
    if (polling.timeoutMs !== undefined) return polling.timeoutMs;
    const known = usual();
    return known === undefined ? FIRST_TIMEOUT_MS : Math.max(LEAST_TIMEOUT_MS, USUAL_TIMES * known);
  };
  /** Silence that is waited for after a time-out, so that a late answer is not taken for the next one. */
  const quietMs = (): number => Math.max(LEAST_TIMEOUT_MS / 2, usual() ?? LEAST_TIMEOUT_MS / 2);

  const learn = (answerMs: number): void => {
    answerTimes.push(answerMs);
    if (answerTimes.length > ANSWERS_KEPT) answerTimes.shift();
  };
  const giveUp = (): void => {
    counts.timedOut += 1;
    owed.push(sentAtMs);
  };
  const timeOut = (nowMs: number): void => {
    giveUp();
    failures += 1;
    const isGivingWay = failures > polling.retries;
    state = isGivingWay ? 'backing-off' : 'flushing';
    const backOff = Math.min(LONGEST_BACK_OFF_MS, polling.intervalMs * 2 ** Math.min(16, failures - polling.retries));
    dueMs = nowMs + (isGivingWay ? Math.max(quietMs(), backOff) : quietMs());
  };

  /**
   * An answer to a question that was given up: to the oldest, because instruments answer in order. Only where no other question is open does it
   * tell how late this instrument is; else the answers to the others are waited for first, so that none is taken for that to a later question.
   */
  const late = (nowMs: number): Heard => {
    counts.late += 1;
    const oldestMs = owed.shift() ?? nowMs;
    const newestMs = owed.at(-1);
    if (newestMs === undefined) {
      if (oldestMs < nowMs) learn(nowMs - oldestMs);
      dueMs = nowMs + LEAST_TIMEOUT_MS / 2;
    } else {
      isDraining = true;
      dueMs = Math.min(nowMs + MOST_LATE_MS, newestMs + 1.5 * (nowMs - oldestMs) + quietMs());
    }
    return 'late';
  };
  /** A question before this one was given up. Its answer comes about now too, unless this one comes as soon as answers usually do. */
  const isAmbiguous = (nowMs: number): boolean => {
    owed = owed.filter((askedMs) => nowMs - askedMs <= MOST_LATE_MS);
    if (owed.length === 0) return false;
    const known = answerTimes.length < KNOWN_AFTER ? undefined : usual();
    return known === undefined || nowMs - sentAtMs > Math.max(50, USUAL_TIMES * known);
  };

  return {
    next(nowMs) {
      if (state === 'no-consent') return { wakeAtMs: Infinity };
      if (state === 'waiting') {
        const endMs = sentAtMs + timeoutMs();
        if (nowMs < endMs) return { wakeAtMs: endMs };
        timeOut(nowMs);
      }
      if (nowMs < dueMs) return { wakeAtMs: dueMs };
      state = 'waiting';
      sentAtMs = nowMs;
      counts.sent += 1;
      if (isDraining) owed = [];
      isDraining = false;
      return { send: polling.command, wakeAtMs: nowMs + timeoutMs() };
    },
    heard(nowMs) {
      switch (state) {
        case 'waiting': {
          // The time-out may have passed without anyone having looked.
          if (nowMs >= sentAtMs + timeoutMs()) {
            timeOut(nowMs);
            return late(nowMs);
          }
          if (isAmbiguous(nowMs)) {
            giveUp();
            state = 'flushing';
            return late(nowMs);
          }
          counts.answered += 1;
          failures = 0;
          owed = [];
          learn(nowMs - sentAtMs);
          lastAnswerMs = nowMs;
          state = 'idle';
          // A slow instrument is asked again at once, never twice: missed intervals are not made up for.
          dueMs = Math.max(nowMs, sentAtMs + polling.intervalMs);
          return 'answer';
        }
        case 'flushing':
        case 'backing-off':
          owed = owed.filter((askedMs) => nowMs - askedMs <= MOST_LATE_MS);
          // It speaks again: what is left of the waiting is only the silence behind this answer, and behind others that are owed.
          return late(nowMs);
        case 'idle':
          if (nowMs - lastAnswerMs <= DOUBLE_WITHIN_MS) {
            counts.double += 1;
            dueMs = Math.max(dueMs, nowMs + Math.min(quietMs(), polling.intervalMs / 2));
            return 'double';
          }
          return 'unasked';
        case 'no-consent':
          return 'unasked';
      }
    },
    get state() {
      return state;
    },
    get counts() {
      return counts;
    },
    get usualAnswerMs() {
      return usual();
    },
  };
}

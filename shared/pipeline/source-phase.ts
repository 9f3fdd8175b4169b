/**
 * Where a run stands with what it listens to: not open yet, open (still learning how its lines are built, or not), away, ended. A reducer: what happened
 * goes in, what to do about it comes out; times are run times.
 */
import { problem, type Problem } from '../problem.ts';
import type { GapEntry } from '../measurement/run.ts';

type Lost = { readonly kind: 'lost'; readonly sinceMs: number; readonly problem: Problem };
export type SourcePhase =
  | { readonly kind: 'connecting' }
  /** @property isSilent it says nothing though it should */
  | { readonly kind: 'open'; readonly sinceMs: number; readonly isLearning: boolean; readonly isSilent: boolean }
  | Lost
  /** @property lost it was away when the run was ended */
  | { readonly kind: 'ended'; readonly lost: Lost | undefined };

export type SourceState = {
  readonly phase: SourcePhase;
  /** it was open at least once: the next opening leaves a gap */
  readonly hasOpened: boolean;
  /** the speed was changed on purpose: the gap that follows is no lost cable */
  readonly isChangingSpeed: boolean;
};

export type SourceHappening =
  | { readonly kind: 'opened'; readonly atMs: number; readonly lastRecordedMs: number; readonly isLearning: boolean }
  | { readonly kind: 'lost'; readonly atMs: number; readonly lastRecordedMs: number; readonly problem: Problem }
  | { readonly kind: 'line' | 'recipe-used' | 'speed-changes' | 'ended' }
  /** @property isQuiet the chain has lines and misses them; @property lines how many have come so far */
  | { readonly kind: 'looked'; readonly atMs: number; readonly isQuiet: boolean; readonly lines: number };

export type SourceDeed =
  | { readonly kind: 'gap'; readonly reason: GapEntry['reason']; readonly fromMs: number; readonly atMs: number }
  /** it came back: what was watched before says nothing about what is there now */
  | { readonly kind: 'watch-anew' }
  /** what has come of a line is kept, and no more comes of it */
  | { readonly kind: 'keep-half-line' }
  | { readonly kind: 'problem'; readonly about: 'source' | 'silent'; readonly problem: Problem | undefined }
  /** what windows are told of the run has changed */
  | { readonly kind: 'changed' };

/** a source that takes longer to open leaves a gap at the beginning */
export const OPENS_AT_ONCE_MS = 50;
/** a port that was opened just now gets this time to speak */
export const GRACE_MS = 3000;
/** a port that is open and brings nothing at all */
export const NOTHING_YET_MS = 5000;

export const startOfSource: SourceState = { phase: { kind: 'connecting' }, hasOpened: false, isChangingSpeed: false };

type Step = { readonly state: SourceState; readonly deeds: readonly SourceDeed[] };
/** What a run that is listened to shows of it. */
export function shownPhase(phase: SourcePhase): 'connecting' | 'learning' | 'running' | 'lost' | 'ended' {
  if (phase.kind !== 'open') return phase.kind;
  return phase.isLearning ? 'learning' : 'running';
}
/** Since when it is away, and why. */
export const lostOf = (phase: SourcePhase): Lost | undefined =>
  phase.kind === 'lost' ? phase : phase.kind === 'ended' ? phase.lost : undefined;

const changed: SourceDeed = { kind: 'changed' };

/** @param originMs run time at which this segment of the run began */
export function nextSource(state: SourceState, happening: SourceHappening, originMs: number): Step {
  const { phase } = state;
  const same: Step = { state, deeds: [] };
  if (phase.kind === 'ended') return same;
  switch (happening.kind) {
    case 'opened':
      return opened(state, happening, originMs);
    case 'lost': {
      const sinceMs = phase.kind === 'lost' ? phase.sinceMs : Math.max(happening.lastRecordedMs, happening.atMs);
      const deeds: SourceDeed[] = [{ kind: 'keep-half-line' }, { kind: 'problem', about: 'source', problem: happening.problem }];
      return {
        state: { ...state, phase: { kind: 'lost', sinceMs, problem: happening.problem } },
        deeds: [...deeds, ...spoken(phase), changed],
      };
    }
    case 'line':
      return phase.kind === 'open' && phase.isSilent
        ? { state: { ...state, phase: { ...phase, isSilent: false } }, deeds: spoken(phase) }
        : same;
    case 'recipe-used':
      // whoever uses it tells of it
      return phase.kind === 'open' ? { state: { ...state, phase: { ...phase, isLearning: false } }, deeds: [] } : same;
    case 'speed-changes':
      return { state: { ...state, isChangingSpeed: true }, deeds: [] };
    case 'looked': {
      if (phase.kind !== 'open' || phase.isSilent) return same;
      const openForMs = happening.atMs - phase.sinceMs;
      const saysNothing = happening.isQuiet || (happening.lines === 0 && openForMs > NOTHING_YET_MS);
      if (openForMs < GRACE_MS || !saysNothing) return same;
      return {
        state: { ...state, phase: { ...phase, isSilent: true } },
        deeds: [{ kind: 'problem', about: 'silent', problem: problem('source-silent') }],
      };
    }
    case 'ended':
      return {
        state: { ...state, phase: { kind: 'ended', lost: phase.kind === 'lost' ? phase : undefined } },
        deeds: [...spoken(phase), { kind: 'problem', about: 'source', problem: undefined }, changed],
      };
  }
}

/** It is not silent any more, or is not there to be. */
const spoken = (phase: SourcePhase): SourceDeed[] =>
  phase.kind === 'open' && phase.isSilent ? [{ kind: 'problem', about: 'silent', problem: undefined }] : [];

function opened(
  state: SourceState,
  { atMs, lastRecordedMs, isLearning }: Extract<SourceHappening, { kind: 'opened' }>,
  originMs: number,
): Step {
  const { phase } = state;
  const isBack = phase.kind === 'lost';
  const deeds: SourceDeed[] = [];
  if (state.hasOpened || isBack || atMs - originMs > OPENS_AT_ONCE_MS)
    deeds.push({
      kind: 'gap',
      reason: state.isChangingSpeed ? 'restarted' : 'unplugged',
      fromMs: isBack ? phase.sinceMs : lastRecordedMs,
      atMs,
    });
  if (isBack) deeds.push({ kind: 'watch-anew' });
  deeds.push({ kind: 'problem', about: 'source', problem: undefined });
  const isSilent = phase.kind === 'open' && phase.isSilent;
  const wasLearning = phase.kind === 'open' && phase.isLearning;
  if (phase.kind !== 'open' || wasLearning !== isLearning) deeds.push(changed);
  return {
    state: { phase: { kind: 'open', sinceMs: atMs, isLearning, isSilent }, hasOpened: true, isChangingSpeed: false },
    deeds,
  };
}

/** Stretches of a run: when each channel was settled, and when nothing counted. What a chart shades and a report tells. */
import type { SettlingChannel } from '../measurement/channel.ts';
import type { Sample } from '../measurement/sample.ts';
import type { ChannelState } from '../measurement/state.ts';
import type { ExcludedStretch, SettledStretch } from './run-fold.ts';
import { createSpanList } from './spans.ts';

/** after a gap a channel is judged anew; what it was before says nothing until then */
const JUDGED_AFTER_MS = 2000;
/** a silence this long starts the detector anew, like a gap */
const LONG_SILENCE_MS = 30_000;

/** A settled stretch ends with the last line that was seen and goes on, if the state does, with the next one. */
export function createSettledStretches() {
  const spans = createSpanList<SettledStretch>();
  const states = new Map<SettlingChannel, ChannelState>();
  /** the first line since a silence or a gap */
  let seenFromMs = 0;
  /** from when on a state that did not change counts again */
  let goesOnFromMs: number | undefined;
  /** the detector starts anew with the next line */
  let isJudgedAnew = false;
  return {
    spans,
    /** the newest state of each channel */
    states: (): Iterable<ChannelState> => states.values(),
    changed(changed: readonly ChannelState[]): void {
      for (const state of changed) {
        states.set(state.channel, state);
        spans.end(({ channel }) => channel === state.channel, state.sinceMs);
        if (state.state === 'settled') spans.begin({ channel: state.channel, fromMs: Math.max(state.sinceMs, seenFromMs) });
      }
    },
    /** a gap or a pause */
    broken(lastMs: number): void {
      spans.end(() => true, lastMs);
      isJudgedAnew = true;
    },
    silent(lastMs: number, nextMs: number): void {
      spans.end(() => true, lastMs);
      isJudgedAnew ||= nextMs - lastMs > LONG_SILENCE_MS;
    },
    /** told of every line that gives a sample */
    seenAgain(nextMs: number, wasSilent: boolean): void {
      if (!wasSilent && !isJudgedAnew) return;
      seenFromMs = nextMs;
      goesOnFromMs = isJudgedAnew ? nextMs + JUDGED_AFTER_MS : nextMs;
      isJudgedAnew = false;
    },
    /** The detector says nothing when a state is what it was before the silence. */
    goOn(nowMs: number): void {
      if (goesOnFromMs === undefined || nowMs < goesOnFromMs) return;
      goesOnFromMs = undefined;
      for (const { channel, state } of states.values()) {
        if (state === 'settled' && !spans.isOpen((span) => span.channel === channel)) spans.begin({ channel, fromMs: nowMs });
      }
    },
  };
}

export function createExcludedStretches() {
  const spans = createSpanList<ExcludedStretch>();
  let excludedBy: string | undefined;
  return {
    spans,
    /** @param reason why nothing counts from now on; undefined: it counts again */
    now(reason: string | undefined, atMs: number): void {
      if (reason === excludedBy) return;
      if (excludedBy !== undefined) spans.end(() => true, atMs);
      if (reason !== undefined) spans.begin({ fromMs: atMs, reason });
      excludedBy = reason;
    },
  };
}

const excludingReasons: ReadonlySet<string> = new Set(['fresh-air', 'probe-out', 'dilution', 'zeroing']);

/** Why this sample does not count, as the instrument or the state of a channel says. */
export function excludingReason(sample: Sample, states: Iterable<ChannelState>): string | undefined {
  if (sample.state === 'purge') return 'fresh-air';
  if (sample.state === 'zeroing') return 'zeroing';
  for (const { reason } of states) if (reason !== undefined && excludingReasons.has(reason)) return reason;
  return undefined;
}

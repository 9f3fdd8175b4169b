/**
 * A stored run as a source: its own entries with their own times; only the pacing is ours. Forwards it goes on reading; backwards it
 * begins anew, because the chain behind can only go forwards.
 */
import type { Clock } from '../../shared/clock.ts';
import type { RunEntry, SourceInfo } from '../../shared/measurement/run.ts';
import type { RunFile } from '../runs/file/run-file.ts';
import type { LineSource, SourceEvent } from './source.ts';

export type ReplayControl = {
  playing?: boolean | undefined;
  speed?: number | undefined;
  stepLines?: number | undefined;
  seekMs?: number | undefined;
};

export interface ReplaySource extends LineSource {
  /** who gets the entries */
  readonly feed: (entry: RunEntry) => void;
  control(change: ReplayControl): void;
  state(): { playing: boolean; speed: number; endMs: number };
}

export type ReplayParts = {
  readonly clock: Clock;
  readonly file: RunFile;
  readonly endMs: number;
  readonly speed: number;
  readonly info: SourceInfo;
  readonly feed: (entry: RunEntry) => void;
  /** the chain has to begin anew: entries come again from the first */
  readonly onRestart: () => void;
  readonly onChange: () => void;
};

const TICK_MS = 50;
/** entries handed on in one go before the event loop gets its turn */
const PORTION = 2000;

export function createReplaySource(parts: ReplayParts): ReplaySource {
  const { clock, file, endMs, info, feed } = parts;
  let isPlaying = true;
  let speed = parts.speed;
  // replay time = anchorMs + time since anchorClockMs * speed, while playing
  let anchorMs = 0;
  let anchorClockMs = 0;
  let steps = 0;
  let round = 0; // a seek backwards starts another round; the one before stops by itself
  let wake: (() => void) | undefined;
  let isStopped = false;

  const positionMs = (): number => (isPlaying ? Math.min(endMs, anchorMs + (clock.nowMs() - anchorClockMs) * speed) : anchorMs);
  const anchor = (): void => {
    anchorMs = positionMs();
    anchorClockMs = clock.nowMs();
  };
  const pause = (timeMs: number): void => {
    anchorMs = timeMs;
    isPlaying = false;
  };

  const play = async (): Promise<void> => {
    const mine = ++round;
    const isMine = (): boolean => mine === round && !isStopped;
    let fed = 0;
    for await (const entry of file.entries()) {
      while (isMine() && entry.timeMs > positionMs() && steps === 0) {
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
      if (!isMine()) return;
      feed(entry);
      if (steps > 0 && entry.kind === 'line') {
        steps--;
        pause(Math.max(entry.timeMs, anchorMs));
      }
      if (++fed % PORTION === 0) await new Promise((resolve) => setImmediate(resolve));
      if (!isMine()) return;
    }
    pause(endMs);
    parts.onChange();
  };

  let stopTicking: (() => void) | undefined;
  const wakeUp = (): void => {
    const resolve = wake;
    wake = undefined;
    resolve?.();
  };

  return {
    info,
    feed,
    start(listener: (event: SourceEvent) => void) {
      anchorClockMs = clock.nowMs();
      listener({ kind: 'opened', atMs: anchorClockMs });
      stopTicking = clock.every(TICK_MS, wakeUp);
      void play();
    },
    stop() {
      isStopped = true;
      stopTicking?.();
      wakeUp();
      return Promise.resolve();
    },
    control(change) {
      anchor();
      if (change.speed !== undefined) speed = change.speed;
      if (change.playing !== undefined) isPlaying = change.playing && anchorMs < endMs;
      if (change.stepLines !== undefined) {
        isPlaying = false;
        steps = change.stepLines;
      }
      if (change.seekMs !== undefined) {
        const target = Math.min(endMs, Math.max(0, change.seekMs));
        const isBack = target < anchorMs;
        anchorMs = target;
        if (isBack) {
          parts.onRestart();
          void play();
        }
      }
      wakeUp();
      parts.onChange();
    },
    state: () => ({ playing: isPlaying, speed, endMs }),
  };
}

/** Listens at the usual speeds, one after the other, until the bytes are text. It never sends: some instruments act on stray characters. */
import type { Clock } from '../../../shared/clock.ts';
import { unprintableShare, usualBauds } from '../../../shared/lines/wrong-baud.ts';
import type { StampedLine } from '../../../shared/measurement/line.ts';

export interface SpeedTrial {
  line(line: StampedLine): void;
  readonly state: { readonly baud: number; readonly tried: number; readonly of: number };
  stop(): void;
}

/** a slow instrument says something in this time; it is given up for the next speed after it */
const LISTEN_MS = 3000;
/** text all through, and several lines of it */
const TEXT_SHARE = 0.05;
const LINES_NEEDED = 3;
const LINES_AT_MOST = 12;
/** the first line at a speed was cut, or holds bytes of the speed before */
const LINES_SKIPPED = 1;

export function createSpeedTrial(parts: {
  clock: Clock;
  baudNow: number;
  setBaud: (baud: number) => void;
  onChange: () => void;
  /** undefined: none of them gives text, and the speed is as it was before */
  onDone: (baud: number | undefined) => void;
}): SpeedTrial {
  const { clock, baudNow } = parts;
  const candidates = usualBauds.filter((baud) => baud !== baudNow);
  let index = -1;
  let lines: StampedLine[] = [];
  let skipped = 0;
  let cancel: (() => void) | undefined;
  let isDone = false;

  const finish = (baud: number | undefined): void => {
    isDone = true;
    cancel?.();
    if (baud === undefined) parts.setBaud(baudNow);
    parts.onDone(baud);
  };
  const judge = (): boolean =>
    lines.length >= LINES_NEEDED && unprintableShare(lines).share <= TEXT_SHARE && lines.some(({ bytes }) => /\d/.test(bytes));
  const next = (): void => {
    cancel?.();
    const baud = candidates[++index];
    lines = [];
    skipped = 0;
    if (baud === undefined) return finish(undefined);
    parts.setBaud(baud);
    parts.onChange();
    cancel = clock.after(LISTEN_MS, () => (judge() ? finish(baud) : next()));
  };
  next();

  return {
    line(line) {
      if (isDone) return;
      if (skipped < LINES_SKIPPED) return void skipped++;
      lines.push(line);
      if (lines.length < LINES_AT_MOST && line.cutBytes === undefined) return;
      if (judge()) finish(candidates[index]);
      else next();
    },
    get state() {
      return { baud: candidates[index] ?? baudNow, tried: Math.min(index + 1, candidates.length), of: candidates.length };
    },
    stop() {
      isDone = true;
      cancel?.();
    },
  };
}

/** Drives the pure poller with a clock and a port: writes when it is time, never without consent. */
import { createHash } from 'node:crypto';
import type { Clock } from '../../shared/clock.ts';
import {
  canonicalRecipe,
  createPoller,
  type PollConsent,
  type PollCounts,
  type PollState,
  type PollTarget,
} from '../../shared/lines/poll.ts';
import { createLineReader } from '../../shared/lines/reading/read-line.ts';
import type { StampedLine } from '../../shared/measurement/line.ts';
import type { LineRecipe, Polling } from '../../shared/measurement/recipe.ts';
import type { SourceInfo, UnusedWhy } from '../../shared/measurement/run.ts';
import { textBytes } from './source.ts';

export interface PollDriver {
  /** @returns why a line is not to be used (late, the same twice, unasked); undefined when it is, or gives no sample by itself */
  judge(line: StampedLine): UnusedWhy | undefined;
  stop(): void;
  readonly counts: Readonly<PollCounts>;
  readonly state: PollState;
  readonly usualAnswerMs: number | undefined;
}

export type PollDriverParts = {
  readonly clock: Clock;
  readonly recipe: LineRecipe;
  readonly polling: Polling;
  readonly target: PollTarget;
  readonly consent: PollConsent | undefined;
  /** names the connection; undefined while the port is away: nothing is asked then. Another one begins afresh, however soon it came */
  readonly connection: () => number | undefined;
  readonly write: (bytes: Uint8Array) => void;
  /** its counts have changed; told once a second at most */
  readonly onChange: () => void;
};

const LOOK_AGAIN_MS = 250;
const TELL_EVERY_MS = 1000;

/** What a consent is bound to: exactly this recipe, at exactly this device. */
export function pollTarget(recipe: LineRecipe, source: SourceInfo): PollTarget {
  const recipeHash = createHash('sha256').update(canonicalRecipe(recipe)).digest('hex');
  if (source.kind !== 'serial') return { recipeHash, deviceId: source.kind };
  const { vendorId, productId, serialNumber, location } = source.device ?? {};
  const isKnown = vendorId !== undefined && productId !== undefined;
  return { recipeHash, deviceId: isKnown ? [vendorId, productId, serialNumber ?? location ?? ''].join(':') : source.path };
}

export function startPolling({ clock, recipe, polling, target, consent, connection, write, onChange }: PollDriverParts): PollDriver {
  let poller = createPoller(polling, target, consent);
  // An eye of its own: whether a line is an answer has to be known before it is kept.
  let reader = createLineReader(recipe);
  let connectedAs = connection();
  let cancel: (() => void) | undefined;
  let isStopped = false;
  let told = '';
  let toldMs = -Infinity;
  const tell = (): void => {
    const nowMs = clock.nowMs();
    const { state, counts } = poller;
    const now = `${state === 'backing-off'} ${Object.values(counts).join(' ')}`;
    if (now === told || nowMs - toldMs < TELL_EVERY_MS) return;
    told = now;
    toldMs = nowMs;
    onChange();
  };
  /** @returns false while the port is away */
  const isThere = (): boolean => {
    const connectedNow = connection();
    if (connectedNow !== undefined && connectedNow !== connectedAs) {
      poller = createPoller(polling, target, consent);
      reader = createLineReader(recipe);
    }
    connectedAs = connectedNow;
    return connectedNow !== undefined;
  };
  const turn = (): void => {
    cancel?.();
    if (isStopped) return;
    if (!isThere()) {
      cancel = clock.after(LOOK_AGAIN_MS, turn);
      return;
    }
    const nowMs = clock.nowMs();
    const { send, wakeAtMs } = poller.next(nowMs);
    if (send !== undefined) write(textBytes(send));
    tell();
    // looked at now and then even when nothing is due, so that a port that went away is seen
    if (Number.isFinite(wakeAtMs)) cancel = clock.after(Math.min(LOOK_AGAIN_MS, Math.max(1, wakeAtMs - nowMs)), turn);
  };
  turn();
  return {
    judge(line) {
      if (isStopped || !isThere() || poller.state === 'no-consent' || reader.read(line).kind !== 'sample') return undefined;
      const heard = poller.heard(clock.nowMs());
      turn();
      return heard === 'answer' ? undefined : heard;
    },
    stop() {
      isStopped = true;
      cancel?.();
    },
    get counts() {
      return poller.counts;
    },
    get state() {
      return poller.state;
    },
    get usualAnswerMs() {
      return poller.usualAnswerMs;
    },
  };
}

/**
 * Time that stands still until it is led on, and then goes from one due event to the next without waiting for it. The journeys lead a
 * host's time so: what takes half an hour at a burner takes seconds, and a busy computer stops the instrument and the host alike.
 */
import type { Clock } from '../shared/clock.ts';

export interface LedTime {
  readonly clock: Clock;
  /** Timers fire in order, each at its own time; what they set off is let run in between. */
  forward(ms: number): Promise<void>;
}

/** Lets everything that is due already (promises, what files and ports brought) run. */
export const letRun = async (turns: number): Promise<void> => {
  for (let turn = 0; turn < turns; turn++) await new Promise((resolve) => setImmediate(resolve));
};

/** Bytes of a port that were read, and are on their way here: a busy computer hands them over some moments later. */
const isReading = (): boolean => process.getActiveResourcesInfo().includes('FSReqCallback');
/** a read that never ends does not stop the time for ever, ms */
const READ_WITHIN_MS = 2000;

async function allIsRead(isUnderWay: () => boolean): Promise<void> {
  for (const endMs = performance.now() + READ_WITHIN_MS; isUnderWay() && performance.now() < endMs;)
    await new Promise((resolve) => setTimeout(resolve, 1));
}

/**
 * @param start.turns how often what is due gets its turn before time goes on
 * @param start.isReading true while something comes from outside that time has to wait for
 */
export function createLedTime(start: {
  nowMs: number;
  wallMs: () => number;
  zoneMinutes: () => number;
  turns: number;
  isReading?: () => boolean;
}): LedTime {
  let now = start.nowMs;
  let nextId = 1;
  const timers = new Map<number, { dueMs: number; everyMs: number | undefined; tick: () => void }>();
  const add = (ms: number, everyMs: number | undefined, tick: () => void): (() => void) => {
    const id = nextId++;
    timers.set(id, { dueMs: now + ms, everyMs, tick });
    return () => timers.delete(id);
  };
  const nextDue = (endMs: number): number | undefined => {
    let found: number | undefined;
    let foundMs = Infinity;
    for (const [id, { dueMs }] of timers) {
      if (dueMs > endMs || dueMs >= foundMs) continue;
      found = id;
      foundMs = dueMs;
    }
    return found;
  };
  return {
    clock: {
      nowMs: () => now,
      wallMs: () => start.wallMs() + (now - start.nowMs),
      zoneMinutes: () => start.zoneMinutes(),
      sleep: (ms) => new Promise((resolve) => add(ms, undefined, resolve)),
      every: (ms, tick) => add(ms, ms, tick),
      after: (ms, tick) => add(ms, undefined, tick),
    },
    async forward(ms) {
      const endMs = now + ms;
      if (start.isReading !== undefined) await allIsRead(start.isReading);
      for (;;) {
        await letRun(start.turns);
        const id = nextDue(endMs);
        const timer = id === undefined ? undefined : timers.get(id);
        if (id === undefined || timer === undefined) break;
        now = Math.max(now, timer.dueMs);
        if (timer.everyMs === undefined) timers.delete(id);
        else timer.dueMs += timer.everyMs;
        timer.tick();
      }
      now = endMs;
      await letRun(start.turns);
    },
  };
}

/** set to 1 by who starts the host with a channel to it, and leads its time */
export const LED_BY_PARENT = 'FLUESIDE_LED_CLOCK';
export type ForwardOrder = { readonly kind: 'forward'; readonly id: number; readonly ms: number };
export type ForwardDone = { readonly kind: 'forward-done'; readonly id: number };

type Parent = {
  send?: ((message: ForwardDone) => unknown) | undefined;
  on(event: 'message', listener: (message: unknown) => void): unknown;
};

/** @returns undefined where nobody leads */
export function clockLedByParent(parent: Parent, env: NodeJS.ProcessEnv, real: Clock): Clock | undefined {
  if (env[LED_BY_PARENT] !== '1' || parent.send === undefined) return undefined;
  const startWallMs = real.wallMs();
  const time = createLedTime({
    nowMs: real.nowMs(),
    wallMs: () => startWallMs,
    zoneMinutes: () => real.zoneMinutes(),
    turns: 2,
    isReading,
  });
  let last = Promise.resolve();
  parent.on('message', (message) => {
    const { kind, id, ms } = message as Partial<ForwardOrder>;
    if (kind !== 'forward' || id === undefined || ms === undefined) return;
    last = last.then(() => time.forward(ms)).then(() => void parent.send?.({ kind: 'forward-done', id }));
  });
  return time.clock;
}

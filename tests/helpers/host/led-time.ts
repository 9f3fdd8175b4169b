/**
 * The time of a host and of its instruments, led by a journey. Left alone it goes on as a clock on the wall does; `until` lets it go on as
 * fast as everybody can follow, and then nearly stands still while the journey looks and presses. In each step the instruments send
 * what they have to send, the host takes it in, and only then time goes on for it: a busy computer makes a journey slower, never different.
 */
import type { ChildProcess } from 'node:child_process';
import type { Page } from 'playwright-core';
import type { ForwardDone, ForwardOrder } from '../../../main/led-clock.ts';

/** Something outside the host that lives in the same time. */
export interface LedInstrument {
  /** does what it does up to then; resolves when the host has taken in what was sent */
  goTo(ms: number): Promise<void>;
}

export interface LedTime {
  /** since the journey began, ms */
  nowMs(): number;
  forward(ms: number): Promise<void>;
  /**
   * Lets time go on until something is so. It has to be so still when the window has had its time to show what is on its way.
   *
   * @param options.stepMs between two looks
   * @param options.mostMs of this time; then it throws
   * @param options.closely the windows show each step before the next one: for what is so for a short while only
   */
  until(what: string, isSo: () => unknown, options?: { stepMs?: number; mostMs?: number; closely?: boolean }): Promise<void>;
  /** Time stands still while somebody looks and presses, and what is on its way is shown before: what was looked at is what is pressed. */
  held<T>(work: () => Promise<T>): Promise<T>;
  /** this window has to show what is on its way before something counts as so */
  shownIn(page: Page): void;
  /** from now on this host's time is led */
  lead(host: ChildProcess): void;
  stop(): void;
}

/** longer than between two batches of a host to its windows */
const BATCH_MS = 150;
const TRICKLE_MS = 50;

/** @param parts.tickMs the longest stretch that an instrument sends at once; as long as its line takes */
export function createLedTime(parts: { instruments?: readonly LedInstrument[]; tickMs?: number } = {}): LedTime {
  const { instruments = [], tickMs = 1000 } = parts;
  let nowMs = 0;
  let host: ChildProcess | undefined;
  let nextId = 1;
  let isStopped = false;
  const pages: Page[] = [];
  const waiting = new Map<number, () => void>();
  let last: Promise<unknown> = Promise.resolve();

  const forwardHost = (ms: number): Promise<void> =>
    new Promise((resolve) => {
      const led = host;
      if (led === undefined || !led.connected) return resolve();
      const id = nextId++;
      const done = (): void => {
        waiting.delete(id);
        led.off('exit', done);
        resolve();
      };
      waiting.set(id, done);
      led.once('exit', done);
      led.send({ kind: 'forward', id, ms } satisfies ForwardOrder, (failure) => failure !== null && done());
    });
  const stepTo = async (ms: number): Promise<void> => {
    await Promise.all(instruments.map((instrument) => instrument.goTo(ms)));
    await forwardHost(ms - nowMs);
    nowMs = ms;
  };
  const forward = (ms: number): Promise<void> => {
    const next = last.then(async () => {
      const endMs = nowMs + ms;
      while (nowMs < endMs) await stepTo(instruments.length === 0 ? endMs : Math.min(endMs, (Math.floor(nowMs / tickMs) + 1) * tickMs));
    });
    last = next.catch(() => undefined);
    return next;
  };
  const rest = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
  let holders = 0;
  /** What came to the windows is drawn, however late they are. */
  const allIsDrawn = async (): Promise<void> => {
    await Promise.all(
      pages
        .filter((page) => !page.isClosed())
        .map((page) => page.evaluate((ms) => new Promise((drawn) => setTimeout(() => requestAnimationFrame(drawn), ms)), TRICKLE_MS)),
    );
  };
  /** What the host has to tell is sent, and drawn. */
  const allIsShown = async (): Promise<void> => {
    await rest(BATCH_MS);
    await forward(TRICKLE_MS);
    await allIsDrawn();
  };
  const trickle = async (): Promise<void> => {
    while (!isStopped) {
      const sinceMs = performance.now();
      await rest(TRICKLE_MS);
      await last;
      if (!isStopped && holders === 0)
        await forward(Math.min(2 * TRICKLE_MS, Math.round(performance.now() - sinceMs))).catch(() => undefined);
    }
  };
  void trickle();

  return {
    nowMs: () => nowMs,
    forward,
    async until(what, isSo, { stepMs = 2 * tickMs, mostMs = 3_600_000, closely = false } = {}) {
      const endMs = nowMs + mostMs;
      for (;;) {
        if (await isSo()) {
          await allIsShown();
          if (await isSo()) return;
        }
        if (nowMs >= endMs) throw new Error(`${what}: not so within ${mostMs / 60_000} minutes`);
        await forward(stepMs);
        if (closely) await allIsShown();
      }
    },
    async held(work) {
      holders++;
      try {
        await last;
        await rest(BATCH_MS);
        await allIsDrawn();
        return await work();
      } finally {
        holders--;
      }
    },
    shownIn: (page) => void pages.push(page),
    lead(child) {
      host = child;
      child.on('message', (message) => {
        const { kind, id } = message as Partial<ForwardDone>;
        if (kind === 'forward-done' && id !== undefined) waiting.get(id)?.();
      });
    },
    stop() {
      isStopped = true;
    },
  };
}

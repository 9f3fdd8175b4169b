/** Stopwatches outlive a reload of the window: they are kept in the tab's own store, with the time of day at which they were started. */
import { z } from 'zod';
import { safetyTests, type SafetyTestId } from '../../shared/tuning/safety-plan.ts';
import type { AppStore } from '../state/store.ts';
import type { Watch } from '../state/visit-slice.ts';

const SLOT = 'flueside-watches';
/** a watch of yesterday times nothing any more */
const LONGEST_MS = 12 * 3_600_000;
const Kept = z.object({
  visitId: z.string(),
  watches: z.record(
    z.string(),
    z.object({ startedWallMs: z.number(), startedRunMs: z.number().optional(), seconds: z.number().nonnegative().optional() }),
  ),
});

/** `originMs`: the time of day at which the page's own clock stood at zero; the page's clock itself begins anew with every load */
export type WatchPage = {
  readonly storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;
  readonly originMs: number;
  readonly nowMs: () => number;
};

export const windowPage = (): WatchPage => ({
  storage: sessionStorage,
  originMs: performance.timeOrigin,
  nowMs: () => performance.now(),
});

/** @returns a function that stops keeping */
export function keepWatches(store: AppStore, { storage, originMs, nowMs }: WatchPage): () => void {
  let isRestored = false;
  const restore = (visitId: string): void => {
    isRestored = true;
    const found = read(storage.getItem(SLOT));
    if (found === undefined || found.visitId !== visitId) return;
    for (const [test, { startedWallMs, startedRunMs, seconds }] of Object.entries(found.watches)) {
      const startedAt = startedWallMs - originMs;
      const runsMs = nowMs() - startedAt;
      // a clock that was set meanwhile would give a time that nobody measured
      if (!isTest(test) || (seconds === undefined && (runsMs < 0 || runsMs > LONGEST_MS))) continue;
      if (store.getState().watches[test] === undefined) store.getState().watchChanged(test, { startedAt, startedRunMs, seconds });
    }
  };
  const keep = (visitId: string | undefined, watches: Readonly<Partial<Record<SafetyTestId, Watch>>>): void => {
    const kept = Object.entries(watches).flatMap(([test, watch]) =>
      watch === undefined
        ? []
        : [
            [
              test,
              {
                startedWallMs: originMs + watch.startedAt,
                ...(watch.startedRunMs !== undefined && { startedRunMs: watch.startedRunMs }),
                ...(watch.seconds !== undefined && { seconds: watch.seconds }),
              },
            ] as const,
          ],
    );
    if (visitId === undefined || kept.length === 0) storage.removeItem(SLOT);
    else storage.setItem(SLOT, JSON.stringify({ visitId, watches: Object.fromEntries(kept) }));
  };
  return store.subscribe((state, before) => {
    if (!isRestored) {
      // until the visit is here again, there is nothing to keep
      if (state.visit !== undefined) restore(state.visit.id);
    } else if (state.watches !== before.watches || state.visit?.id !== before.visit?.id) keep(state.visit?.id, state.watches);
  });
}

const isTest = (id: string): id is SafetyTestId => safetyTests.some((test) => test.id === id);

function read(text: string | null): z.infer<typeof Kept> | undefined {
  if (text === null) return undefined;
  try {
    return Kept.parse(JSON.parse(text));
  } catch {
    return undefined;
  }
}

import type { AppStore } from '../state/store.ts';

/** a run may have no figure for long: an instrument that is silent */
const FIGURE_WAIT_MS = 4000;
const IDLE_WAIT_MS = 2000;

/** Moments in which the window has nothing to do; the first comes when a figure is on the screen, or when there is no run that could bring one. */
export function idleAfterFirstFigure(store: AppStore): () => Promise<void> {
  const hasShown = (): boolean => {
    const { wire, host, runs } = store.getState();
    const hasFigure = Object.values(runs).some(({ face }) => Object.values(face.states).some(({ value }) => value !== undefined));
    return wire.phase === 'open' && host !== undefined && (hasFigure || Object.keys(runs).length === 0);
  };
  let first: Promise<void> | undefined;
  const shown = (): Promise<void> =>
    (first ??= new Promise((resolve) => {
      if (hasShown()) return resolve();
      const done = (): void => {
        clearTimeout(timer);
        stop();
        resolve();
      };
      // host and runs come one after the other, in one go
      const stop = store.subscribe(() => queueMicrotask(() => hasShown() && done()));
      const timer = setTimeout(done, FIGURE_WAIT_MS);
    }));
  return async () => {
    await shown();
    await new Promise<void>((resolve) => requestIdleCallback(() => resolve(), { timeout: IDLE_WAIT_MS }));
  };
}

import type { AppStore } from '../state/store.ts';

/** a run may have no figure for long: an instrument that is silent */
const FIGURE_WAIT_MS = 4000;
const IDLE_WAIT_MS = 2000;

const DRAWN_MS = 250;

/** Resolves when what was rendered just now has been drawn; a window that is not seen draws nothing. */
export const figuresDrawn = (): Promise<void> =>
  new Promise((resolve) => {
    setTimeout(resolve, DRAWN_MS);
    requestAnimationFrame(() => requestAnimationFrame(() => resolve()));
  });

/**
 * Resolves when a figure is on the screen, or when there is no run that could bring one; at once where the air of a room is at an alarm: its visit
 * is needed to show that.
 *
 * @param atMostMs after the host's hello
 */
export function firstFigure(store: AppStore, atMostMs: number): Promise<void> {
  const isIn = (): boolean => {
    const { wire, host } = store.getState();
    return wire.phase === 'open' && host !== undefined;
  };
  const hasShown = (): boolean => {
    const { runs, alarms } = store.getState();
    if (isIn() && alarms.some(({ key }) => key === 'room-co')) return true;
    const hasFigure = Object.values(runs).some(({ face }) => Object.values(face.states).some(({ value }) => value !== undefined));
    return isIn() && (hasFigure || Object.keys(runs).length === 0);
  };
  return new Promise((resolve) => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const done = (): void => {
      clearTimeout(timer);
      stop();
      resolve();
    };
    const look = (): void => {
      if (hasShown()) return done();
      if (isIn()) timer ??= setTimeout(done, atMostMs);
    };
    // host and runs come one after the other, in one go
    const stop = store.subscribe(() => queueMicrotask(look));
    look();
  });
}

/** Moments in which the window has nothing to do; the first comes after the first figure. */
export function idleAfterFirstFigure(store: AppStore): () => Promise<void> {
  let first: Promise<void> | undefined;
  return async () => {
    await (first ??= firstFigure(store, FIGURE_WAIT_MS).then(figuresDrawn));
    await new Promise<void>((resolve) => requestIdleCallback(() => resolve(), { timeout: IDLE_WAIT_MS }));
  };
}

import type { Clock } from '../../shared/clock.ts';

export interface ShownWindow {
  once(event: 'ready-to-show', listener: () => void): unknown;
  readonly webContents: { once(event: 'did-finish-load' | 'did-fail-load', listener: () => void): unknown };
  isDestroyed(): boolean;
  show(): void;
}

export const LONGEST_HIDDEN_MS = 3000;

/**
 * Shows a window that was made hidden so that it does not flash: when it is drawn, or loaded, or could not be loaded, or after 3 s. Under some
 * Wayland compositors a hidden window is never drawn, and 'ready-to-show' never comes.
 */
export function showWhenReady(window: ShownWindow, clock: Pick<Clock, 'after'>): void {
  let isShown = false;
  const show = (): void => {
    if (isShown || window.isDestroyed()) return;
    isShown = true;
    window.show();
  };
  window.once('ready-to-show', show);
  window.webContents.once('did-finish-load', show);
  window.webContents.once('did-fail-load', show);
  clock.after(LONGEST_HIDDEN_MS, show);
}

import type { Clock } from '../../shared/clock.ts';

export type IdleEndParts = {
  readonly clock: Clock;
  readonly afterMs: number;
  readonly windows: () => number;
  readonly isCapturing: () => boolean;
  /** told when a window comes or goes: one may be open for less than a look */
  readonly onChange: (listener: () => void) => () => void;
  /** the last window has gone, and a run goes on */
  readonly onStay: () => void;
  readonly onEnd: () => void;
};

/**
 * A host without a window ends after a while, but never while a run is captured, and never before its first window: whoever prints the
 * address wants to open it.
 *
 * @returns a function that stops watching
 */
export function endWhenIdle({ clock, afterMs, windows, isCapturing, onChange, onStay, onEnd }: IdleEndParts): () => void {
  let wasOpen = false;
  let said = false;
  let idleSinceMs: number | undefined;

  const look = (): void => {
    if (windows() > 0) {
      wasOpen = true;
      said = false;
      idleSinceMs = undefined;
    } else if (wasOpen && isCapturing()) {
      idleSinceMs = undefined;
      if (!said) onStay();
      said = true;
    } else if (wasOpen) {
      idleSinceMs ??= clock.nowMs();
      if (clock.nowMs() - idleSinceMs >= afterMs) onEnd();
    }
  };
  const stops = [onChange(look), clock.every(Math.min(1000, afterMs), look)];
  return () => stops.forEach((stop) => stop());
}

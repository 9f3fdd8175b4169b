export interface PowerBlocker {
  start(type: 'prevent-app-suspension'): number;
  stop(id: number): unknown;
}

/**
 * Keeps the machine from falling asleep while a run is captured, and not a moment longer. The screen may go dark.
 *
 * @returns a function to call whenever a run may have begun or ended
 */
export function createPowerGuard(blocker: PowerBlocker, isCapturing: () => boolean): () => void {
  let id: number | undefined;
  return () => {
    if (isCapturing() && id === undefined) id = blocker.start('prevent-app-suspension');
    if (!isCapturing() && id !== undefined) {
      blocker.stop(id);
      id = undefined;
    }
  };
}

/**
 * Long work in one thread, in short pieces: the run being captured and every window get their turn between them. By time and not by count,
 * because how long an entry takes depends on the machine and on what else it does.
 *
 *     const pauses = createPauses();
 *     for await (const entry of entries) { work(entry); if (pauses.isDue()) await pauses.take(); }
 */
export interface Pauses {
  isDue(): boolean;
  take(): Promise<void>;
}

/** less than a frame of a window that redraws 60 times a second */
const PIECE_MS = 12;
/** the clock is looked at once in so many steps: a look takes about as long as reading a short line */
const STEPS_A_LOOK = 4;

export function createPauses(pieceMs = PIECE_MS): Pauses {
  let since = performance.now();
  let step = 0;
  return {
    isDue: () => ++step % STEPS_A_LOOK === 0 && performance.now() - since >= pieceMs,
    async take() {
      await new Promise<void>((resolve) => setImmediate(resolve));
      since = performance.now();
    },
  };
}

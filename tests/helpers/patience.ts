/** So long may a busy computer take for what a quiet one shows at once: only a failure waits that long. */
export const PATIENCE_MS = 90_000;

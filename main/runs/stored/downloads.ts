import { randomBytes } from 'node:crypto';

/** What a one-use download token stands for; the host serves it once. Exactly one of `text`, `bytes` and `filePath` is set. */
export type Download = {
  readonly fileName: string;
  readonly mime: string;
  readonly text?: string;
  readonly bytes?: Uint8Array;
  readonly filePath?: string;
};

/** Downloads that wait to be fetched; the oldest is forgotten first. */
export function createDownloads(onForgotten: (download: Download) => void) {
  const waiting = new Map<string, Download>();
  return {
    offer(download: Download): string {
      const token = randomBytes(24).toString('base64url');
      waiting.set(token, download);
      const [oldest] = waiting.keys();
      if (waiting.size > MOST_WAITING && oldest !== undefined) {
        const forgotten = waiting.get(oldest);
        waiting.delete(oldest);
        if (forgotten !== undefined) onForgotten(forgotten);
      }
      return token;
    },
    take(token: string): Download | undefined {
      const found = waiting.get(token);
      waiting.delete(token);
      return found;
    },
    forgetAll(): void {
      for (const download of waiting.values()) onForgotten(download);
      waiting.clear();
    },
  };
}

const MOST_WAITING = 20;

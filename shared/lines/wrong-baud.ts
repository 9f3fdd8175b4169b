import type { StampedLine } from '../measurement/line.ts';

/** Usual speeds, the commonest first (common practice). */
export const usualBauds = [9600, 19_200, 38_400, 115_200, 4800, 57_600, 2400, 1200, 300, 600, 230_400, 460_800, 921_600] as const;

export type BaudTrouble = {
  readonly isWrong: boolean;
  /** share of the bytes that no text has */
  readonly share: number;
  /** speeds to try next, on request only; some instruments act on stray characters, so nothing is sent */
  readonly candidates: readonly number[];
};

/** Text from an instrument is nearly all printable; at a wrong speed a third of the bytes and more are not. */
const WRONG_SHARE = 0.3;
const notText = /[^\u0020-\u007e\t\u001b]/;

export function unprintableShare(lines: readonly StampedLine[], baudNow?: number): BaudTrouble {
  let odd = 0;
  let all = 0;
  for (const { bytes, cutBytes } of lines.slice(0, 400)) {
    all += bytes.length;
    if (notText.test(bytes))
      for (let at = 0; at < bytes.length; at++) {
        const code = bytes.charCodeAt(at);
        if ((code < 32 && code !== 9 && code !== 27) || code > 126) odd += 1;
      }
    // A line without end is odd by itself.
    if (cutBytes !== undefined) odd += Math.min(cutBytes, 64);
  }
  const share = all === 0 ? 0 : Math.min(1, odd / all);
  return { isWrong: all >= 24 && share >= WRONG_SHARE, share, candidates: usualBauds.filter((baud) => baud !== baudNow) };
}

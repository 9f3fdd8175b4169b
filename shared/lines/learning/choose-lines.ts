/** Which lines are learned from, how their characters are encoded, and where silences part them. */
import type { StampedLine } from '../../measurement/line.ts';
import { decodeUtf8 } from '../clean-line.ts';

/** Files are read further, so that a warm-up shows how the numbers move; in bounded pieces. */
const FILE_LINES = 600;

/** Long lines of a wide table show with fewer of them what they are: so many characters in all, though never fewer than `LEAST_LONG` lines. */
const MOST_CHARACTERS = 200_000;
const LEAST_LONG = 60;

/** The first lines, and two later stretches of a long stream; of long lines the first and the last. */
export function choose(lines: readonly StampedLine[]): readonly StampedLine[] {
  const characters = lines.reduce((sum, { bytes }) => sum + bytes.length, 0);
  const most = Math.max(LEAST_LONG, Math.floor((lines.length * MOST_CHARACTERS) / Math.max(1, characters)));
  if (most < Math.min(lines.length, FILE_LINES)) {
    const last = Math.floor(most / 3);
    return [...lines.slice(0, most - last), ...lines.slice(-last)];
  }
  if (lines.length <= FILE_LINES) return lines;
  const head = lines.slice(0, 300);
  const middle = Math.floor(lines.length / 2);
  return [...head, ...lines.slice(middle, middle + 150), ...lines.slice(-150)];
}

export type Encoding = 'latin1' | 'utf8' | 'cp437';
export function findEncoding(lines: readonly StampedLine[]): Encoding {
  let high = 0;
  let valid = 0;
  let oldPc = 0;
  for (const { bytes } of lines) {
    if (!/[\u0080-\u00ff]/.test(bytes)) continue;
    high += 1;
    if (!decodeUtf8(bytes).includes('\ufffd')) valid += 1;
    if (/[\u00f8\u00fd\u00e6\u00f1]/.test(bytes)) oldPc += 1;
  }
  if (high === 0) return 'latin1';
  return valid >= high * 0.6 ? 'utf8' : oldPc >= high * 0.6 ? 'cp437' : 'latin1';
}

/** Lines that came after a silence, where lines come in bursts. */
export function gapsIn(lines: readonly { readonly timeMs: number }[]): Set<number> {
  const steps = lines.slice(1).map((line, at) => line.timeMs - (lines[at]?.timeMs ?? 0));
  const sorted = [...steps].sort((a, b) => a - b);
  const typical = sorted[Math.floor(sorted.length / 2)] ?? 0;
  const long = sorted[Math.floor(sorted.length * 0.95)] ?? 0;
  const gaps = new Set<number>();
  if (long < 3 * typical + 40) return gaps;
  const limit = (typical + long) / 2;
  for (const [at, step] of steps.entries()) if (step > limit) gaps.add(at + 1);
  return gaps;
}

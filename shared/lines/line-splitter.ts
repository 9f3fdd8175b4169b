import type { StampedLine } from '../measurement/line.ts';

export type LineSplitterOptions = {
  /** absent = CR, LF, CRLF and LFCR alike; empty lines are dropped */
  readonly terminator?: string | undefined;
  /** bytes; what is longer is cut, counted and skipped to the next terminator */
  readonly longestLine?: number | undefined;
};

export type LineSplitter = {
  /** @param timeMs when this chunk came; a line gets the time of the chunk that brought its first byte */
  push(bytes: Uint8Array, timeMs: number): StampedLine[];
  /** The rest without a terminator, if any. */
  end(): StampedLine[];
};

const CR = 13;
const LF = 10;

/** Bytes to one character per byte. Pieces, because an argument list has a limit. */
function latin1(bytes: Uint8Array, from: number, to: number): string {
  if (to - from <= 4096) return String.fromCharCode.apply(null, bytes.subarray(from, to) as unknown as number[]);
  let text = '';
  for (let at = from; at < to; at += 4096) text += latin1(bytes, at, Math.min(to, at + 4096));
  return text;
}

/**
 * Chunks to lines. Memory is bounded by the longest line, time is linear in the bytes, and the way the bytes are chunked
 * changes nothing but the times.
 */
export function createLineSplitter({ terminator, longestLine = 1024 }: LineSplitterOptions = {}): LineSplitter {
  const stop = terminator === undefined || terminator === '' ? undefined : Uint8Array.from(terminator, (c) => c.charCodeAt(0) & 255);
  // A custom terminator may straddle a chunk; its first bytes are kept with the line until they are known to be part of it.
  const room = longestLine + (stop?.length ?? 0);
  const kept = new Uint8Array(room);
  let keptLength = 0;
  let cutBytes = 0;
  let startMs = 0;

  const take = (bytes: Uint8Array, from: number, to: number, timeMs: number): void => {
    if (from >= to) return;
    if (keptLength === 0) startMs = timeMs;
    const fits = Math.min(to - from, room - keptLength);
    kept.set(bytes.subarray(from, from + fits), keptLength);
    keptLength += fits;
    cutBytes += to - from - fits;
  };

  const finish = (lines: StampedLine[]): void => {
    if (keptLength > longestLine) {
      cutBytes += keptLength - longestLine;
      keptLength = longestLine;
    }
    if (keptLength > 0) {
      const bytes = latin1(kept, 0, keptLength);
      lines.push(cutBytes > 0 ? { timeMs: startMs, bytes, cutBytes } : { timeMs: startMs, bytes });
    }
    keptLength = 0;
    cutBytes = 0;
  };

  const pushAnyEnd = (bytes: Uint8Array, timeMs: number): StampedLine[] => {
    const lines: StampedLine[] = [];
    let from = 0;
    for (let at = 0; at < bytes.length; at++) {
      const byte = bytes[at];
      if (byte !== LF && byte !== CR) continue;
      if (keptLength === 0 && cutBytes === 0 && at - from <= longestLine) {
        if (at > from) lines.push({ timeMs, bytes: latin1(bytes, from, at) });
      } else {
        take(bytes, from, at, timeMs);
        finish(lines);
      }
      from = at + 1;
    }
    take(bytes, from, bytes.length, timeMs);
    return lines;
  };

  // Matching goes byte by byte with the classic failure table, so that a terminator such as 'aab' is found after 'aaab' too.
  const failure = stop === undefined ? [] : failureTable(stop);
  let matched = 0;
  const pushCustom = (bytes: Uint8Array, timeMs: number, end: Uint8Array): StampedLine[] => {
    const lines: StampedLine[] = [];
    for (let at = 0; at < bytes.length; at++) {
      take(bytes, at, at + 1, timeMs);
      while (matched > 0 && bytes[at] !== end[matched]) matched = failure[matched - 1] ?? 0;
      if (bytes[at] === end[matched]) matched += 1;
      if (matched < end.length) continue;
      // The terminator itself is no part of the line: it sits in `kept`, or was counted as cut.
      const fromCut = Math.min(cutBytes, end.length);
      cutBytes -= fromCut;
      keptLength -= end.length - fromCut;
      matched = 0;
      finish(lines);
    }
    return lines;
  };

  return {
    push: (bytes, timeMs) => (stop === undefined ? pushAnyEnd(bytes, timeMs) : pushCustom(bytes, timeMs, stop)),
    end() {
      const lines: StampedLine[] = [];
      finish(lines);
      matched = 0;
      return lines;
    },
  };
}

function failureTable(pattern: Uint8Array): number[] {
  const table = [0];
  for (let at = 1, length = 0; at < pattern.length; at++) {
    while (length > 0 && pattern[at] !== pattern[length]) length = table[length - 1] ?? 0;
    if (pattern[at] === pattern[length]) length += 1;
    table[at] = length;
  }
  return table;
}

import type { StampedLine } from '../measurement/line.ts';

export type LineSplitterOptions = {
  /** absent = CR, LF, CRLF and LFCR alike, and what parts the lines where neither comes; empty lines are dropped */
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

/** How long a line may be while nobody knows yet how it is built. */
export const LONGEST_UNKNOWN = 16_384;

const CR = 13;
const LF = 10;
const NUL = 0;
/** Signs that end lines on instruments that send neither CR nor LF: NUL, ETX, EOT, record separator, form feed. */
const otherEnds = [0, 3, 4, 0x1e, 0x0c] as const;
/** A line of so many bytes without CR or LF is looked through for one of them. */
const LOOK_AT = 384;
const LEAST_ENDS = 4;

/** @returns the sign that parts these bytes into lines, when they are text otherwise */
function otherEnd(bytes: Uint8Array, length: number): number | undefined {
  const counts = new Map<number, number>();
  let odd = 0;
  for (let at = 0; at < length; at++) {
    const byte = bytes[at] ?? 0;
    if ((otherEnds as readonly number[]).includes(byte)) counts.set(byte, (counts.get(byte) ?? 0) + 1);
    else if ((byte < 32 && byte !== 9 && byte !== 2 && byte !== 27) || byte === 127) odd += 1;
  }
  const found = otherEnds.find((end) => (counts.get(end) ?? 0) >= LEAST_ENDS);
  return found !== undefined && odd <= length * 0.02 ? found : undefined;
}

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
  const lookAt = Math.min(LOOK_AT, longestLine);
  let keptLength = 0;
  let cutBytes = 0;
  let startMs = 0;
  // What ends lines beside CR and LF, once it is known; fill that teletypes wanted behind a line end.
  let otherwise = -1;
  let fills = 0;
  let isBehindEnd = false;

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

  /** The line so far has no CR and no LF: do other signs part it? Asked after the same count of bytes however they come. */
  const lookForOtherEnd = (lines: StampedLine[]): void => {
    const end = otherEnd(kept, keptLength);
    if (end === undefined) return;
    otherwise = end;
    const pieces = kept.slice(0, keptLength);
    const timeMs = startMs;
    keptLength = 0;
    let from = 0;
    for (let at = 0; at < pieces.length; at++) {
      if (pieces[at] !== end) continue;
      take(pieces, from, at, timeMs);
      finish(lines);
      from = at + 1;
    }
    take(pieces, from, pieces.length, timeMs);
  };

  const pushAnyEnd = (bytes: Uint8Array, timeMs: number): StampedLine[] => {
    const lines: StampedLine[] = [];
    let from = 0;
    for (let at = 0; at < bytes.length; at++) {
      const byte = bytes[at];
      if (byte !== LF && byte !== CR && byte !== otherwise) {
        if (isBehindEnd && byte === NUL) {
          // Once it may be noise in the place of a sign; from the second time on it is a habit.
          fills += 1;
          if (fills > 1) {
            from = at + 1;
            continue;
          }
        }
        isBehindEnd = false;
        if (otherwise < 0 && cutBytes === 0 && keptLength + at - from === lookAt) {
          take(bytes, from, at, timeMs);
          from = at;
          lookForOtherEnd(lines);
          at -= byte === otherwise ? 1 : 0;
        }
        continue;
      }
      isBehindEnd = true;
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
      if (stop === undefined && otherwise < 0 && cutBytes === 0) lookForOtherEnd(lines);
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

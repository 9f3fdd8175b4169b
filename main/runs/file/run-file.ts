/** Reads run files back, whole or in short, also after a crash: a torn last line is left out, damage in between is counted. */
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import type { RunChange, RunEntry, RunHeader } from '../../../shared/measurement/run.ts';
import { decodeEntry, decodeHeader } from '../../../shared/measurement/run-format.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { runsTexts } from '../../../shared/words/host.ts';

/** small enough that taking one apart is no pause for anybody */
const PIECE = 1 << 16;
/** the longest line that can be one of ours: a header with a large recipe, or a cut line of escaped bytes */
const LONGEST = 4 << 20;

export type RunFile = {
  readonly header: RunHeader;
  /** every good entry in order; what is damaged is left out and counted */
  entries(): AsyncGenerator<RunEntry>;
  /** the same piece by piece: a day of entries handed over one by one takes longer than decoding them */
  groups(from?: FilePlace): AsyncGenerator<EntryGroup>;
  /** what was changed during the run (recipe, fuel), found without decoding the lines */
  changes(): AsyncGenerator<RunChange>;
  /** lines of the file that could not be decoded, so far */
  readonly damagedLines: number;
};

/** Where reading goes on: behind a whole line, and the time that it had reached there. */
export type FilePlace = { readonly byte: number; readonly lastMs: number };
/** `share`: how much of the file has been read with this group, 0 to 1; `end`: the place behind it */
export type EntryGroup = { readonly entries: readonly RunEntry[]; readonly share: number; readonly end: FilePlace };
/** how a change is written */
const CHANGE = '\tchange\t';
const START: FilePlace = { byte: 0, lastMs: 0 };

/** The text of a file line by line, bounded whatever the file holds. The last line is given only when its end was written. */
async function* fileLines(path: string, fromByte = 0): AsyncGenerator<string> {
  for await (const { lines } of lineGroups(path, fromByte)) yield* lines;
}

/**
 * `endByte`: behind the last whole line of the group
 *
 * @param holding pieces of the file without this text are not taken apart: their lines are left out
 */
async function* lineGroups(path: string, fromByte: number, holding?: string): AsyncGenerator<{ lines: string[]; endByte: number }> {
  let rest = '';
  let readTo = fromByte;
  let isSkipping = false;
  const stream = createReadStream(path, { encoding: 'latin1', highWaterMark: PIECE, start: fromByte });
  for await (const piece of stream as AsyncIterable<string>) {
    const lines: string[] = [];
    readTo += piece.length;
    let from = 0;
    if (holding !== undefined && !isSkipping && !(rest + piece).includes(holding)) {
      from = piece.lastIndexOf('\n') + 1;
      if (from > 0) rest = '';
    }
    for (let end = piece.indexOf('\n', from); end >= 0; end = piece.indexOf('\n', from)) {
      if (!isSkipping) lines.push(rest + piece.slice(from, end));
      isSkipping = false;
      rest = '';
      from = end + 1;
    }
    rest += piece.slice(from);
    if (rest.length > LONGEST) {
      isSkipping = true;
      rest = '';
    }
    yield { lines, endByte: readTo - rest.length };
  }
}

const openProblem = (cause: unknown): Problem => {
  const { code } = cause as NodeJS.ErrnoException;
  return problem(code === 'ENOENT' ? 'file-not-found' : 'file-damaged', code ?? String(cause));
};

/** The first line alone; undefined when the file has no whole line. */
async function firstLine(path: string): Promise<string | undefined> {
  for await (const line of fileLines(path)) return line;
  return undefined;
}

/** @returns a Problem when the file is not there, foreign, newer, or has no usable header */
export async function openRunFile(path: string): Promise<Result<RunFile, Problem>> {
  let first: string | undefined;
  try {
    first = await firstLine(path);
  } catch (cause) {
    return err(openProblem(cause));
  }
  if (first === undefined) return err(problem('file-damaged', runsTexts.noHeader));
  const header = decodeHeader(first);
  if (!header.ok) return header;
  let damagedLines = 0;
  return ok({
    header: header.value,
    get damagedLines() {
      return damagedLines;
    },
    async *entries() {
      for await (const group of this.groups()) yield* group.entries;
    },
    async *groups(from = START) {
      let isHeader = from.byte === 0;
      let { lastMs } = from;
      const { size } = await stat(path);
      if (isHeader) damagedLines = 0;
      for await (const { lines, endByte } of lineGroups(path, from.byte)) {
        const decoded: RunEntry[] = [];
        for (const line of lines) {
          if (isHeader) {
            isHeader = false;
            continue;
          }
          const entry = decodeEntry(line);
          if (entry === undefined) {
            damagedLines++;
            continue;
          }
          decoded.push(entry);
        }
        const mended = mendTimes(decoded, lastMs);
        const { entries } = mended;
        ({ lastMs } = mended);
        yield { entries, share: Math.min(1, endByte / Math.max(1, size)), end: { byte: endByte, lastMs } };
      }
    },
    async *changes() {
      for await (const { lines } of lineGroups(path, 0, CHANGE)) {
        for (const line of lines) {
          if (!line.includes(CHANGE)) continue;
          const entry = decodeEntry(line);
          if (entry?.kind === 'change') yield entry.change;
        }
      }
    },
  });
}

/** A step that nobody would make between two lines of one run without a gap being written. */
const STRANGE_STEP_MS = 6 * 3_600_000;

/**
 * Times of a run never go back, so where they do, digits are damaged; the lines themselves are still good. A time that is higher than the one
 * behind it is the damaged one, as long as the one behind it fits to what was before: one damaged line must not drag all later ones along.
 *
 * @param fromMs the time that was reached before the first entry
 */
function mendTimes(decoded: readonly RunEntry[], fromMs: number): { entries: RunEntry[]; lastMs: number } {
  let lastMs = fromMs;
  const entries = decoded.map((entry, index) => {
    const next = decoded[index + 1]?.timeMs;
    let { timeMs } = entry;
    if (next !== undefined && next < timeMs && next >= lastMs) timeMs = next;
    else if (next === undefined && entry.kind !== 'gap' && timeMs - lastMs > STRANGE_STEP_MS && lastMs > 0) timeMs = lastMs;
    lastMs = Math.max(lastMs, timeMs);
    return lastMs === entry.timeMs ? entry : { ...entry, timeMs: lastMs };
  });
  return { entries, lastMs };
}

export type RunTotals = {
  durationMs: number;
  lines: number;
  ended: boolean;
  damaged: boolean;
  /** length of the part that ends with a whole line; what follows is torn */
  goodBytes: number;
  bytes: number;
};

const isLine = (kind: string): boolean => /^(?:line|cut|late|double|unasked)\t/.test(kind);

/** Runs through a file without decoding the lines, for lists. */
export async function measureRunFile(path: string): Promise<RunTotals> {
  const { size } = await stat(path);
  const totals: RunTotals = { durationMs: 0, lines: 0, ended: false, damaged: false, goodBytes: 0, bytes: size };
  let isHeader = true;
  let waitingMs: number | undefined;
  for await (const line of fileLines(path)) {
    totals.goodBytes += line.length + 1;
    if (isHeader) {
      isHeader = false;
      continue;
    }
    const tab = line.indexOf('\t');
    const timeMs = Number(line.slice(0, tab));
    if (tab < 1 || !Number.isInteger(timeMs) || timeMs < 0) {
      totals.damaged = true;
      continue;
    }
    if (waitingMs !== undefined) {
      // higher than the time behind it, which fits to what was before: the digits are damaged
      if (timeMs >= waitingMs || timeMs < totals.durationMs) totals.durationMs = Math.max(totals.durationMs, waitingMs);
      else totals.damaged = true;
    }
    waitingMs = timeMs;
    if (isLine(line.slice(tab + 1, tab + 9))) totals.lines++;
    // what is decided about a run after its end does not open it again
    if (!line.startsWith('change\t', tab + 1)) totals.ended = line.startsWith('end\t', tab + 1);
  }
  const isStrange = waitingMs !== undefined && totals.durationMs > 0 && waitingMs - totals.durationMs > STRANGE_STEP_MS;
  if (isStrange) totals.damaged = true;
  else totals.durationMs = Math.max(totals.durationMs, waitingMs ?? 0);
  return totals;
}

/** A header as it is shown in lists, without reading the rest. */
export async function readRunHeader(path: string): Promise<Result<RunHeader, Problem>> {
  const file = await openRunFile(path);
  return file.ok ? ok(file.value.header) : file;
}

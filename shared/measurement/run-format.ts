/**
 * The text of a run file: first line a JSON header, then `milliseconds TAB kind TAB payload`, one entry a line, pure ASCII.
 * Raw lines survive whatever bytes they held; a line that can't be decoded is damage and never stops the rest.
 */
import { z } from 'zod';
import { problem, type Problem } from '../problem.ts';
import { err, ok, type Result } from '../result.ts';
import { Mark, MarkEdit } from './mark.ts';
import { ClockEntry, GapEntry, RUN_FORMAT, RUN_VERSION, RunChange, RunHeader, unusedWhys, type RunEntry, type UnusedWhy } from './run.ts';
import { plainRefusal } from '../plain-refusal.ts';

/** Every byte that is not plain printable ASCII becomes an escape, so that the file stays one entry a line in any editor. */
export function escapeBytes(bytes: string): string {
  return bytes.replace(/[^\x20-\x5b\x5d-\x7e]/g, (sign) => {
    if (sign === '\\') return '\\\\';
    if (sign === '\t') return '\\t';
    return `\\x${(sign.charCodeAt(0) & 255).toString(16).padStart(2, '0')}`;
  });
}

/** @returns undefined when an escape is broken */
export function unescapeBytes(text: string): string | undefined {
  if (!text.includes('\\')) return text;
  let isBroken = false;
  const bytes = text.replace(/\\(\\|t|x[0-9a-f]{2})?/g, (_, code: string | undefined) => {
    if (code === undefined) isBroken = true;
    else if (code === '\\') return '\\';
    else if (code === 't') return '\t';
    else return String.fromCharCode(parseInt(code.slice(1), 16));
    return '';
  });
  return isBroken ? undefined : bytes;
}

/** JSON without a character outside ASCII: a file cut or copied by any tool stays readable. */
const asciiJson = (value: unknown): string =>
  JSON.stringify(value).replace(/[^\x20-\x7e]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);

/** @returns the header line with its end */
export const encodeHeader = (header: RunHeader): string => `${asciiJson(header)}\n`;

/** @returns one line with its end */
export function encodeEntry(entry: RunEntry): string {
  switch (entry.kind) {
    case 'line':
      if (entry.unused !== undefined) return `${entry.timeMs}\t${entry.unused}\t${escapeBytes(entry.bytes)}\n`;
      return entry.cutBytes === undefined
        ? `${entry.timeMs}\tline\t${escapeBytes(entry.bytes)}\n`
        : `${entry.timeMs}\tcut\t${entry.cutBytes} ${escapeBytes(entry.bytes)}\n`;
    case 'mark':
      return `${entry.timeMs}\tmark\t${asciiJson(entry.mark)}\n`;
    case 'edit':
      return `${entry.timeMs}\tedit\t${asciiJson(entry.edit)}\n`;
    case 'change':
      return `${entry.timeMs}\tchange\t${asciiJson(entry.change)}\n`;
    case 'take':
      return `${entry.timeMs}\ttake\t${asciiJson(entry.readingId)}\n`;
    case 'gap':
      return `${entry.timeMs}\tgap\t${asciiJson(entry.gap)}\n`;
    case 'clock':
      return `${entry.timeMs}\tclock\t${asciiJson(entry.clock)}\n`;
    case 'end':
      return `${entry.timeMs}\tend\t\n`;
  }
}

/**
 * Reads the first line of a file that claims to be a run.
 *
 * @returns `file-foreign`, `file-newer` or `file-damaged` when it is not one that can be used
 */
export function decodeHeader(line: string): Result<RunHeader, Problem> {
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    return err(problem(line.includes(RUN_FORMAT) ? 'file-damaged' : 'file-foreign'));
  }
  const claim = z.object({ format: z.literal(RUN_FORMAT), version: z.number() }).safeParse(value);
  if (!claim.success) return err(problem('file-foreign'));
  if (claim.data.version > RUN_VERSION) return err(problem('file-newer'));
  const header = RunHeader.safeParse(value);
  return header.success ? ok(header.data) : err(problem('file-damaged', plainRefusal(header.error).slice(0, 500)));
}

/** True when the first line of a file looks like a run's, whatever its version or state. */
export const looksLikeRun = (line: string): boolean => line.startsWith('{') && line.includes(`"${RUN_FORMAT}"`);

const schemas = { mark: Mark, edit: MarkEdit, change: RunChange, gap: GapEntry, clock: ClockEntry, take: z.string().max(200) } as const;
const isUnusedWhy = (kind: string): kind is UnusedWhy => (unusedWhys as readonly string[]).includes(kind);
const longestTimeMs = 1e12;
const MOST_DIGITS = 13;

/** The digits before `end`, read in place; undefined when something else stands there. */
function timeBefore(line: string, end: number): number | undefined {
  if (end > MOST_DIGITS) return undefined;
  let timeMs = 0;
  for (let at = 0; at < end; at++) {
    const digit = line.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9) return undefined;
    timeMs = timeMs * 10 + digit;
  }
  return timeMs > longestTimeMs ? undefined : timeMs;
}

/** @returns undefined when the line is damaged or of a kind that this version does not know */
export function decodeEntry(line: string): RunEntry | undefined {
  const first = line.indexOf('\t');
  const second = line.indexOf('\t', first + 1);
  if (first < 1 || second < 0) return undefined;
  const timeMs = timeBefore(line, first);
  if (timeMs === undefined) return undefined;
  const payload = line.slice(second + 1);
  // nearly every entry is a line: it is known without cutting its kind out
  if (second === first + 5 && line.startsWith('line', first + 1)) {
    const bytes = unescapeBytes(payload);
    return bytes === undefined ? undefined : { kind: 'line', timeMs, bytes };
  }
  const kind = line.slice(first + 1, second);
  if (isUnusedWhy(kind)) {
    const bytes = unescapeBytes(payload);
    return bytes === undefined ? undefined : { kind: 'line', timeMs, bytes, unused: kind };
  }
  if (kind === 'cut') {
    const parts = /^([1-9]\d{0,14}) (.*)$/.exec(payload);
    const bytes = unescapeBytes(parts?.[2] ?? '');
    return parts === null || bytes === undefined ? undefined : { kind: 'line', timeMs, bytes, cutBytes: Number(parts[1]) };
  }
  if (kind === 'end') return { kind, timeMs };
  if (!Object.hasOwn(schemas, kind)) return undefined;
  return decodePayload(kind as keyof typeof schemas, timeMs, payload);
}

function decodePayload(kind: keyof typeof schemas, timeMs: number, payload: string): RunEntry | undefined {
  let value: unknown;
  try {
    value = JSON.parse(payload);
  } catch {
    return undefined;
  }
  const checked = schemas[kind].safeParse(value);
  if (!checked.success) return undefined;
  const name = kind === 'take' ? 'readingId' : kind;
  return { kind, timeMs, [name]: checked.data } as RunEntry;
}

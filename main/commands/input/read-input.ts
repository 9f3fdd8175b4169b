/** What `read` is given: a plain text file, a run file, or either of them on standard input. Told apart by the first bytes. */
import { createReadStream } from 'node:fs';
import { access } from 'node:fs/promises';
import { resolve } from 'node:path';
import type { RunEntry, RunHeader } from '../../../shared/measurement/run.ts';
import { decodeEntry, decodeHeader, looksLikeRun } from '../../../shared/measurement/run-format.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import type { CommandIo } from '../command.ts';

export type ReadInput =
  | { kind: 'text'; chunks: AsyncIterable<Uint8Array> }
  | { kind: 'run'; header: RunHeader; entries: AsyncIterable<RunEntry>; damagedLines: () => number };

const PEEK = 4 << 20;

export async function openInput(name: string, io: CommandIo): Promise<Result<ReadInput, Problem>> {
  const bytes = await openBytes(name, io);
  return bytes.ok ? sort(bytes.value) : bytes;
}

/** A file by its name, or standard input for '-'. */
export async function openBytes(name: string, io: CommandIo): Promise<Result<AsyncIterable<Uint8Array>, Problem>> {
  if (name === '-') return ok(io.stdin());
  const path = resolve(io.cwd, name);
  try {
    await access(path);
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException;
    return err(problem('file-not-found', code === 'ENOENT' ? name : `${name} (${code})`));
  }
  return ok(createReadStream(path, { highWaterMark: 1 << 18 }));
}

async function sort(source: AsyncIterable<Uint8Array>): Promise<Result<ReadInput, Problem>> {
  const iterator = source[Symbol.asyncIterator]();
  const seen: Uint8Array[] = [];
  let start = '';
  try {
    for (;;) {
      const next = await iterator.next();
      if (next.done === true) break;
      seen.push(next.value);
      start += Buffer.from(next.value).toString('latin1');
      // only a run begins with a brace and its format's name; anything else is known for text at once
      if (!start.startsWith('{') || start.includes('\n') || start.length > PEEK) break;
    }
  } catch (cause) {
    return err(problem('file-damaged', (cause as NodeJS.ErrnoException).code ?? String(cause)));
  }
  const chunks = (async function* () {
    yield* seen;
    for (;;) {
      const next = await iterator.next();
      if (next.done === true) return;
      yield next.value;
    }
  })();
  const first = start.slice(0, Math.max(0, start.indexOf('\n')));
  if (!looksLikeRun(first)) return ok({ kind: 'text', chunks });
  const header = decodeHeader(first);
  if (!header.ok) return header;
  let damagedLines = 0;
  return ok({
    kind: 'run',
    header: header.value,
    damagedLines: () => damagedLines,
    entries: (async function* () {
      let rest = '';
      let isHeader = true;
      for await (const chunk of chunks) {
        const lines = (rest + Buffer.from(chunk).toString('latin1')).split('\n');
        rest = (lines.pop() as string).slice(0, PEEK);
        for (const line of lines) {
          if (isHeader) {
            isHeader = false;
            continue;
          }
          const entry = decodeEntry(line);
          if (entry === undefined) damagedLines++;
          else yield entry;
        }
      }
    })(),
  });
}

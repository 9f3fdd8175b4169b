/** A line as the line view shows it: with what became of it, in words. */
import type { LineReport } from '../../shared/ipc/run-commands.ts';
import type { LineRead } from '../../shared/lines/read-line.ts';
import type { LoggedLine } from '../../shared/pipeline/line-log.ts';

const ignoredWords: Record<Extract<LineRead, { kind: 'ignored' }>['why'], string> = {
  comment: 'A comment.',
  header: 'Names of the columns.',
  units: 'Units of the columns.',
  echo: 'An echo of a command.',
  banner: 'No values in it.',
  'first-line': 'The first line after connecting may be cut, so it is not used.',
  'other-line': 'Another kind of line.',
  late: 'An answer that came too late, so it is not used.',
  double: 'The same answer a second time, so it is not used.',
  unasked: 'Nothing was asked, so it is not used.',
};

export function lineReport({ number, line, read }: LoggedLine): LineReport {
  const { timeMs, bytes } = line;
  const base = { number, timeMs, bytes };
  if (read === undefined) return { ...base, mark: 'part', why: 'Waits for a recipe.' };
  switch (read.kind) {
    case 'sample': {
      const isAbsent = read.sample.absent !== undefined && Object.keys(read.sample.absent).length > 0;
      return { ...base, mark: isAbsent ? 'read-absent' : 'read', ...(read.spans === undefined ? {} : { spans: read.spans }) };
    }
    case 'part':
      return { ...base, mark: 'part' };
    case 'ignored':
      return { ...base, mark: 'ignored', why: ignoredWords[read.why] };
    case 'rejected':
      return { ...base, mark: 'rejected', why: read.detail };
  }
}

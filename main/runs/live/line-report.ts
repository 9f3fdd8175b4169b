/** A line as the line view shows it: with what became of it, in words. */
import type { LineReport } from '../../../shared/ipc/run-documents.ts';
import { createLineReader } from '../../../shared/lines/reading/read-line.ts';
import type { ChannelId } from '../../../shared/measurement/channel.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { AbsentReason, Sample } from '../../../shared/measurement/sample.ts';
import type { LoggedLine } from '../../../shared/pipeline/line-log.ts';
import { quantities } from '../../../shared/units/quantities.ts';
import { recipeWords } from '../../../shared/words/lines/lines.ts';
import type { LineRead } from '../../../shared/lines/reading/line-read.ts';
import { lineReportTexts } from '../../../shared/words/host.ts';
import { defined } from '../../../shared/defined.ts';

const ignoredWords: Record<Extract<LineRead, { kind: 'ignored' }>['why'], string> = {
  comment: 'A comment.',
  header: lineReportTexts.header,
  units: lineReportTexts.units,
  echo: lineReportTexts.echo,
  banner: 'No values in it.',
  'first-line': lineReportTexts.firstLine,
  'other-line': lineReportTexts.otherLine,
  late: lineReportTexts.late,
  double: lineReportTexts.double,
  unasked: lineReportTexts.unasked,
};

const absentWhy = (absent: Sample['absent'] = {}): string =>
  (Object.keys(absent) as ChannelId[])
    .map((channel) => `${quantities[channel].label} ${recipeWords.absent[absent[channel] as AbsentReason]}`)
    .join(', ');

/** The newest lines with the places of their fields, also those that came before anybody looked. */
export function linesWithPlaces(lines: readonly LoggedLine[], recipe: LineRecipe | undefined): LineReport[] {
  if (recipe === undefined) return lines.map(lineReport);
  const reader = createLineReader(recipe);
  return lines.map((logged) => {
    const read = reader.readWithSpans(logged.line);
    const isSame = read.kind === 'sample' && logged.read?.kind === 'sample' && logged.read.spans === undefined;
    return lineReport(isSame ? { ...logged, read: { ...logged.read, spans: read.spans ?? [] } as LineRead } : logged);
  });
}

export function lineReport({ number, line, read }: LoggedLine): LineReport {
  const { timeMs, bytes } = line;
  const base = { number, timeMs, bytes };
  if (read === undefined) return { ...base, mark: 'part', why: lineReportTexts.waits };
  switch (read.kind) {
    case 'sample': {
      const isAbsent = read.sample.absent !== undefined && Object.keys(read.sample.absent).length > 0;
      return {
        ...base,
        mark: isAbsent ? 'read-absent' : 'read',
        ...(isAbsent ? { why: absentWhy(read.sample.absent) } : {}),
        ...defined({ spans: read.spans }),
      };
    }
    case 'part':
      return { ...base, mark: 'part' };
    case 'ignored':
      return { ...base, mark: 'ignored', why: ignoredWords[read.why] };
    case 'rejected':
      return { ...base, mark: 'rejected', why: read.detail };
  }
}

import { makeReport } from '../../../shared/report/make-report.ts';
import type { Block, ReportModel } from '../../../shared/report/report-model.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { inputOf, smallVisit } from './small-visit.ts';

export const reportOf = (more: Partial<Visit> = {}): ReportModel => makeReport(inputOf(smallVisit(more)));
export const sectionOf = (report: ReportModel, title: string): readonly Block[] => {
  const found = report.record.find((section) => section.title.startsWith(title));
  if (found === undefined) throw new Error(`no section ${title}`);
  return found.blocks;
};
export const textOf = (value: unknown): string => JSON.stringify(value);
export const tableOf = (report: ReportModel, title: string): string[][] => {
  const table = sectionOf(report, title).find((block) => block.kind === 'table');
  if (table?.kind !== 'table') throw new Error(`no table in ${title}`);
  return table.rows.map((row) => row.map((cell) => (typeof cell === 'string' ? cell : cell.text)));
};
export const number = (text: string | undefined): number =>
  Number(
    (text ?? '')
      .replace('−', '-')
      .replace(/\u2009/g, '')
      .split(' ')[0],
  );

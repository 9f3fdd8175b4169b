import type { CsvStyle } from '../../shared/format/csv.ts';
import type { Problem } from '../../shared/problem.ts';
import { ok, type Result } from '../../shared/result.ts';
import { makeReport } from '../../shared/report/make-report.ts';
import { reportCsv } from '../../shared/report/report-csv.ts';
import { reportHtml } from '../../shared/report/report-html.ts';
import type { ReportInput } from '../../shared/report/report-input.ts';
import { reportJson } from '../../shared/report/report-json.ts';
import type { Paper } from '../../shared/report/report-style.ts';
import { reportFonts } from './fonts.ts';
import { printed, type PrintHtml } from './print.ts';

export const reportForms = ['pdf', 'html', 'csv', 'json'] as const;
export type ReportForm = (typeof reportForms)[number];
export const reportMimes: Readonly<Record<ReportForm, string>> = {
  pdf: 'application/pdf',
  html: 'text/html; charset=utf-8',
  csv: 'text/csv; charset=utf-8',
  json: 'application/json',
};

export type ReportFile = { readonly form: ReportForm; readonly fileName: string; readonly content: string | Uint8Array };
export type MakeOptions = { readonly paper: Paper; readonly csv: CsvStyle; readonly print: PrintHtml | undefined };

export const reportPage = (input: ReportInput, paper: Paper): string => reportHtml(makeReport(input), { paper, fonts: reportFonts() });

/** One form of the report. Only the PDF can fail, for want of a browser or because it did not print. */
export async function makeReportFile(
  input: ReportInput,
  form: ReportForm,
  { paper, csv, print }: MakeOptions,
): Promise<Result<ReportFile, Problem>> {
  const model = makeReport(input);
  const file = (content: string | Uint8Array): ReportFile => ({ form, fileName: `${model.fileStem}.${form}`, content });
  switch (form) {
    case 'csv':
      return ok(file(reportCsv(input, csv)));
    case 'json':
      return ok(file(reportJson(input)));
    case 'html':
      return ok(file(reportHtml(model, { paper, fonts: reportFonts() })));
    case 'pdf': {
      const pdf = await printed(print, reportHtml(model, { paper, fonts: reportFonts() }));
      return pdf.ok ? ok(file(pdf.value)) : pdf;
    }
  }
}

import type { CsvStyle } from '../../shared/format/csv.ts';
import { makeReport } from '../../shared/report/make-report.ts';
import { reportCsv } from '../../shared/report/report-csv.ts';
import { reportHtml } from '../../shared/report/report-html.tsx';
import type { ReportInput } from '../../shared/report/report-input.ts';
import { reportJson } from '../../shared/report/report-json.ts';
import type { Paper, ReportFonts } from '../../shared/report/report-style.ts';

export type TextForm = 'html' | 'csv' | 'json';
export type ReportText = { readonly fileStem: string; readonly text: string };

/** A report in one of the forms that are text; the PDF is printed from the page. */
export function reportText(
  input: ReportInput,
  form: TextForm,
  { paper, csv, fonts }: { readonly paper: Paper; readonly csv: CsvStyle; readonly fonts: ReportFonts },
): ReportText {
  const model = makeReport(input);
  const { fileStem } = model;
  switch (form) {
    case 'csv':
      return { fileStem, text: reportCsv(input, csv) };
    case 'json':
      return { fileStem, text: reportJson(input) };
    case 'html':
      return { fileStem, text: reportHtml(model, { paper, fonts }) };
  }
}

import type { CsvStyle } from '../../shared/format/csv.ts';
import type { Problem } from '../../shared/problem.ts';
import { ok, type Result } from '../../shared/result.ts';
import type { ReportInput } from '../../shared/report/report-input.ts';
import { reportFonts } from './fonts.ts';
import { printed, type PrintHtml } from './print.ts';
import type { ReportText, TextForm } from './report-text.ts';
import type { PageOptions, TextOptions } from './page-options.ts';
import { defined } from '../../shared/defined.ts';

export const reportForms = ['pdf', 'html', 'csv', 'json'] as const;
export type ReportForm = (typeof reportForms)[number];
export const reportMimes: Readonly<Record<ReportForm, string>> = {
  pdf: 'application/pdf',
  html: 'text/html; charset=utf-8',
  csv: 'text/csv; charset=utf-8',
  json: 'application/json',
};

export type ReportFile = {
  readonly form: ReportForm;
  readonly fileName: string;
  readonly content: string | Uint8Array;
  readonly note?: string;
};
export type MakeOptions = PageOptions & { readonly csv: CsvStyle; readonly print: PrintHtml | undefined };

/** One form of the report. Only the PDF can fail, for want of a browser or because it did not print. */
export const makeReportFile = (input: ReportInput, form: ReportForm, options: MakeOptions): Promise<Result<ReportFile, Problem>> =>
  makeFile(form, options, async (textForm, textOptions) => {
    const { reportText } = await import('./report-text.ts');
    return reportText(input, textForm, textOptions);
  });

/** @param textOf makes the text, here or in another thread */
export async function makeFile(
  form: ReportForm,
  { print, ...options }: MakeOptions,
  textOf: (form: TextForm, options: TextOptions) => ReportText | Promise<ReportText>,
): Promise<Result<ReportFile, Problem>> {
  const { fileStem, text } = await textOf(form === 'pdf' ? 'html' : form, { ...options, fonts: reportFonts() });
  const file = (content: string | Uint8Array): ReportFile => ({ form, fileName: `${fileStem}.${form}`, content });
  if (form !== 'pdf') return ok(file(text));
  const pdf = await printed(print, text);
  return pdf.ok ? ok({ ...file(pdf.value.pdf), ...defined({ note: pdf.value.note }) }) : pdf;
}

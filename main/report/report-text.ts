import { makeReport } from '../../shared/report/make-report.ts';
import { reportCsv } from '../../shared/report/report-csv.ts';
import { reportHtml } from '../../shared/report/pages/report-html.tsx';
import type { ReportInput } from '../../shared/report/report-input.ts';
import { reportJson } from '../../shared/report/report-json.ts';
import type { TextOptions } from './page-options.ts';

export type TextForm = 'html' | 'csv' | 'json';
export type ReportText = { readonly fileStem: string; readonly text: string };

/** A report in one of the forms that are text; the PDF is printed from the page. */
export function reportText(input: ReportInput, form: TextForm, { csv, ...pages }: TextOptions): ReportText {
  const model = makeReport(input);
  const { part, annex } = pages;
  const ending = form !== 'html' ? '' : part === 'owner' || part === 'label' ? `-${part}` : annex === true ? '-annex' : '';
  const fileStem = `${model.fileStem}${ending}`;
  switch (form) {
    case 'csv':
      return { fileStem, text: reportCsv(input, csv) };
    case 'json':
      return { fileStem, text: reportJson(input) };
    case 'html':
      return { fileStem, text: reportHtml(model, pages) };
  }
}

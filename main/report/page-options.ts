import type { Paper, ReportFonts } from '../../shared/report/pages/report-style.ts';
import type { ReportPart } from '../../shared/report/pages/report-html.tsx';
import type { CsvStyle } from '../../shared/format/csv.ts';

/** Which paper, and what of the visit is put on it. */
export type PageOptions = { readonly paper: Paper; readonly part?: ReportPart | undefined; readonly annex?: boolean | undefined };
export type TextOptions = PageOptions & { readonly csv: CsvStyle; readonly fonts: ReportFonts };

/** The pages of a visit as one file, for screen and paper: no script, nothing loaded from elsewhere. */
import type { ReactElement } from 'react';
import { BurnerLabelPage } from '../page/BurnerLabelPage.tsx';
import { ReportPages } from '../page/ReportPages.tsx';
import { pageFile } from '../page/page-file.ts';
import { usesMoreLatin } from '../other-scripts.ts';
import type { ReportModel } from '../report-model.ts';
import { labelStyle, reportStyle, type Paper, type ReportFonts } from './report-style.ts';
import { reportWords } from '../../words/paper/page-one.ts';

/** `owner`: his page by itself; `label`: the card that hangs at the burner */
export type ReportPart = 'report' | 'owner' | 'label';

export type HtmlOptions = {
  readonly paper: Paper;
  readonly fonts: ReportFonts;
  readonly part?: ReportPart | undefined;
  /** every edit and caution, after the report */
  readonly annex?: boolean | undefined;
};

export function reportHtml(model: ReportModel, { paper, fonts: given, part = 'report', annex = false }: HtmlOptions): string {
  const fonts = usesMoreLatin(JSON.stringify(model)) ? given : { ...given, sansMore: undefined, boldMore: undefined };
  const { documentTitle: title, tape, foot } = model;
  const file = (style: string, body: ReactElement): string => pageFile({ title, style, body });
  if (part === 'label') return file(labelStyle(fonts), <BurnerLabelPage label={model.label} />);
  const style = reportStyle({ paper, fonts, tape, foot, page: { page: reportWords.page, of: reportWords.of } });
  return file(style, <ReportPages model={model} onlyOwner={part === 'owner'} annex={annex} />);
}

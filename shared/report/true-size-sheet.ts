/** The two views at 1:1 on paper, with a bar that proves the printer's scale. Pure; every length is in mm of paper. */
import { frontView, sideView, type View } from '../geometry/drawing.ts';
import { isLength, itemNames } from '../geometry/items.ts';
import { escaped, pictureOf, pictureSvg } from '../geometry/picture.ts';
import { drawnFigures, geometryNow } from '../tuning/geometry-now.ts';
import { presentValue, type SetUpSheet } from '../tuning/set-up-sheet.ts';
import { cardFigureWords, geometryNames, geometryVerdictWords, lengthWords } from '../words/geometry.ts';
import { leadWords } from '../words/geometry-steps.ts';
import { trueSizeWords as words } from '../words/report.ts';
import type { Paper } from './report-style.ts';

/** 6 inches: as long as fits on either paper, and read on a rule of either unit. */
export const PROOF_BAR_MM = 152.4;
/** A printer that is off by more than this draws lengths that the parts do not have. */
export const PROOF_SHARE = 0.01;

/** @returns whether the bar, measured on paper, proves that the sheet is true to size */
export const isTrueSize = (measuredMm: number): boolean =>
  Number.isFinite(measuredMm) && Math.abs(measuredMm - PROOF_BAR_MM) <= PROOF_SHARE * PROOF_BAR_MM + 1e-9;

const proofBar = (): string => {
  const inch = 25.4;
  const blocks = [0, 2, 4].map((at) => `<rect x="${at * inch}" y="6" width="${inch}" height="4"/>`).join('');
  const inches = Array.from({ length: 49 }, (_, eighth) => {
    const x = (eighth * inch) / 8;
    return `<path d="M${x} 6v-${eighth % 8 === 0 ? 3 : 1.5}"/>${eighth % 8 === 0 ? `<text x="${x}" y="2">${eighth / 8}</text>` : ''}`;
  }).join('');
  const mm = Array.from(
    { length: 153 },
    (_, at) => `<path d="M${at} 10v${at % 10 === 0 ? 3 : 1.5}"/>${at % 10 === 0 ? `<text x="${at}" y="16.4">${at}</text>` : ''}`,
  ).join('');
  return `<svg class="proof" width="162.4mm" height="18mm" viewBox="-5 0 162.4 18" role="img" aria-label="${escaped(words.bar)}">${blocks}<rect class="frame" x="0" y="6" width="${PROOF_BAR_MM}" height="4"/>${inches}${mm}</svg>`;
};

export type TrueSize = { readonly sheet: SetUpSheet; readonly title: string; readonly about: string; readonly paper: Paper };

/** One page; 1 drawing unit is 1 mm of paper. */
export function trueSizeHtml({ sheet, title, about, paper }: TrueSize): string {
  const now = geometryNow(sheet);
  const figures = drawnFigures(now, presentValue(sheet, 'nozzleAngleDeg'));
  const figure: Parameters<typeof pictureOf>[1]['figure'] = ({ axis, from, to }) =>
    lengthWords(Math.abs(axis === 'x' ? to[0] - from[0] : to[1] - from[1]), now.unit).replace(/\u2009?(mm|in)$/, '');
  // the marks are drawn in units of 1/96 in, as on a screen, and printed at their own size
  const PX_PER_MM = 96 / 25.4;
  const draw = (view: View, label: string): string =>
    pictureSvg(
      pictureOf(view, { size: PX_PER_MM, figure, cardWord: leadWords.card, text: { plain: 12, strong: 14 } }),
      { label, unit: 'mm' },
      1 / PX_PER_MM,
    );
  const card =
    now.card === undefined ? leadWords.noCard : [now.card.name, now.card.source.edition, now.card.source.page].filter(Boolean).join(', ');
  const rows = itemNames
    .filter((item) => isLength(item) && now.items[item].nowTyped !== undefined)
    .map((item) => {
      const one = now.items[item];
      const wanted =
        one.found.state === 'given'
          ? cardFigureWords(item, one.found.figure, one.isOfCard ? (now.card?.lengthUnit ?? now.unit) : now.unit)
          : '';
      return `<tr><th scope="row">${escaped(geometryNames[item])}</th><td>${escaped(one.nowTyped ?? '')}</td><td>${escaped(wanted)}</td><td>${escaped(geometryVerdictWords(item, one.now, now.unit))}</td></tr>`;
    })
    .join('');
  const [least, most] = [PROOF_BAR_MM * (1 - PROOF_SHARE), PROOF_BAR_MM * (1 + PROOF_SHARE)];
  return [
    '<!doctype html><html lang="en"><head><meta charset="utf-8">',
    `<title>${escaped(words.title)}</title><style>`,
    `@page{size:${paper === 'a4' ? 'A4' : 'letter'};margin:12mm 14mm}*{box-sizing:border-box;margin:0}body{font:9.5pt/1.25 system-ui,sans-serif;color:#111;background:#fff;width:182mm}h1{font-size:17pt}h2{font-size:12pt;margin:2.5mm 0 .5mm}header{display:flex;justify-content:space-between;border-bottom:2px solid #111;padding-bottom:1.5mm}header p:last-child{text-align:right}`,
    'svg{display:block;overflow:hidden;flex:none}.views{display:flex;gap:3mm}.proof rect{fill:#111}.proof .frame{fill:none;stroke:#111;stroke-width:.3}.proof path{stroke:#111;stroke-width:.2}.proof text{font-size:3px;text-anchor:middle}',
    '.g-ink,.g-second,.g-edge,.g-third,.g-hair,.g-accent{fill:none;stroke:#111;stroke-linejoin:round}.g-edge,.g-third{stroke:#666}.g-hair{stroke:#aaa}.g-accent{stroke:#0a6257;stroke-width:1.2}.g-filled{fill:#fff}.g-dot{fill:#111}.g-dashed{stroke-dasharray:6 5}.g-axis{stroke-dasharray:14 4 3 4}.geometry-picture text{font-family:system-ui,sans-serif;fill:#111}',
    'table{border-collapse:collapse;width:100%}table{margin-top:2mm}th,td{text-align:left;padding:.6mm 2mm .6mm 0;border-top:1px solid #bbb;font-weight:400}tbody th{font-weight:650}footer{border-top:1px solid #666;margin-top:2mm;padding-top:1mm;font-size:8pt}',
    '</style></head><body>',
    `<header><div><h1>${escaped(words.title)}</h1><p>${escaped(about)}</p></div><p>${escaped(title)}<br>${escaped(card)}</p></header>`,
    `<h2>${escaped(words.prove)}</h2><p>${escaped(words.proveAbout)}</p>${proofBar()}<p>${escaped(words.proveLine(least.toFixed(1), most.toFixed(1)))}</p>`,
    `<h2>${escaped(words.hold)}</h2><div class="views">${draw(sideView(figures), leadWords.side)}${draw(frontView(figures), leadWords.front)}</div>`,
    rows === ''
      ? ''
      : `<table><thead><tr>${words.columns.map((column) => `<th scope="col">${escaped(column)}</th>`).join('')}</tr></thead><tbody>${rows}</tbody></table>`,
    `<footer>${escaped(words.foot)}</footer></body></html>`,
  ].join('');
}

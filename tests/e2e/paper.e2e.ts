/**
 * The printed pages in a real browser: every element's box between the margins, on both papers and in both unit systems. No cheaper test
 * shows: where a real browser puts the boxes and breaks the pages. What the paper says is in tests/shared/report.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeReport } from '../../shared/report/make-report.ts';
import { reportHtml, type ReportPart } from '../../shared/report/pages/report-html.tsx';
import { pageMargins, type Paper } from '../../shared/report/pages/report-style.ts';
import { missingLettersNote, withMissingLetters } from '../../shared/report/other-scripts.ts';
import { reportFonts } from '../../main/report/fonts.ts';
import { slimPdf } from '../../main/report/slim-pdf.ts';
import { trainingCards } from '../../shared/geometry/training-cards.ts';
import { trueSizeHtml } from '../../shared/report/true-size/true-size-html.tsx';
import { PROOF_BAR_MM } from '../../shared/report/true-size/true-size.ts';
import { reportWords } from '../../shared/words/paper/page-one.ts';
import { SetUpSheet } from '../../shared/tuning/set-up/set-up-sheet.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { hasPdfTools, pdfPages } from '../helpers/browser/preview-pages.ts';
import { pageSize, strokesOf, type Stroke } from '../helpers/browser/pdf-strokes.ts';
import { inventedVisits, type InventedVisit } from '../paper/visits.ts';

/** ISO 216 and ANSI/ASME Y14.1, in mm */
const papers = { a4: { width: 210, height: 297 }, letter: { width: 215.9, height: 279.4 } } as const;
const PX_PER_MM = 96 / 25.4;
const textWidth = (paper: Paper): number => (papers[paper].width - 2 * pageMargins.side) * PX_PER_MM;

let browser: Browser;
let page: Page;
beforeAll(async () => {
  browser = await launchChromium({ whole: true });
  page = await browser.newPage();
  await page.emulateMedia({ media: 'print' });
});
afterAll(async () => {
  await browser?.close();
});

const htmlOf = (name: InventedVisit, paper: Paper, units: 'us' | 'metric', part: ReportPart = 'report'): string =>
  reportHtml(makeReport({ ...inventedVisits[name](), units }), { paper, fonts: reportFonts(), part, annex: true });

/** Boxes that leave the text column, and things that wrap though they are one thing. */
async function faults(html: string, width: number): Promise<string[]> {
  await page.setViewportSize({ width: Math.floor(width), height: 1000 });
  await page.setContent(html);
  await page.evaluate(() => document.fonts.ready);
  return page.evaluate((most) => {
    const found: string[] = [];
    const say = (what: string, element: Element): void => {
      found.push(`${what}: ${element.tagName} ${element.className.toString()} ${element.textContent.slice(0, 60)}`);
    };
    for (const element of document.querySelectorAll('body *')) {
      const box = element.getBoundingClientRect();
      if (box.width === 0 || element.closest('defs') !== null) continue;
      // a hatch drawn past its clip is not seen; what is drawn is held by the drawing's own box
      if (element.closest('svg') !== null && element.tagName.toLowerCase() !== 'svg' && element.tagName.toLowerCase() !== 'text') continue;
      if (box.left < -0.5 || box.right > most + 0.5) say('outside', element);
      const svg = element.tagName.toLowerCase() === 'text' ? element.closest('svg')?.getBoundingClientRect() : undefined;
      if (svg !== undefined && (box.left < svg.left - 1 || box.right > svg.right + 1)) say('outside its drawing', element);
      if (element.matches('.figure') && element.getClientRects().length > 1) say('parted', element);
      const cell = element.matches('.figure') ? element.closest('td,th')?.getBoundingClientRect() : undefined;
      if (cell !== undefined && (box.left < cell.left - 1 || box.right > cell.right + 1)) say('outside its column', element);
    }
    // numbers of the air curve, as the browser sets them
    for (const drawing of document.querySelectorAll('svg.air-curve')) {
      const numbers = [...drawing.querySelectorAll('text.halo')];
      for (const [index, one] of numbers.entries())
        for (const other of numbers.slice(index + 1)) {
          const [a, b] = [one.getBoundingClientRect(), other.getBoundingClientRect()];
          // letters are lower than the box of their line
          const isOver = a.left < b.right + 2 && b.left < a.right + 2 && Math.abs(a.bottom - b.bottom) < 11;
          if (isOver) say(`over ${other.textContent}`, one);
        }
    }
    // a number, a date or a time that goes on in the next line is read as two, and a column's name is broken between its words only
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let text = texts.nextNode(); text !== null; text = texts.nextNode())
      for (const { index, 0: number } of (text.textContent ?? '').matchAll(
        text.parentElement?.closest('th[scope=col]') ? /[a-z]{2,}|\d+(?:[.:]\d+)+/g : /\d+(?:[.:]\d+)+/g,
      )) {
        const range = document.createRange();
        range.setStart(text, index);
        range.setEnd(text, index + number.length);
        const tops = [...range.getClientRects()].filter(({ width }) => width > 0).map(({ top }) => top);
        if (Math.max(...tops) - Math.min(...tops) > 2 && text.parentElement !== null) say(`${number} in two lines`, text.parentElement);
      }
    return found;
  }, width);
}

describe.each(Object.keys(inventedVisits) as InventedVisit[])('%s', (name) => {
  it.each([
    ['a4', 'metric'],
    ['a4', 'us'],
    ['letter', 'metric'],
    ['letter', 'us'],
  ] as const)('stays between the margins on %s in %s units', async (paper, units) => {
    expect(await faults(htmlOf(name, paper, units), textWidth(paper))).toEqual([]);
  });
  it('fits the card at the burner', async () => {
    const html = htmlOf(name, 'a4', 'us', 'label');
    expect(await faults(html, 90 * PX_PER_MM)).toEqual([]);
    const overflow = await page.evaluate(() => {
      // the rows have what the rest leaves: more of them would lie over the day of the next visit
      const boxes = [...document.querySelectorAll('.label,.label dl')];
      return boxes.length < 2 ? undefined : Math.max(...boxes.map((box) => box.scrollHeight - box.clientHeight));
    });
    expect(overflow).toBeLessThanOrEqual(1);
  });
});

describe('the PDF', () => {
  const pagesOf = async (name: InventedVisit, paper: Paper, units: 'us' | 'metric'): Promise<{ pages: number; bytes: number }> => {
    await page.setContent(reportHtml(makeReport({ ...inventedVisits[name](), units }), { paper, fonts: reportFonts() }));
    const pdf = await page.pdf({ preferCSSPageSize: true, tagged: true, outline: true });
    return { pages: pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0, bytes: (await slimPdf(pdf)).length };
  };
  it.each([
    ['letter', 'us'],
    ['a4', 'metric'],
  ] as const)('of a routine visit is at most 5 pages on %s, and under 400 kB', async (paper, units) => {
    const { pages, bytes } = await pagesOf('routine', paper, units);
    expect(pages).toBeGreaterThanOrEqual(4);
    expect(pages).toBeLessThanOrEqual(5);
    expect(bytes).toBeLessThan(400_000);
  });
});

describe.each(['a4', 'letter'] as const)('the signature, printed on %s', (paper) => {
  const words = (text: string): string[] => text.match(/[A-Za-z]{4,}/g) ?? [];
  it.skipIf(!hasPdfTools).each(Object.keys(inventedVisits) as InventedVisit[])(
    'of %s is on page 1 with what it signs, page 2 is the owner’s, and no page is empty',
    async (name) => {
      const report = makeReport(inventedVisits[name]());
      const html = reportHtml(report, { paper, fonts: reportFonts() });
      // as on a computer that has no font for a name
      await page.setContent(withMissingLetters(html, missingLettersNote(html, new Set())));
      const pages = pdfPages(await page.pdf({ preferCSSPageSize: true }));
      const has = (which: string[] | undefined, text: string): boolean => words(text).every((word) => which?.includes(word) === true);
      const [signed, owner] = pages;
      expect(has(signed, `${reportWords.signTechnician} ${reportWords.signDate}`), signed?.join(' ')).toBe(true);
      expect(has(owner, `${report.owner.title} ${report.owner.about}`), owner?.join(' ')).toBe(true);
      const above = report.first.notSafe === undefined ? reportWords.termsTitle : report.first.card.title;
      expect(has(signed, above), signed?.join(' ')).toBe(true);
      // what a page has beside its foot: a margin that is too high by a hair makes a page of nothing
      const foot = new Set(words(`${reportWords.foot} ${report.tape ?? ''} ${reportWords.page}`));
      expect(pages.map((one) => one.some((word) => !foot.has(word)))).toEqual(pages.map(() => true));
    },
  );
});

/** Odd figures, so that no other line of the page is as long by chance; mm. Tips close together and far apart, both kinds of arrows. */
const drawnFiguresMm = {
  electrodeGap: 3.37,
  heightAboveCentreline: 11.43,
  aheadOfNozzle: 2.81,
  tipDifference: 1.19,
  nozzleToHead: 20.57,
  offCentre: 1.73,
  headToTubeEnd: 17.29,
};

describe.each(['a4', 'letter'] as const)('the true-size sheet, printed on %s', (paper) => {
  it('is as long on the paper as its figures say, to 0.1 mm, and so is the bar that proves it', async () => {
    const sheet = SetUpSheet.parse({
      lengthUnit: 'mm',
      rows: {},
      geometry: {
        card: trainingCards[0],
        tubeEnd: 'straight',
        arrangement: 'two',
        rows: Object.fromEntries(Object.entries(drawnFiguresMm).map(([item, mm]) => [item, { asFound: String(mm) }])),
      },
    });
    await page.setContent(trueSizeHtml({ sheet, title: 'visit', about: '', paper, fonts: reportFonts() }));
    const pdf = await page.pdf({ preferCSSPageSize: true });
    const [width, height] = pageSize(pdf);
    expect(width).toBeCloseTo(papers[paper].width, 0);
    expect(height).toBeCloseTo(papers[paper].height, 0);
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    const strokes = strokesOf(pdf);
    // the arrows of a dimension are the only strokes of such parts: a line and two heads, or two lines and two heads where there is no room inside
    const shape = (parts: Stroke): string => parts.map(({ length }) => length).join(' ');
    const tips = strokes.flatMap((parts) => {
      const points = parts.flat();
      if (shape(parts) === '2 3 3') return [[parts[0]![0]!, parts[0]![1]!] as const];
      if (shape(parts) === '2 3 2 3') return [[points[1]!, points[6]!] as const];
      return [];
    });
    const lengths = tips.map(([a, b]) => Math.hypot(a[0] - b[0], a[1] - b[1]));
    // in the order in which they are drawn: from the side, then from the front
    const wanted = (
      ['heightAboveCentreline', 'aheadOfNozzle', 'nozzleToHead', 'headToTubeEnd', 'electrodeGap', 'tipDifference', 'offCentre'] as const
    ).map((item) => drawnFiguresMm[item]);
    expect(lengths).toHaveLength(wanted.length);
    wanted.forEach((mm, index) => expect(Math.abs(lengths[index]! - mm), `${mm} mm, drawn ${lengths[index]}`).toBeLessThan(0.1));
    // every arrow lies on the paper
    for (const [x, y] of tips.flat()) {
      expect(x > 0 && x < width).toBe(true);
      expect(y > 0 && y < height).toBe(true);
    }
    const bars = strokes.flatMap((parts) =>
      parts.map((points) => Math.max(...points.map(([x]) => x)) - Math.min(...points.map(([x]) => x))),
    );
    expect(Math.min(...bars.map((long) => Math.abs(long - PROOF_BAR_MM)))).toBeLessThan(0.1);
  });
});

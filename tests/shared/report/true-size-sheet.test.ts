/** The true-size sheet: what a rule shows on the paper is what the figure says. */
import { describe, expect, it } from 'vitest';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { trueSizeHtml } from '../../../shared/report/true-size/true-size-html.tsx';
import { isTrueSize, PROOF_BAR_MM } from '../../../shared/report/true-size/true-size.ts';
import { SetUpSheet } from '../../../shared/tuning/set-up/set-up-sheet.ts';

const sheet = SetUpSheet.parse({
  lengthUnit: 'inch',
  rows: {},
  geometry: {
    card: trainingCards[1],
    tubeEnd: 'straight',
    arrangement: 'two',
    rows: { heightAboveCentreline: { asFound: '7/16' }, headToTubeEnd: { asFound: '3/4' } },
  },
});

/** Drawings of the page: how many mm of paper one drawing unit is, and the marks. */
const drawings = (html: string) =>
  [
    ...html.matchAll(
      /<svg[^>]*width="([\d.]+)mm" height="([\d.]+)mm" viewBox="(-?[\d.]+) (-?[\d.]+) ([\d.]+) ([\d.]+)"[^>]*>(.*?)<\/svg>/g,
    ),
  ].map((match) => ({
    across: Number(match[1]) / Number(match[5]),
    up: Number(match[2]) / Number(match[6]),
    width: Number(match[1]),
    body: match[7] ?? '',
  }));

describe.each(['a4', 'letter'] as const)('a true-size sheet on %s', (paper) => {
  const html = trueSizeHtml({ sheet, title: 'visit', about: '', paper, fonts: { sans: undefined, mono: undefined } });
  it('asks for its own paper, and no drawing is wider than what is left between the margins', () => {
    expect(html).toContain(`size:${paper === 'a4' ? 'A4' : 'letter'}`);
    // @source ISO 216: A4 is 210 mm wide; letter 8.5 in = 215.9 mm (ANSI/ASME Y14.1); 14 mm margins
    const room = (paper === 'a4' ? 210 : 215.9) - 28;
    const [proof, side, front] = drawings(html);
    expect(proof?.width).toBeLessThan(room);
    expect((side?.width ?? 0) + (front?.width ?? 0) + 3).toBeLessThan(room);
  });
  it('draws the bar 6 inches long and every figure to 0.1 mm', () => {
    const [proof, side] = drawings(html);
    expect(proof?.across).toBeCloseTo(1, 6);
    expect(proof?.body).toContain(`width="${PROOF_BAR_MM}"`);
    expect(PROOF_BAR_MM).toBeCloseTo(6 * 25.4, 9);
    expect(side?.across).toBeCloseTo(25.4 / 96, 4);
    expect(side?.up).toBeCloseTo(25.4 / 96, 4);
    // the height's arrow: 7/16 in = 11.11 mm, 3/4 in = 19.05 mm
    const runs = [
      ...(side?.body ?? '').matchAll(/<path class="g-third" stroke-width="1.2" d="M(-?[\d.]+) (-?[\d.]+)([VH])(-?[\d.]+)/g),
    ].map((match) => Math.abs(Number(match[4]) - Number(match[3] === 'V' ? match[2] : match[1])) * (side?.across ?? 0));
    for (const wanted of [11.1125, 19.05]) expect(Math.min(...runs.map((run) => Math.abs(run - wanted)))).toBeLessThan(0.1);
  });
});

it('is refused when the printed bar is off by more than 1 %', () => {
  expect([152.4, 150.9, 153.9].map(isTrueSize)).toEqual([true, true, true]);
  expect([150.8, 154, 146.3, NaN, 0].map(isTrueSize)).toEqual([false, false, false, false, false]);
});

it('takes what was typed for text, never for markup', () => {
  const typed = SetUpSheet.parse({ lengthUnit: 'mm', rows: {}, geometry: { card: { ...trainingCards[1]!, name: '<img src=x> & "B"' } } });
  const html = trueSizeHtml({ sheet: typed, title: '<b>42</b>', about: '', paper: 'a4', fonts: { sans: undefined, mono: undefined } });
  expect(html).toContain('&lt;b&gt;42&lt;/b&gt;');
  expect(html).toContain('&lt;img src=x&gt; &amp; ');
  expect(html).not.toMatch(/<img|<b>42/);
});

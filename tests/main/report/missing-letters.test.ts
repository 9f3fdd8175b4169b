/** Letters without a font: seen in the PDF, said on the paper and to who asked for it. */
import { PDFDocument, PDFName } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { printedLetters } from '../../../main/report/missing-letters.ts';
import { makeReportFile } from '../../../main/report/make-files.ts';
import { printed } from '../../../main/report/print.ts';
import { mayLackLetters, missingLettersNote, usesMoreLatin } from '../../../shared/report/other-scripts.ts';
import { reportHtml } from '../../../shared/report/pages/report-html.tsx';
import { makeReport } from '../../../shared/report/make-report.ts';
import { inputOf, smallVisit } from '../../shared/report/small-visit.ts';

const chinese = '測試學徒';
/** @source ISO 32000-2, 9.10.3: a ToUnicode table; 9.4.3: a string of glyphs shown by Tj */
async function pdfOf(glyphs: string, letters: readonly string[]): Promise<Uint8Array> {
  const pdf = await PDFDocument.create();
  const page = pdf.addPage();
  const rows = letters.map((letter, at) => {
    const units = [...Array(letter.length).keys()].map((index) => letter.charCodeAt(index).toString(16).padStart(4, '0')).join('');
    return `<${(at + 1).toString(16).padStart(4, '0')}> <${units}>`;
  });
  const map = `begincmap ${rows.length} beginbfchar\n${rows.join('\n')}\nendbfchar endcmap`;
  const content = pdf.context.register(pdf.context.flateStream(`BT /F1 11 Tf <${glyphs}> Tj ET`));
  page.node.set(PDFName.of('Contents'), content);
  page.node.set(PDFName.of('Map'), pdf.context.register(pdf.context.flateStream(map)));
  return pdf.save();
}
const visit = smallVisit({ people: [{ role: 'technician', name: `Ж. Пример, ${chinese}` }] });

describe('letters that the printing computer has no font for', () => {
  it('are counted in the PDF, whoever made it', async () => {
    expect(await printedLetters(await pdfOf('000100000002', ['Ж', 'a']))).toEqual({ boxes: 1, letters: new Set(['Ж', 'a']) });
    // 0001 0000 and not 00 0100 00: glyphs are two bytes each
    expect((await printedLetters(await pdfOf('00100001', ['a']))).boxes).toBe(0);
  });
  it('are named by their script, those only of which no letter came out', () => {
    expect(missingLettersNote(`Ж ${chinese}`, new Set(['Ж', 'a']))).toMatch(/^Empty boxes are Chinese or Japanese letters/);
    expect(missingLettersNote('שלום Ж', new Set())).toMatch(/Cyrillic and Hebrew letters/);
    expect(missingLettersNote('\u{1f600}', new Set())).toMatch(/^Empty boxes are letters/);
  });
  it('are said on the paper, which is printed once more for it, and beside the file', async () => {
    const pages: string[] = [];
    const boxed = await pdfOf('000100000000', ['Ж']);
    const made = await makeReportFile(inputOf(visit), 'pdf', {
      paper: 'a4',
      csv: 'comma',
      print: (html) => (pages.push(html), Promise.resolve(boxed)),
    });
    expect(made.ok && made.value.note).toMatch(/^Empty boxes are Chinese or Japanese letters/);
    expect(pages).toHaveLength(2);
    expect(pages[0]).not.toContain('Empty boxes are');
    // page 1 and the owner's page
    expect(pages[1]?.match(/Empty boxes are Chinese/g)).toHaveLength(2);
  });
  it('are said on the card at the burner, too', async () => {
    const pages: string[] = [];
    const boxed = await pdfOf('000100000000', ['Ж']);
    const label = { paper: 'a4', csv: 'comma', part: 'label' } as const;
    await makeReportFile(inputOf(visit), 'pdf', { ...label, print: (html) => (pages.push(html), Promise.resolve(boxed)) });
    expect(pages[1]?.match(/Empty boxes are Chinese/g)).toHaveLength(1);
  });
  it('are no matter where every letter has a font, or none is beyond the bundled ones', async () => {
    const whole = await pdfOf('00010002', [...chinese]);
    const all = await printed(() => Promise.resolve(whole), reportHtml(makeReport(inputOf(visit)), { paper: 'a4', fonts: noFonts }));
    expect(all.ok && all.value.note).toBeUndefined();
    expect(mayLackLetters(reportHtml(makeReport(inputOf(smallVisit())), { paper: 'a4', fonts: noFonts }))).toBe(false);
    expect(mayLackLetters(chinese)).toBe(true);
  });
});

const noFonts = { sans: undefined, mono: undefined };

it('carries the font of further Latin letters only where there are such letters', () => {
  const fonts = { ...noFonts, sans: 'a.woff2', sansMore: 'more.woff2' };
  const page = (name: string): string =>
    reportHtml(makeReport(inputOf(smallVisit({ people: [{ role: 'technician', name }] }))), { paper: 'a4', fonts });
  expect(page('Żółć')).toContain('more.woff2');
  expect(page('Müller-Ñandú')).not.toContain('more.woff2');
  expect(usesMoreLatin('ế')).toBe(true);
});

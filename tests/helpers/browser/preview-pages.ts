/** The pages that a preview shows, to be held against the text of the PDF's pages. */
import { spawnSync } from 'node:child_process';
import type { Frame, Page } from 'playwright-core';

/** Words of a page, each once and in order: what does not depend on how a PDF's text is put together again. */
const wordsOf = (text: string): string[] => [...new Set(text.normalize('NFKC').match(/\p{Script=Latin}{4,}/gu))].toSorted();

/** @returns for every page its words, head and foot too */
export async function previewPages(frame: Frame | Page): Promise<string[][]> {
  const pages = await frame.evaluate(() =>
    [...document.querySelectorAll('.sheet')].flatMap((sheet) => {
      const edges = [...sheet.querySelectorAll('.page-edges')].map((one) => ({
        box: one.getBoundingClientRect(),
        text: [one instanceof HTMLElement ? one.innerText : ''],
      }));
      const texts = document.createTreeWalker(sheet.querySelector('.flow') ?? sheet, NodeFilter.SHOW_TEXT);
      for (let text = texts.nextNode(); text !== null; text = texts.nextNode())
        for (const { index, 0: word } of (text.textContent ?? '').matchAll(/\S+/g)) {
          const range = document.createRange();
          range.setStart(text, index);
          range.setEnd(text, index + word.length);
          const box = range.getClientRects()[0];
          if (box === undefined || box.width === 0) continue;
          const middle = (box.top + box.bottom) / 2;
          edges.find((page) => middle >= page.box.top && middle <= page.box.bottom)?.text.push(word);
        }
      return edges.map((page) => page.text.join(' '));
    }),
  );
  return pages.map(wordsOf);
}

export const hasPdfTools = spawnSync('pdftotext', ['-v']).status === 0;

export function pdfPages(pdf: Uint8Array): string[][] {
  const read = spawnSync('pdftotext', ['-layout', '-', '-'], { input: pdf, encoding: 'utf8', maxBuffer: 1 << 26 });
  if (read.status !== 0) throw new Error(`pdftotext: ${read.stderr}`);
  return read.stdout.split('\f').slice(0, -1).map(wordsOf);
}

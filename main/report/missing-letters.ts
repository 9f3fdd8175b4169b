/** Empty boxes in a printed page: letters for which the printing computer has no font. Seen in the PDF itself, whichever program made it. */
import { decodePDFRawStream, PDFDocument, PDFRawStream } from 'pdf-lib';

export type PrintedLetters = {
  /** places where a font drew its glyph 0, which is the empty box */
  readonly boxes: number;
  /** what the file's own tables say was drawn */
  readonly letters: ReadonlySet<string>;
};

/**
 * @source ISO 32000-2, 9.7.4.2 (glyph 0 stands for what a font lacks) and 9.10.3 (ToUnicode: bfchar and bfrange)
 * @throws on bytes that are no PDF
 */
export async function printedLetters(pdf: Uint8Array): Promise<PrintedLetters> {
  const read = await PDFDocument.load(pdf, { updateMetadata: false });
  const letters = new Set<string>();
  let boxes = 0;
  for (const [, object] of read.context.enumerateIndirectObjects()) {
    if (!(object instanceof PDFRawStream)) continue;
    const text = textOf(object);
    if (text === undefined) continue;
    if (text.includes('begincmap')) for (const letter of mapped(text)) letters.add(letter);
    else if (/\bT[jJ]\b/.test(text)) boxes += boxesIn(text);
  }
  return { boxes, letters };
}

/** @returns undefined for pictures and fonts, which are no text */
function textOf(stream: PDFRawStream): string | undefined {
  try {
    return Buffer.from(decodePDFRawStream(stream).decode()).toString('latin1');
  } catch {
    return undefined;
  }
}

/** Strings of two bytes for each glyph. */
const boxesIn = (content: string): number =>
  [...content.matchAll(/<([0-9A-Fa-f]+)>/g)].reduce(
    (sum, [, glyphs = '']) => sum + (glyphs.length % 4 === 0 ? (glyphs.match(/.{4}/g) ?? []).filter((one) => one === '0000').length : 0),
    0,
  );

const fromUtf16 = (hex: string): string =>
  String.fromCharCode(...(hex.match(/.{4}/g) ?? []).map((unit) => Number.parseInt(unit, 16))).normalize('NFKC');

function* mapped(map: string): Generator<string> {
  for (const [, rows = ''] of map.matchAll(/beginbfchar([\s\S]*?)endbfchar/g))
    for (const [, , letter = ''] of rows.matchAll(/<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>/g)) yield fromUtf16(letter);
  for (const [, rows = ''] of map.matchAll(/beginbfrange([\s\S]*?)endbfrange/g))
    for (const [, low = '', high = '', first = ''] of rows.matchAll(/<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]{4})>/g)) {
      const [from, to, letter] = [low, high, first].map((hex) => Number.parseInt(hex, 16)) as [number, number, number];
      for (let at = 0; at <= Math.min(to - from, 0xff); at += 1) yield String.fromCharCode(letter + at).normalize('NFKC');
    }
}

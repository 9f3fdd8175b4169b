/** Letters that the bundled fonts do not have: whose they are, in words. Pure. */
import { missingLetters as words } from '../words/paper/missing-letters.ts';

const scripts = [
  ['greek', /\p{Script=Greek}/u],
  ['cyrillic', /\p{Script=Cyrillic}/u],
  ['eastAsian', /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}]/u],
  ['korean', /\p{Script=Hangul}/u],
  ['arabic', /\p{Script=Arabic}/u],
  ['hebrew', /\p{Script=Hebrew}/u],
  ['thai', /\p{Script=Thai}/u],
  ['indic', /[\p{Script=Devanagari}\p{Script=Bengali}\p{Script=Tamil}\p{Script=Telugu}\p{Script=Gujarati}\p{Script=Gurmukhi}]/u],
] as const satisfies readonly (readonly [keyof typeof words.scripts, RegExp])[];

/** Letters of Latin with marks that stand in a further font file (Ż, ł, ő, ế). */
export const usesMoreLatin = (text: string): boolean => /[\u0100-\u024f\u1e00-\u1eff]/.test(text);

/** May this text hold letters that no bundled font has? A page without any is not looked at again. */
export const mayLackLetters = (html: string): boolean => /[\u0370-\u1dff\u2c00-\u{10ffff}]/u.test(html);

/**
 * The sentence for a page with empty boxes.
 *
 * @param printed the letters that did come out; scripts of which none did are named
 */
export function missingLettersNote(html: string, printed: ReadonlySet<string>): string {
  const there = scripts.filter(([, pattern]) => pattern.test(html));
  const lost = there.filter(([, pattern]) => ![...printed].some((letter) => pattern.test(letter)));
  return words.note((lost.length > 0 ? lost : there).map(([name]) => words.scripts[name]));
}

/** Where that sentence is put, at the head of the first pages; hidden while all letters are there. */
export const MISSING_LETTERS_CLASS = 'missing-letters';
const place = `<p class="${MISSING_LETTERS_CLASS}" hidden=""></p>`;

/** @param note plain words of ours, without signs of markup */
export const withMissingLetters = (html: string, note: string): string =>
  html.replaceAll(place, `<p class="${MISSING_LETTERS_CLASS}">${note}</p>`);

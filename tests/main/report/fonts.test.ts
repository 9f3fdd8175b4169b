import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, it } from 'vitest';
import { reportFonts } from '../../../main/report/fonts.ts';

const fileOf = createRequire(import.meta.url).resolve;
const NEXT = '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next';
const MONO = '@fontsource/atkinson-hyperlegible-mono/files/atkinson-hyperlegible-mono';

/** One weight each, upright: another one would be taken without a word, and the page would look as if it were set so. */
it.each([
  ['sans', `${NEXT}-latin-400-normal.woff2`],
  ['bold', `${NEXT}-latin-700-normal.woff2`],
  ['mono', `${MONO}-latin-400-normal.woff2`],
  ['sansMore', `${NEXT}-latin-ext-400-normal.woff2`],
  ['boldMore', `${NEXT}-latin-ext-700-normal.woff2`],
] as const)('paper is set in the letters that are meant for it: %s', (which, name) => {
  const address = reportFonts()[which] ?? '';
  expect(address).toMatch(/^data:font\/woff2;base64,/);
  const found = Buffer.from(address.slice(address.indexOf(',') + 1), 'base64');
  expect(found.subarray(0, 4).toString('latin1')).toBe('wOF2');
  expect(found.equals(readFileSync(fileOf(name)))).toBe(true);
});

/** The bundled fonts as data addresses, so that a report brings its letters with it wherever it is opened. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { ReportFonts } from '../../shared/report/pages/report-style.ts';

const here = dirname(fileURLToPath(import.meta.url));
/** Two weights of their own, not the window's variable font: a PDF takes only the letters that it needs of such a font. */
const names = {
  sans: 'atkinson-hyperlegible-next-latin-400-normal',
  bold: 'atkinson-hyperlegible-next-latin-700-normal',
  mono: 'atkinson-hyperlegible-mono-latin-400-normal',
  sansMore: 'atkinson-hyperlegible-next-latin-ext-400-normal',
  boldMore: 'atkinson-hyperlegible-next-latin-ext-700-normal',
};
const packages = {
  sans: 'atkinson-hyperlegible-next',
  bold: 'atkinson-hyperlegible-next',
  mono: 'atkinson-hyperlegible-mono',
  sansMore: 'atkinson-hyperlegible-next',
  boldMore: 'atkinson-hyperlegible-next',
};

/** Beside the built window, or in the packages when the window was not built; from a source file or from a bundle, a folder or two up. */
function foldersOf(which: keyof typeof names): string[] {
  const roots = ['.', '..', '../..', '../../..', '../../../..'].map((up) => join(here, up));
  return roots.flatMap((root) => [
    join(root, 'renderer', 'assets'),
    join(root, 'dist', 'renderer', 'assets'),
    join(root, 'node_modules', '@fontsource', packages[which], 'files'),
  ]);
}

function find(which: keyof typeof names): string | undefined {
  for (const folder of foldersOf(which)) {
    try {
      const name = readdirSync(folder).find((file) => file.startsWith(names[which]) && file.endsWith('.woff2'));
      if (name !== undefined) return `data:font/woff2;base64,${readFileSync(join(folder, name)).toString('base64')}`;
    } catch {
      // not here
    }
  }
  return undefined;
}

let known: ReportFonts | undefined;
/** @returns undefined addresses where no font file is found: the report is then set in the system's own */
export const reportFonts = (): ReportFonts =>
  (known ??= {
    sans: find('sans'),
    bold: find('bold'),
    mono: find('mono'),
    sansMore: find('sansMore'),
    boldMore: find('boldMore'),
  });

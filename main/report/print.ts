/** Prints a report's page through an installed Chromium without a window. Decides nothing about what stands on it. */
import { spawn } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { quietFlags, rootFlags } from '../browser/browser-flags.ts';
import { isSnap } from '../browser/find-browser.ts';
import { installedBrowser } from '../browser/open-window.ts';
import { mayLackLetters, missingLettersNote, withMissingLetters } from '../../shared/report/other-scripts.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { reportTexts } from '../../shared/words/host.ts';

/** Fulfilled by the desktop shell's own printer and by the found browser alike. @throws when nothing came out */
export type PrintHtml = (html: string) => Promise<Uint8Array>;

const PATIENCE_MS = 60_000;

/** Tagged (the default of this Chromium) and with an outline from the headings; paper and margins come from the page's own style. */
export const printFlags = ({
  target,
  address,
  profile,
  asRoot,
}: {
  target: string;
  address: string;
  profile: string;
  asRoot: boolean;
}): readonly string[] => [
  '--headless',
  ...quietFlags,
  '--disable-gpu',
  '--no-pdf-header-footer',
  '--generate-pdf-document-outline',
  '--export-tagged-pdf',
  `--user-data-dir=${profile}`,
  `--print-to-pdf=${target}`,
  ...(asRoot ? rootFlags : []),
  address,
];

/** @returns undefined when no browser of the Chromium family is installed */
export function browserPrinter(browser: string | undefined = installedBrowser()): PrintHtml | undefined {
  if (browser === undefined) return undefined;
  return async (html) => {
    // a browser packed as a snap may not read the system's temporary folder
    const base = isSnap(browser) ? join(homedir(), 'snap', 'chromium', 'common') : tmpdir();
    const folder = await mkdtemp(join(base, 'flueside-print-'));
    try {
      const page = join(folder, 'report.html');
      const target = join(folder, 'report.pdf');
      await writeFile(page, html, { mode: 0o600 });
      const flags = printFlags({
        target,
        address: pathToFileURL(page).href,
        profile: join(folder, 'profile'),
        asRoot: process.getuid?.() === 0,
      });
      await runToEnd(browser, flags);
      return await readFile(target);
    } finally {
      await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 }).catch(() => undefined);
    }
  };
}

function runToEnd(program: string, flags: readonly string[]): Promise<void> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, flags, { stdio: ['ignore', 'ignore', 'ignore'] });
    const timer = setTimeout(() => child.kill('SIGKILL'), PATIENCE_MS);
    child.once('error', (error) => {
      clearTimeout(timer);
      reject(error);
    });
    child.once('exit', (code, signal) => {
      clearTimeout(timer);
      if (code === 0) resolve();
      else reject(new Error(signal === null ? `the browser ended with ${code}` : 'the browser took too long'));
    });
  });
}

const isPdf = (pdf: Uint8Array): boolean => pdf.length > 5 && Buffer.from(pdf.subarray(0, 5)).toString('latin1') === '%PDF-';

/** Only a page with letters beyond the bundled fonts is looked at. */
async function missingNote(pdf: Uint8Array, html: string): Promise<string | undefined> {
  if (!mayLackLetters(html)) return undefined;
  const { printedLetters } = await import('./missing-letters.ts');
  const { boxes, letters } = await printedLetters(pdf);
  return boxes === 0 ? undefined : missingLettersNote(html, letters);
}

/** @param note what a person has to know about this PDF: letters that are empty boxes in it */
export type Printed = { readonly pdf: Uint8Array; readonly note?: string };

/** @returns the PDF, or in plain words why there is none: a report is never lost for want of a printer */
export async function printed(print: PrintHtml | undefined, html: string): Promise<Result<Printed, Problem>> {
  if (print === undefined) return err(problem('no-printer'));
  try {
    // a megabyte of program that most days are without: not read at every start
    const { slimPdf } = await import('./slim-pdf.ts');
    const pdf = await print(html);
    if (!isPdf(pdf)) return err(problem('print-failed', reportTexts.noPdf));
    const note = await missingNote(pdf, html);
    if (note === undefined) return ok({ pdf: await slimPdf(pdf) });
    // the page says it itself: whoever reads the paper was not there when it was printed
    const again = await print(withMissingLetters(html, note));
    return ok({ pdf: await slimPdf(isPdf(again) ? again : pdf), note });
  } catch (failure) {
    return err(problem('print-failed', failure instanceof Error ? failure.message : String(failure)));
  }
}

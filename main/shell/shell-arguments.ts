import { extname, resolve } from 'node:path';
import { z } from 'zod';
import { Role } from '../../shared/ipc/session-commands.ts';
import { desktop } from '../../shared/words/desktop.ts';
import { RUN_FILE_ENDING } from '../runs/file/run-path.ts';
import { defined } from '../../shared/defined.ts';

export const RECIPE_FILE_ENDING = '.flueside-recipe';

/** `npm start` puts this before our own options: everything behind it is ours, so a misspelt option can be refused. */
export const OWN_OPTIONS_FOLLOW = '--own-options-follow';

export type ShellArguments = {
  readonly options: readonly string[];
  readonly files: readonly string[];
  /** what follows `--cli`: a command of the command line, and no window */
  readonly command?: readonly string[];
  /** in words: an option that we do not have, or that only the browser window has */
  readonly refused?: string;
};

const withValue = ['--data', '--source', '--speed', '--as'];
const alone = ['--simulated'];
/** Options of the browser window. The desktop app has neither a port nor a time that it waits without a window. */
const browserOnly = ['--port', '--linger', '--no-open', '--why'];
const ours = [...withValue, ...alone];

/**
 * Sorts what the shell was started with: Electron and Chromium put their own words in between, and the system adds the file that was
 * double-clicked.
 *
 * @param isPackaged false when Electron was given the app's folder, as `npm start` does
 */
export function readShellArguments(argv: readonly string[], isPackaged: boolean): ShellArguments {
  const marker = argv.indexOf(OWN_OPTIONS_FOLLOW);
  const words = marker >= 0 ? argv.slice(marker + 1) : argv.slice(isPackaged ? 1 : appFolderAt(argv) + 1);
  const cli = words.indexOf('--cli');
  if (cli >= 0) return { options: [], files: [], command: words.slice(cli + 1) };
  const options: string[] = [];
  const files: string[] = [];
  let refused: string | undefined;
  for (let at = 0; at < words.length; at += 1) {
    const word = words[at] ?? '';
    const name = word.split('=')[0] ?? word;
    if (withValue.includes(word)) {
      const value = words[(at += 1)];
      if (value === undefined) refused ??= desktop.missingValue(word);
      else options.push(word, value);
    } else if (alone.includes(word) || (withValue.includes(name) && word.includes('='))) options.push(word);
    else if (browserOnly.includes(name)) refused ??= desktop.browserOnly(name);
    else if (word.startsWith('-')) refused ??= refusal(name, marker >= 0);
    else if (isOwnFile(word)) files.push(word);
    else if (marker >= 0) refused ??= desktop.unknownOption(word, undefined);
  }
  return { options, files, ...defined({ refused }) };
}

/** Electron takes the first word without a dash as the app's folder; its own switches may come before. */
function appFolderAt(argv: readonly string[]): number {
  const at = argv.findIndex((word, index) => index > 0 && !word.startsWith('-'));
  return at < 0 ? argv.length : at;
}

/** Chromium has some thousand switches of its own. Without the marker only what looks like one of ours is called misspelt. */
function refusal(name: string, isOurs: boolean): string | undefined {
  const near = [...ours, ...browserOnly].find((own) => differences(own, name) <= 2);
  return isOurs || near !== undefined ? desktop.unknownOption(name, near) : undefined;
}

/** Letters to put in, take out or change, so that one word becomes the other (Levenshtein distance). */
function differences(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1)
      next[j] = Math.min((row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1, (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1));
    row = next;
  }
  return row[b.length] ?? 0;
}

export const isOwnFile = (path: string): boolean => [RUN_FILE_ENDING, RECIPE_FILE_ENDING].includes(extname(path).toLowerCase());

/** What a second start hands to the first. Chromium sorts the words of a second start anew, so they are not read from there. */
const SecondStart = z.object({ files: z.array(z.string()), role: Role.optional() });
export type SecondStart = z.infer<typeof SecondStart>;

/** Files become absolute here: the first start has another working directory. */
export const secondStart = (files: readonly string[], role: Role | undefined, folder: string): SecondStart => ({
  files: files.map((file) => resolve(folder, file)),
  ...defined({ role }),
});

export function readSecondStart(handedOver: unknown): SecondStart {
  const read = SecondStart.safeParse(handedOver);
  return read.success ? { ...read.data, files: read.data.files.filter(isOwnFile) } : { files: [] };
}

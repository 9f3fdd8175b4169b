import { extname } from 'node:path';
import { RUN_FILE_ENDING } from '../runs/run-path.ts';

export const RECIPE_FILE_ENDING = '.flueside-recipe';

export type ShellArguments = {
  readonly options: readonly string[];
  readonly files: readonly string[];
  /** what follows `--cli`: a command of the command line, and no window */
  readonly command?: readonly string[];
};

/** Our own options with a value; everything else that begins with a dash is Chromium's business and is left alone. */
const withValue = new Set(['--data', '--source', '--speed']);
const alone = new Set(['--simulated']);

/**
 * Sorts what the shell was started with: Electron and Chromium put their own words in between, and the system adds the file that was
 * double-clicked.
 *
 * @param isPackaged false when Electron was given the app's folder, as `npm start` does
 */
export function readShellArguments(argv: readonly string[], isPackaged: boolean): ShellArguments {
  const words = argv.slice(isPackaged ? 1 : 2);
  const cli = words.indexOf('--cli');
  if (cli >= 0) return { options: [], files: [], command: words.slice(cli + 1) };
  const options: string[] = [];
  const files: string[] = [];
  for (let at = 0; at < words.length; at += 1) {
    const word = words[at] ?? '';
    const name = word.split('=')[0] ?? word;
    if (withValue.has(word)) options.push(word, words[(at += 1)] ?? '');
    else if (alone.has(word) || (withValue.has(name) && word.includes('='))) options.push(word);
    else if (!word.startsWith('-') && isOwnFile(word)) files.push(word);
  }
  return { options, files };
}

export const isOwnFile = (path: string): boolean => [RUN_FILE_ENDING, RECIPE_FILE_ENDING].includes(extname(path).toLowerCase());

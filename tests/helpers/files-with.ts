import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** Files below a folder that hold one of the words, in any case: `name: word`. */
export function filesWith(folder: string, words: readonly string[]): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return filesWith(path, words);
    const text = readFileSync(path, 'latin1').toLowerCase();
    return words.filter((word) => text.includes(word)).map((word) => `${name}: ${word}`);
  });
}

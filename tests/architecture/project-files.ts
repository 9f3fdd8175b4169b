/** The files of the project, and what they import. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize, sep } from 'node:path';
import ts from 'typescript';

export const root = join(import.meta.dirname, '..', '..');
export const read = (path: string): string => readFileSync(join(root, path), 'utf8');
export function filesBelow(folder: string, endings: RegExp): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return entry.name === 'node_modules' || entry.name === 'dist' ? [] : filesBelow(path, endings);
    return endings.test(entry.name) ? [path] : [];
  });
}
/** Relative imports as paths from the root, packages as they are written. */
export function importsOf(path: string): string[] {
  const { importedFiles } = ts.preProcessFile(read(path), true, true);
  return importedFiles.map(({ fileName }) =>
    fileName.startsWith('.')
      ? normalize(join(dirname(path), fileName))
          .split(sep)
          .join('/')
      : fileName,
  );
}
export const code = ['shared', 'main', 'renderer', 'tests'].flatMap((folder) => filesBelow(folder, /\.tsx?$/));
export const inFolder = (folder: string): string[] => code.filter((path) => path.startsWith(`${folder}/`));
/** `words/core` holds sentences that rooms of the core hand on; it knows no room but what is measured. */
export const base = 'shared/((result|defined|problem|problem-schema|zod-setup|clock|wall-clock|plain-refusal)\\.ts$|words/core/)';
export const upTo = (...folders: string[]): RegExp => new RegExp(`^(${[base, ...folders.map((folder) => `shared/${folder}/`)].join('|')})`);

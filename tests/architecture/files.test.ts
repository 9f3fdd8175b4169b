/** What is true of every folder and every file. */
import { existsSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { root, read, filesBelow, importsOf, code } from './project-files.ts';

/** Groups of names that lead back to themselves (Tarjan), each sorted. */
function circlesOf(graph: ReadonlyMap<string, readonly string[]>): string[][] {
  const [index, low, path, onPath] = [new Map<string, number>(), new Map<string, number>(), [] as string[], new Set<string>()];
  const circles: string[][] = [];
  const lowOf = (name: string): number => low.get(name) ?? Infinity;
  const visit = (name: string): void => {
    index.set(name, index.size);
    low.set(name, index.size - 1);
    path.push(name);
    onPath.add(name);
    for (const next of graph.get(name) ?? []) {
      if (!index.has(next)) visit(next);
      if (onPath.has(next)) low.set(name, Math.min(lowOf(name), lowOf(next)));
    }
    if (lowOf(name) !== index.get(name)) return;
    const group = path.splice(path.indexOf(name));
    for (const one of group) onPath.delete(one);
    if (group.length > 1) circles.push(group.sort());
  };
  for (const name of graph.keys()) if (!index.has(name)) visit(name);
  return circles;
}

/** More than twenty files in one list, and why. */
const fullFolders: Readonly<Record<string, string>> = {
  'tests/laws': 'the laws in the order of their numbers',
  'tests/shared/lines/field': 'files from the field, one kind of thing',
};

describe('every folder', () => {
  it('can be looked over: at most twenty files in one list, sheets and notes counted', () => {
    const count = new Map<string, number>();
    // what the type check leaves beside the sources is none of ours
    for (const path of ['main', 'renderer', 'shared', 'tests'].flatMap((folder) => filesBelow(folder, /(?<!\.tsbuildinfo)$/)))
      count.set(dirname(path), (count.get(dirname(path)) ?? 0) + 1);
    const full = [...count].filter(([, files]) => files > 20).map(([folder]) => folder);
    expect(full.filter((folder) => fullFolders[folder] === undefined)).toEqual([]);
    expect(Object.keys(fullFolders).filter((folder) => !full.includes(folder))).toEqual([]);
    expect(count.size).toBeGreaterThan(100);
  });
});

/** Longer than 300 lines, and why. */
const longOnes: Readonly<Record<string, string>> = {
  'shared/settling/bank/bank.ts': 'one bank of filters, read from top to bottom',
  'shared/settling/channel-tracker.ts': 'one state machine, read from top to bottom',
  'shared/settling/settling.ts': 'one state machine, read from top to bottom',
  'tests/e2e/records.e2e.ts': 'one story',
  'tests/e2e/visit/signed-visit.e2e.ts': 'one story',
};

describe('every file', () => {
  it('fits on a few screens: at most 300 lines', () => {
    const long = code.filter((path) => read(path).split('\n').length > 301);
    expect(long.filter((path) => longOnes[path] === undefined)).toEqual([]);
    expect(Object.keys(longOnes).filter((path) => !code.includes(path))).toEqual([]);
  });

  it('imports with its ending, so that what runs is what is written', () => {
    const wrong = code.flatMap((path) =>
      ts
        .preProcessFile(read(path), true, true)
        .importedFiles.filter(({ fileName }) => fileName.startsWith('.') && !/\.\w+(\?\w+)?$/.test(fileName))
        .map(({ fileName }) => `${path}: ${fileName}`),
    );
    expect(wrong).toEqual([]);
  });

  it('names no folder of the machine that it was written on', () => {
    // put together here, so that this file does not find itself
    const places = ['work', 'root', 'tmp'].map((name) => `/${name}/`).join('|');
    const machine = new RegExp(`(?<![\\w.~}-])(${places})`);
    const documents = ['README.md', 'DEVELOPERS.md', 'package.json', 'package-lock.json'].filter((path) =>
      readdirSync(root).includes(path),
    );
    const all = [
      ...code,
      ...['main', 'shared', 'tests'].flatMap((folder) => filesBelow(folder, /\.(mjs|md|json|yml|py|cmd|html|css)$/)),
      ...documents,
    ];
    expect(all.filter((path) => machine.test(read(path)))).toEqual([]);
  });

  it('stands in no circle: of two files at most one imports the other, also by way of others', () => {
    const known = new Set(code);
    const circles = circlesOf(new Map(code.map((path) => [path, importsOf(path).filter((target) => known.has(target))])));
    expect(circles).toEqual([]);
    expect(
      circlesOf(
        new Map([
          ['a', ['b']],
          ['b', ['c']],
          ['c', ['b']],
        ]),
      ),
    ).toEqual([['b', 'c']]);
  });

  it('hands nothing on that another file makes: a name is imported from where it is', () => {
    const handsOn = (path: string): boolean =>
      ts
        .createSourceFile(path, read(path), ts.ScriptTarget.Latest)
        .statements.some((statement) => ts.isExportDeclaration(statement) && statement.moduleSpecifier !== undefined);
    expect(code.filter(handsOn)).toEqual([]);
  });

  it('that DEVELOPERS.md names is there, and the page is short enough to be read', () => {
    const page = read('DEVELOPERS.md');
    const named = [...page.matchAll(/`([^`\n]+)`/g)].map(([, name = '']) => name);
    const paths = named.filter((name) => /^(shared|main|renderer|tests)\/[\w./-]*$/.test(name));
    const files = named.filter((name) => /^[\w-]+\.tsx?$/.test(name));
    expect([paths.length > 30, files.length > 5]).toEqual([true, true]);
    expect(paths.filter((path) => !existsSync(join(root, path)))).toEqual([]);
    expect(files.filter((name) => !code.some((path) => path.endsWith(`/${name}`)))).toEqual([]);
    expect(Buffer.byteLength(page)).toBeLessThanOrEqual(8192);
  });

  it('keeps the lockfile free of addresses', () => {
    expect(read('package-lock.json')).not.toMatch(/"resolved":\s*"https?:/);
  });
});

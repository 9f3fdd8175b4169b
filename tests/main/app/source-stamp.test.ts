/** The app is built anew when its sources changed, and never in the middle of its work for what a tool left beside them. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, expect, it } from 'vitest';

let folder = '';
afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function stamps() {
  const scripts = pathToFileURL(resolve('main', 'scripts', 'build-output.mjs')).href;
  const { sourceStamp } = (await import(/* @vite-ignore */ scripts)) as { sourceStamp: (folders: string[], under: string) => string };
  folder = mkdtempSync(join(tmpdir(), 'flueside-stamp-'));
  mkdirSync(join(folder, 'renderer', 'views'), { recursive: true });
  writeFileSync(join(folder, 'renderer', 'views', 'a.ts'), 'one');
  return {
    write: (name: string, text: string) => writeFileSync(join(folder, 'renderer', name), text),
    stamp: () => sourceStamp(['renderer'], folder),
  };
}

it.each(['tsconfig.tsbuildinfo', 'vite.config.ts.timestamp-1790000000000-1a2b.mjs'])(
  '%s beside the sources changes nothing',
  async (name) => {
    const { write, stamp } = await stamps();
    const before = stamp();
    write(name, 'left by a tool');
    expect(stamp()).toBe(before);
  },
);

it.each([
  ['a source that changed', 'views/a.ts'],
  ['a new source', 'views/b.css'],
])('%s does', async (_what, name) => {
  const { write, stamp } = await stamps();
  const before = stamp();
  write(name, 'another length');
  expect(stamp()).not.toBe(before);
});

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { readWindowFiles } from '../../../main/transport/window-files.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-files-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it('serves what was built, the index at the root and never from a cache', () => {
  mkdirSync(join(folder, 'assets'));
  writeFileSync(join(folder, 'index.html'), '<title>x</title>');
  writeFileSync(join(folder, 'assets', 'app-1a2b.js'), 'x');
  const files = readWindowFiles(folder);
  expect([...files.keys()].sort()).toEqual(['/', '/assets/app-1a2b.js', '/index.html']);
  expect(files.get('/')).toMatchObject({ type: 'text/html; charset=utf-8', cache: 'no-store' });
  expect(files.get('/assets/app-1a2b.js')?.cache).toContain('immutable');
  expect(files.get('/assets/app-1a2b.js')?.type).toBe('text/javascript; charset=utf-8');
});

it('leaves out what it has no type for', () => {
  writeFileSync(join(folder, 'notes.exe'), 'x');
  expect(readWindowFiles(folder).size).toBe(0);
});

it('is empty when nothing was built', () => {
  expect(readWindowFiles(join(folder, 'nowhere')).size).toBe(0);
});

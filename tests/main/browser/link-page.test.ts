import { chmodSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { openWindow } from '../../../main/browser/open-window.ts';
import { askFirstForLink } from '../../../main/session/ask-first.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-link-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it.skipIf(process.platform === 'win32')(
  'a browser is started without the one-use code in its arguments, which every account can read',
  async () => {
    const browser = join(folder, 'browser');
    const seen = join(folder, 'arguments');
    writeFileSync(browser, `#!/bin/sh\nprintf '%s\\n' "$@" > '${seen}'\n`);
    chmodSync(browser, 0o700);
    const link = 'http://127.0.0.1:4711/#code=SECRET-CODE';
    const { process: child } = openWindow(browser, link, folder, () => undefined);
    await new Promise((resolve) => child.once('exit', resolve));
    const words = readFileSync(seen, 'utf8').split('\n');
    expect(words.join(' ')).not.toContain('SECRET-CODE');
    const page = fileURLToPath(words.find((word) => word.startsWith('--app='))?.slice('--app='.length) ?? '');
    expect(readFileSync(page, 'utf8')).toContain(`location.replace("${link}")`);
    expect(statSync(page).mode & 0o077).toBe(0);
    // beside the records, and not among what the browser keeps
    expect(dirname(dirname(page))).toBe(folder);
    expect(words).toContain(`--user-data-dir=${join(folder, 'window')}`);
  },
);

it('a lock file leads nowhere but to this computer', async () => {
  const asked: string[] = [];
  const original = globalThis.fetch;
  globalThis.fetch = ((address: URL) => {
    asked.push(address.href);
    return Promise.resolve(Response.json({ link: 'https://elsewhere.example/#code=x' }));
  }) as typeof fetch;
  try {
    const holder = { pid: 1, started: '', host: 'browser' as const, secret: 's' };
    for (const address of [
      'http://elsewhere.example:80/',
      'http://127.0.0.1.elsewhere.example:80/',
      'file:///etc/passwd',
      'http://127.0.0.1:80@elsewhere.example/',
    ])
      expect(await askFirstForLink({ ...holder, address })).toBeUndefined();
    expect(asked).toEqual([]);
    // ours, but the answer leads elsewhere
    expect(await askFirstForLink({ ...holder, address: 'http://127.0.0.1:4711/' })).toBeUndefined();
    expect(asked).toHaveLength(1);
  } finally {
    globalThis.fetch = original;
  }
});

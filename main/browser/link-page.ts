/**
 * What a program is started with can be read by every account of the computer, so the one-use code is not among it: the browser opens a page
 * that only this account can read, and the page leads on. It is gone a moment later.
 */
import { writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { newToken } from '../transport/token.ts';
import { removeQuietly, workPath } from '../store/work-folder.ts';

/** a cold browser on a slow disk; the code itself works once */
const LASTS_MS = 60_000;

/** @returns the address of the page */
export function writeLinkPage(dataFolder: string, link: string): string {
  const path = workPath(dataFolder, 'page', newToken(), '.html');
  const address = JSON.stringify(new URL(link).href).replace(/</g, '\\u003c');
  writeFileSync(path, `<!doctype html><meta charset="utf-8"><title>Flueside</title><script>location.replace(${address})</script>`, {
    flag: 'wx',
    mode: 0o600,
  });
  setTimeout(() => removeQuietly(path), LASTS_MS).unref();
  return pathToFileURL(path).href;
}

import { readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';

export type WindowFile = { readonly type: string; readonly bytes: Buffer; readonly cache: string };

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.txt': 'text/plain; charset=utf-8',
  '.map': 'application/json',
  '.webmanifest': 'application/manifest+json',
};

/**
 * The built window, read once. Only what is in this list can be asked for, so no address can climb out of the folder.
 * Files with a type we do not know are left out.
 *
 * @returns path in the address -> file; empty when the window was not built
 */
export function readWindowFiles(folder: string): ReadonlyMap<string, WindowFile> {
  const files = new Map<string, WindowFile>();
  const walk = (below: string): void => {
    for (const entry of readdirSync(join(folder, below), { withFileTypes: true })) {
      const path = `${below}/${entry.name}`;
      if (entry.isDirectory()) walk(path);
      if (!entry.isFile()) continue;
      const type = types[extname(entry.name).toLowerCase()];
      if (type === undefined) continue;
      // names under /assets carry a hash of their content
      const cache = path.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-store';
      files.set(path, { type, bytes: readFileSync(join(folder, path)), cache });
    }
  };
  try {
    walk('');
  } catch {
    return new Map();
  }
  const index = files.get('/index.html');
  if (index !== undefined) files.set('/', index);
  return files;
}

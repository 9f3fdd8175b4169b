/** What changed since the last pictures, dot by dot. */
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';

export type Change = { readonly name: string; readonly dots: number; readonly isNew: boolean };

/** Puts a picture in `now`, the one it takes the place of in `before`, and what is different in `changed`. */
export function putPicture(out: string, name: string, bytes: Buffer): Change | undefined {
  const [now, before, changed] = ['now', 'before', 'changed'].map((folder) => join(out, folder, `${name}.png`)) as [string, string, string];
  for (const path of [now, before, changed]) mkdirSync(dirname(path), { recursive: true });
  const last = existsSync(now) ? readFileSync(now) : undefined;
  writeFileSync(now, bytes);
  rmSync(changed, { force: true });
  if (last === undefined) return { name, dots: 0, isNew: true };
  writeFileSync(before, last);
  if (last.equals(bytes)) return undefined;
  const [a, b] = [PNG.sync.read(last), PNG.sync.read(bytes)];
  if (a.width !== b.width || a.height !== b.height) return { name, dots: Math.abs(b.width * b.height - a.width * a.height), isNew: false };
  const difference = new PNG({ width: a.width, height: a.height });
  const dots = pixelmatch(a.data, b.data, difference.data, a.width, a.height, { threshold: 0.1 });
  if (dots === 0) return undefined;
  writeFileSync(changed, PNG.sync.write(difference));
  return { name, dots, isNew: false };
}

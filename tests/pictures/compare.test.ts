import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PNG } from 'pngjs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { putPicture } from './compare.ts';

let out: string;
beforeEach(() => (out = mkdtempSync(join(tmpdir(), 'flueside-compare-'))));
afterEach(() => rmSync(out, { recursive: true, force: true }));

/** white, with so many black dots */
function picture(blackDots: number, width = 20): Buffer {
  const png = new PNG({ width, height: 10 });
  png.data.fill(255);
  for (let dot = 0; dot < blackDots; dot++) png.data.fill(0, dot * 4, dot * 4 + 3);
  return PNG.sync.write(png);
}

describe('pictures compared with the last ones', () => {
  it('a first picture is new; the same one again is no change', () => {
    expect(putPicture(out, 'tune/live', picture(0))).toEqual({ name: 'tune/live', dots: 0, isNew: true });
    expect(putPicture(out, 'tune/live', picture(0))).toBeUndefined();
    expect(existsSync(join(out, 'changed', 'tune', 'live.png'))).toBe(false);
  });

  it('counts the dots that changed, and saves both pictures and where they differ', () => {
    putPicture(out, 'tune/live', picture(0));
    expect(putPicture(out, 'tune/live', picture(8))).toMatchObject({ dots: 8, isNew: false });
    for (const folder of ['now', 'before', 'changed']) expect(existsSync(join(out, folder, 'tune', 'live.png'))).toBe(true);
  });

  it('tells a picture of another size as changed', () => {
    putPicture(out, 'tune/live', picture(0));
    expect(putPicture(out, 'tune/live', picture(0, 30))).toMatchObject({ dots: 100, isNew: false });
  });
});

/** What a photo is by its own bytes. @source ITU-T T.81 annex B; ISO/IEC 15948:2004 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitsVisit, PHOTO, photoHead, SAVED_PHOTO, savedSize } from '../../../shared/geometry/photo.ts';
import { jpegBytes, pngBytes } from '../../main/photos/photo-bytes.ts';

describe('a photo', () => {
  it('is told by its bytes, with its size', () => {
    expect(photoHead(jpegBytes({ width: 4032, height: 3024 }))).toEqual({ form: 'jpeg', width: 4032, height: 3024 });
    expect(photoHead(pngBytes(640, 480))).toEqual({ form: 'png', width: 640, height: 480 });
    // a phone puts a film behind it
    expect(photoHead(Uint8Array.from([...jpegBytes(), ...new Array<number>(500).fill(7)]))?.width).toBe(1600);
  });
  it('is none where it is something else, cut off, or empty', () => {
    const text = (words: string): Uint8Array => new TextEncoder().encode(words);
    for (const wrong of [
      new Uint8Array(),
      text('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'),
      text('GIF89a'),
      text('PK\u0003\u0004'),
      jpegBytes().slice(0, -2),
      jpegBytes().slice(0, 60),
      pngBytes().slice(0, 40),
      pngBytes(0, 30),
    ])
      expect(photoHead(wrong)).toBeUndefined();
  });
  it('of any bytes at all is read to an end', () => {
    const begins = fc.constantFrom([], [0xff, 0xd8, 0xff], [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    fc.assert(
      fc.property(begins, fc.uint8Array({ maxLength: 400 }), (begin, rest) => {
        const head = photoHead(Uint8Array.from([...begin, ...rest]));
        if (head !== undefined) expect(head.width * head.height).toBeGreaterThan(0);
      }),
      { numRuns: 2000 },
    );
  });
  it('is saved small enough for a visit, in its own shape, and never larger than it was', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 20_000 }), fc.integer({ min: 1, max: 20_000 }), (width, height) => {
        const saved = savedSize({ width, height });
        expect(Math.max(saved.width, saved.height)).toBeLessThanOrEqual(SAVED_PHOTO.edge);
        expect(saved.width).toBeLessThanOrEqual(width);
        expect(saved.height).toBeLessThanOrEqual(height);
        expect(fitsVisit({ form: 'jpeg', ...saved }, PHOTO.mostBytes)).toBe(true);
        const share = Math.min(1, SAVED_PHOTO.edge / Math.max(width, height));
        expect(Math.abs(saved.width - width * share)).toBeLessThanOrEqual(1);
      }),
    );
  });
});

import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decodeName } from '../../../main/transport/file-name.ts';

it.each([
  ['a%20b.run', 'a b.run'],
  ['Kessel%20gr%C3%B6%C3%9Fer.run', 'Kessel größer.run'],
  ['..%2F..%2Fetc%2Fpasswd', 'passwd'],
  ['C:\\data\\run.txt', 'run.txt'],
  ['%E0%A4%A', '%E0%A4%A'],
  ['a%00b%0d%0a.run', 'ab.run'],
  ['', 'file'],
  ['folder%2F', 'file'],
])('%j is shown as %j', (sent, shown) => expect(decodeName(sent)).toBe(shown));

it('whatever comes: something to show, of one line, without a folder, not longer than a list takes', () => {
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: 'binary', maxLength: 400 }), fc.string({ maxLength: 400 })), (text) => {
      for (const sent of [text, encodeURIComponent(text)]) {
        const name = decodeName(sent);
        expect(name.length).toBeGreaterThan(0);
        expect(name.length).toBeLessThanOrEqual(200);
        expect(name).not.toMatch(/[\x00-\x1f\x7f\\/]/);
      }
    }),
  );
});

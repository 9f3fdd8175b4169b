import fc from 'fast-check';
import { expect, it } from 'vitest';
import { piecesOf, signOf } from '../../../renderer/views/lines/visible-text.ts';

// Names of control characters: ISO/IEC 646 (ASCII), from memory.
it.each([
  [0x00, '‹NUL›'],
  [0x07, '‹BEL›'],
  [0x0d, '‹CR›'],
  [0x1b, '‹ESC›'],
  [0x7f, '‹DEL›'],
  [0x80, '‹80›'],
  [0x41, undefined],
  [0xb0, undefined],
])('byte %i shows as %s', (byte, sign) => {
  expect(signOf(byte)).toBe(sign);
});
it('underlines fields and nothing else', () => {
  expect(
    piecesOf({
      bytes: '5.1,13\r',
      spans: [
        { channel: 'o2', start: 0, end: 3 },
        { channel: 'co', start: 4, end: 6 },
      ],
    }),
  ).toEqual([
    { text: '5.1', kind: 'field', channel: 'o2' },
    { text: ',', kind: 'plain' },
    { text: '13', kind: 'field', channel: 'co' },
    { text: '‹CR›', kind: 'control' },
  ]);
});
it('loses no byte and shows no control character, whatever comes', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 255 }), { maxLength: 80 }), (bytes) => {
      const line = String.fromCharCode(...bytes);
      const shown = piecesOf({ bytes: line, spans: [{ channel: 'o2', start: 2, end: 9 }] })
        .map(({ text }) => text)
        .join('');
      const printable = bytes.filter((byte) => signOf(byte) === undefined).length;
      const signs = bytes.filter((byte) => signOf(byte) !== undefined).map((byte) => signOf(byte)?.length ?? 0);
      expect(shown.length).toBe(printable + signs.reduce((sum, length) => sum + length, 0));
      expect(/[\u0000-\u001f\u007f]/.test(shown)).toBe(false);
    }),
  );
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createLineSplitter, type LineSplitterOptions } from '../../../shared/lines/line-splitter.ts';
import type { StampedLine } from '../../../shared/measurement/line.ts';

const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, (char) => char.charCodeAt(0) & 255);
const splitAll = (bytes: Uint8Array, sizes: readonly number[], options?: LineSplitterOptions): StampedLine[] => {
  const splitter = createLineSplitter(options);
  const lines: StampedLine[] = [];
  let at = 0;
  for (let turn = 0; at < bytes.length; turn++) {
    const size = Math.max(1, sizes[turn % sizes.length] ?? 1);
    lines.push(...splitter.push(bytes.subarray(at, at + size), 0));
    at += size;
  }
  lines.push(...splitter.end());
  return lines;
};
const texts = (lines: readonly StampedLine[]): string[] => lines.map(({ bytes }) => bytes);

describe('line splitter', () => {
  it.each([
    ['LF', 'a\nb\nc\n'],
    ['CR', 'a\rb\rc\r'],
    ['CRLF', 'a\r\nb\r\nc\r\n'],
    ['LFCR', 'a\n\rb\n\rc\n\r'],
    ['a mixture with empty lines', '\r\n\r\na\n\n\rb\r\r\nc'],
  ])('takes %s as line end and drops empty lines', (_, text) => {
    expect(texts(splitAll(bytesOf(text), [1000]))).toEqual(['a', 'b', 'c']);
  });

  it.each([
    ['NUL', '\u0000'],
    ['ETX', '\u0003'],
  ])('finds %s as line end where neither CR nor LF comes, the same in any chunks', (_, end) => {
    const lines = Array.from({ length: 60 }, (_unused, at) => `${at};4.${at % 10};2${at % 7};212.4`);
    const bytes = bytesOf(lines.map((line) => line + end).join(''));
    for (const sizes of [[100_000], [1], [7, 400, 3], [383, 1, 385]]) expect(texts(splitAll(bytes, sizes))).toEqual(lines);
    expect(texts(splitAll(bytes.subarray(0, 60), [60])).slice(0, 3)).toEqual(lines.slice(0, 3));
  });

  it('leaves noise that holds such signs in one piece: half a line is no line', () => {
    const noise = `4.1,23,21${'\u0000\u0001\u0003\u0005'.repeat(120)}2.4`;
    expect(texts(splitAll(bytesOf(`${noise}\n4.1,23\u00002,212.4\n`), [5]))).toEqual([noise, '4.1,23\u00002,212.4']);
  });

  it('drops fill behind a line end once it is a habit', () => {
    const bytes = bytesOf('a\r\n\u0000b\r\n\u0000c\r\n\u0000d\r\n');
    for (const sizes of [[100], [1], [3]]) expect(texts(splitAll(bytes, sizes))).toEqual(['a', '\u0000b', 'c', 'd']);
  });

  it('stamps a line with the time of the chunk that brought its first byte', () => {
    const splitter = createLineSplitter();
    const lines = [
      ...splitter.push(bytesOf('4.1,2'), 100),
      ...splitter.push(bytesOf('3\n5.0'), 200),
      ...splitter.push(bytesOf(',24\n'), 300),
    ];
    expect(lines).toEqual([
      { timeMs: 100, bytes: '4.1,23' },
      { timeMs: 200, bytes: '5.0,24' },
    ]);
  });

  it('cuts a line that is too long, counts what it cut and goes on at the next end', () => {
    const lines = splitAll(bytesOf(`${'x'.repeat(30)}\nok\n`), [7], { longestLine: 16 });
    expect(lines).toEqual([
      { timeMs: 0, bytes: 'x'.repeat(16), cutBytes: 14 },
      { timeMs: 0, bytes: 'ok' },
    ]);
  });

  it.each([';;', '\u0003', 'aab'])('takes %j as the only line end when the recipe says so', (terminator) => {
    const text = `1\r\n2${terminator}aaa${terminator}33${terminator}`;
    for (const size of [1, 2, 3, 100]) expect(texts(splitAll(bytesOf(text), [size], { terminator }))).toEqual(['1\r\n2', 'aaa', '33']);
  });

  it.each([15, 16, 17, 18, 19, 40])('counts what it cuts of %i bytes before a custom end', (length) => {
    const [line] = splitAll(bytesOf(`${'x'.repeat(length)};;`), [3], { terminator: ';;', longestLine: 16 });
    expect(line?.bytes.length).toBe(Math.min(16, length));
    expect(line?.cutBytes ?? 0).toBe(Math.max(0, length - 16));
  });

  it('keeps every byte value', () => {
    const all = Uint8Array.from({ length: 256 }, (_, code) => code).filter((code) => code !== 10 && code !== 13);
    expect(splitAll(all, [50])[0]?.bytes).toBe([...all].map((code) => String.fromCharCode(code)).join(''));
  });

  it('gives the same lines however the bytes are chunked', () => {
    const byte = fc.oneof(fc.constantFrom(10, 13, 44, 59, 65), fc.integer({ min: 0, max: 255 }));
    fc.assert(
      fc.property(
        fc.array(byte, { maxLength: 400 }),
        fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 1, maxLength: 10 }),
        fc.constantFrom(undefined, ';', ',;', '\r\n'),
        (list, sizes, terminator) => {
          const bytes = Uint8Array.from(list);
          const options = { terminator, longestLine: 32 };
          expect(splitAll(bytes, sizes, options)).toEqual(splitAll(bytes, [1000], options));
        },
      ),
    );
  });

  it('keeps nothing but the longest line of 10 MB without an end', () => {
    const splitter = createLineSplitter();
    const block = new Uint8Array(65_536).fill(65);
    for (let sent = 0; sent < 10_000_000; sent += block.length) expect(splitter.push(block, 0)).toEqual([]);
    const [line] = splitter.end();
    expect(line?.bytes.length).toBe(1024);
    expect(line?.cutBytes).toBe(153 * 65_536 - 1024);
  });
});

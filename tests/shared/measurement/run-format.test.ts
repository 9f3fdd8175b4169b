import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { RUN_VERSION, type RunEntry, type RunHeader } from '../../../shared/measurement/run.ts';
import {
  decodeEntry,
  decodeHeader,
  encodeEntry,
  encodeHeader,
  escapeBytes,
  unescapeBytes,
} from '../../../shared/measurement/run-format.ts';

const header: RunHeader = {
  format: 'flueside-run',
  version: 1,
  runId: 'run-1',
  startWallMs: 1_760_000_000_000,
  zoneMinutes: 120,
  source: { kind: 'typed' },
  fuelId: 'no2',
  appVersion: '0.1.0',
};
const anyByte = fc.integer({ min: 0, max: 255 }).map((code) => String.fromCharCode(code));
const anyBytes = fc.string({ unit: anyByte, maxLength: 200 });

describe('run format', () => {
  it('brings any bytes back, on one line of printable ASCII', () => {
    fc.assert(
      fc.property(anyBytes, (bytes) => {
        const text = escapeBytes(bytes);
        expect(text).toMatch(/^[\x20-\x7e]*$/);
        expect(unescapeBytes(text)).toBe(bytes);
      }),
    );
  });

  const entries: RunEntry[] = [
    { kind: 'line', timeMs: 0, bytes: '4.2,\t\\12\x00\xff' },
    { kind: 'line', timeMs: 7, bytes: '', cutBytes: 99 },
    { kind: 'mark', timeMs: 8, mark: { id: 'm1', timeMs: 5, body: { kind: 'note', text: 'grün\n\ttab' } } },
    { kind: 'edit', timeMs: 9, edit: { kind: 'undone', markId: 'm1' } },
    { kind: 'change', timeMs: 10, change: { typedAirC: null } },
    { kind: 'take', timeMs: 11, readingId: 'r1' },
    { kind: 'gap', timeMs: 12, gap: { reason: 'unplugged', fromMs: 2 } },
    { kind: 'clock', timeMs: 13, clock: { monotonicMs: 1.5, wallMs: 2, zoneMinutes: -60 } },
    { kind: 'end', timeMs: 14 },
  ];
  it.each(entries)('brings a $kind back', (entry) => {
    const line = encodeEntry(entry);
    expect(line).toMatch(/^[\x20-\x7e\t]*\n$/);
    expect(decodeEntry(line.slice(0, -1))).toEqual(entry);
  });

  it('never throws on a line of any characters', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          anyBytes,
          anyBytes.map((b) => `12\tmark\t${b}`),
        ),
        (line) => void decodeEntry(line),
      ),
    );
  });

  it.each([
    '',
    'x',
    '1\tline',
    '-1\tline\tx',
    '1.5\tline\tx',
    '1\tline\t\\',
    '1\tline\t\\x4',
    '1\tmark\t{}',
    '1\tfoo\tx',
    '1\ttoString\t1',
    '99999999999999\tend\t',
  ])('calls %j damage', (line) => expect(decodeEntry(line)).toBeUndefined());

  it('tells foreign, newer and damaged headers apart', () => {
    const line = encodeHeader(header).trimEnd();
    expect(decodeHeader(line)).toEqual({ ok: true, value: header });
    const code = (text: string) => {
      const result = decodeHeader(text);
      return result.ok ? 'ok' : result.error.code;
    };
    expect(code('4.2,12,180,21')).toBe('file-foreign');
    expect(code('{"format":"other","version":1}')).toBe('file-foreign');
    expect(code(line.replace(/"version":\d+/, `"version":${RUN_VERSION + 1}`))).toBe('file-newer');
    // 3 would be a version of files that this app cannot read rightly yet
    expect([1, 2, 3].map((version) => code(line.replace(/"version":\d+/, `"version":${version}`)))).toEqual(['ok', 'ok', 'file-newer']);
    expect(code(line.slice(0, -9))).toBe('file-damaged');
    expect(code(line.replace('"fuelId":"no2",', ''))).toBe('file-damaged');
  });
});

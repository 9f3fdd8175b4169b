import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { expect, it } from 'vitest';
import { dispositionOf, openDownload } from '../../../main/transport/downloads.ts';

it.each([
  { name: 'visit 12.csv', header: `attachment; filename="visit 12.csv"; filename*=UTF-8''visit%2012.csv` },
  // RFC 8187 section 3.2.2: the pound and euro example signs, percent-encoded as UTF-8
  { name: '£ and € rates', header: `attachment; filename="_ and _ rates"; filename*=UTF-8''%C2%A3%20and%20%E2%82%AC%20rates` },
  { name: 'a"b\r\nSet-Cookie: x', header: `attachment; filename="a_b__Set-Cookie: x"; filename*=UTF-8''a%22b%0D%0ASet-Cookie%3A%20x` },
])('names a file so that no sign breaks out of the header: $name', ({ name, header }) => {
  expect(dispositionOf(name)).toBe(header);
});

it('streams text with its length in bytes', async () => {
  const opened = openDownload({ fileName: 'a.csv', mime: 'text/csv', text: '21 °C' });
  expect(opened?.headers['Content-Length']).toBe('6');
  expect(opened === undefined ? '' : await text(opened.stream)).toBe('21 °C');
});

it('streams a file, also an empty one, and knows one that has gone', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-download-'));
  const path = join(folder, 'a.txt');
  writeFileSync(path, '');
  const empty = openDownload({ fileName: 'a.txt', mime: 'text/plain', filePath: path });
  expect(empty === undefined ? undefined : await text(empty.stream)).toBe('');
  writeFileSync(path, 'one\n');
  const opened = openDownload({ fileName: 'a.txt', mime: 'text/plain', filePath: path });
  // what is appended after the length was told does not belong to this answer
  writeFileSync(path, 'one\ntwo\n');
  expect(opened === undefined ? undefined : await text(opened.stream)).toBe('one\n');
  rmSync(folder, { recursive: true });
  expect(openDownload({ fileName: 'a.txt', mime: 'text/plain', filePath: path })).toBeUndefined();
});

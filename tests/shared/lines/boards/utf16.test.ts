/** Files that a spreadsheet saved in UTF-16: the cause is said, and it is not the speed of a port. Invented data. */
import { describe, expect, it } from 'vitest';
import { createLineSplitter } from '../../../../shared/lines/line-splitter.ts';
import { learn } from '../../../../shared/lines/learn.ts';
import { troubleText } from '../../../../shared/words/lines/learning.ts';
import { boardRows } from './board-lines.ts';

const text = ['O2 [%];CO [ppm];Stack [°C];Air [°C]', ...boardRows(60).map((r) => `${r.o2};${r.co};${r.stack};${r.air}`)].join('\r\n');
const swapped = (bytes: Buffer): Buffer => Buffer.from(bytes).swap16();

describe('UTF-16', () => {
  it.each([
    ['with its mark', Buffer.from(`\ufeff${text}\r\n`, 'utf16le')],
    ['without', Buffer.from(`${text}\r\n`, 'utf16le')],
    ['the other way round', swapped(Buffer.from(`\ufeff${text}\r\n`, 'utf16le'))],
  ])('%s', (_, bytes) => {
    const splitter = createLineSplitter({ longestLine: 16_384 });
    const { proposals, trouble } = learn([...splitter.push(new Uint8Array(bytes), 0), ...splitter.end()]);
    expect(proposals).toEqual([]);
    expect(trouble).toBe('utf-16');
    expect(troubleText('utf-16')).toMatch(/UTF-16.*UTF-8/);
  });
});

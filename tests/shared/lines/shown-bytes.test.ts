/** Commands with signs that no keyboard has. @source ISO/IEC 646 (1991), table of control characters */
import { describe, expect, it } from 'vitest';
import { commandBytes, shownBytes } from '../../../shared/lines/shown-bytes.ts';

describe('bytes as a person types and reads them', () => {
  it.each([
    ['CR', 13],
    ['LF', 10],
    ['ETX', 3],
    ['STX', 2],
    ['ENQ', 5],
    ['ESC', 27],
  ])('<%s> is %i', (name, code) => {
    expect(commandBytes(`READ?<${name}>`)).toBe(`READ?${String.fromCharCode(code)}`);
    expect(shownBytes(String.fromCharCode(code))).toBe(`<${name}>`);
  });

  it('every byte goes there and back', () => {
    for (let code = 0; code < 256; code++) {
      const bytes = String.fromCharCode(code);
      expect(commandBytes(shownBytes(bytes)), `byte ${code}`).toBe(bytes);
    }
  });
});

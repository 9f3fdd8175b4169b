/** A figures card that comes as a file: taken in whole, or refused with the reason. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_CARD_BYTES, readCardFile } from '../../../shared/geometry/card-file.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { cardFileWords } from '../../../shared/words/geometry/geometry-cards.ts';

const [card] = trainingCards;
const keyOf = (text: string): string => {
  const read = readCardFile(text);
  return read.ok ? 'ok' : read.error.key;
};
const changed = (parts: object): string => JSON.stringify({ ...card, ...parts });

describe('a figures card as a file', () => {
  it('is taken in as it was shared, with a byte order mark too', () => {
    for (const one of trainingCards) expect(readCardFile(`\uFEFF${JSON.stringify(one, null, 2)}\n`)).toEqual({ ok: true, value: one });
  });
  it('is refused with its own reason', () => {
    expect(keyOf('')).toBe('not-json');
    expect(keyOf('{"format": "flueside-figures-card", ')).toBe('not-json');
    expect(keyOf('{}')).toBe('foreign');
    expect(keyOf('[[[]]]')).toBe('foreign');
    expect(keyOf(`${'['.repeat(300_000)}${']'.repeat(300_000)}`)).not.toBe('ok');
    expect(keyOf(changed({ version: 2, more: 'fields of a later version' }))).toBe('newer');
    expect(keyOf(changed({ more: 1 }))).toBe('wrong');
    expect(keyOf(changed({ figures: [{ item: 'electrodeGap', figure: { low: '1/4', high: '1/8' } }] }))).toBe('contradicts');
    expect(keyOf(changed({ figures: [{ item: 'electrodeGap', figure: { nominal: '5/0' } }] }))).toBe('contradicts');
    expect(keyOf(changed({ notes: 'x'.repeat(MOST_CARD_BYTES) }))).toBe('too-big');
    expect(keyOf(JSON.stringify(card).replace('{', '{"__proto__":{"training":true},'))).toBe('wrong');
  });
  it('whatever stands in it, is one or is refused in a sentence', () => {
    const value = fc.jsonValue({ maxDepth: 4 });
    fc.assert(
      fc.property(fc.constantFrom(...Object.keys(card ?? {})), value, (key, anything) => {
        const read = readCardFile(changed({ [key]: anything }));
        if (!read.ok) expect(cardFileWords(read.error)).toMatch(/\.$/);
      }),
      { numRuns: 500 },
    );
  });
});

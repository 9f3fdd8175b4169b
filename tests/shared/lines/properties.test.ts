import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createLineReader } from '../../../shared/lines/reading/read-line.ts';
import { createLineSplitter } from '../../../shared/lines/line-splitter.ts';
import { learn } from '../../../shared/lines/learn.ts';
import { shippedRecipes } from '../../../shared/lines/shipped-recipes.ts';
import { splitPairs } from '../../../shared/lines/reading/read-keyed.ts';
import { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../shared/measurement/check-recipe.ts';
import { fuzzLines } from '../../fuzz/lines.ts';

const readBytes = (bytes: Uint8Array, sizes: readonly number[], name: string): unknown => {
  const recipe = shippedRecipes[name];
  if (recipe === undefined) throw new Error(name);
  const splitter = createLineSplitter({ longestLine: recipe.framing.longestLine });
  const reader = createLineReader(recipe);
  const reads: unknown[] = [];
  for (let at = 0, turn = 0; at < bytes.length; turn++) {
    const size = sizes[turn % sizes.length] ?? 1;
    for (const line of splitter.push(bytes.subarray(at, at + size), 0)) reads.push(reader.read(line));
    at += size;
  }
  for (const line of splitter.end()) reads.push(reader.read(line));
  return reads;
};

describe('whatever comes down the line', () => {
  const byte = fc.oneof(
    fc.integer({ min: 0, max: 255 }),
    fc.constantFrom(...[...'0123456789.,;:= \r\nO2COABCD{}"$*>'].map((char) => char.charCodeAt(0))),
  );
  it('takes any text apart as keys and values, and as a cycle, without throwing', () => {
    const parts = fc.array(fc.constantFrom('<', '>', '</', '/>', ' a="', '"', "'", '=', 'O2', ' ', '4.1', '%', ',', ';', '}', '\u0000'), {
      maxLength: 60,
    });
    const cycle = createLineReader(
      LineRecipe.parse({
        format: 'flueside-recipe',
        version: 1,
        name: 'cycle',
        shape: { kind: 'cycle', lines: [{ form: '9.9' }, { text: 'O2' }, { form: '9' }] },
        fields: [{ channel: 'o2', at: 0, unit: '%' }],
      }),
    );
    fc.assert(
      fc.property(parts, (list) => {
        const text = list.join('');
        for (const separator of ['<>', 'after', 'blank', 'glued', '=', ':']) {
          for (const { start } of splitPairs(text, separator, 'blank'))
            expect(start >= 0 && start <= text.length, `${start} in ${text}`).toBe(true);
        }
        cycle.read({ timeMs: 0, bytes: text });
      }),
    );
  });

  it('gives the same reads in any chunks, through every shipped recipe', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 300 }),
        fc.array(byte, { maxLength: 300 }),
        fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 1, maxLength: 8 }),
        fc.constantFrom(...Object.keys(shippedRecipes)),
        (noise, text, sizes, name) => {
          const bytes = Uint8Array.from([...noise, ...text]);
          expect(readBytes(bytes, sizes, name)).toEqual(readBytes(bytes, [10_000], name));
        },
      ),
      { numRuns: 200 },
    );
  });

  it('learns without throwing, and the same twice', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'binary', maxLength: 60 }), { minLength: 5, maxLength: 30 }), (texts) => {
        const lines = texts.map((text, at) => ({
          timeMs: at,
          bytes: [...text].map((char) => String.fromCharCode(char.charCodeAt(0) & 255)).join(''),
        }));
        expect(learn(lines)).toEqual(learn(lines));
      }),
      { numRuns: 60 },
    );
  });

  it('checks any JSON as a recipe without throwing, and reads with what it lets through', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.anything(), (json, anything) => {
        expect(() => checkRecipe(json)).not.toThrow();
        expect(() => checkRecipe(anything)).not.toThrow();
        const checked = checkRecipe({ ...shippedRecipes['comma-columns'], shape: json });
        if (checked.ok) createLineReader(checked.value).read({ timeMs: 0, bytes: '1,2,3' });
      }),
      { numRuns: 200 },
    );
  });

  // The long form is `npm run fuzz`.
  it('survives 150 000 bytes of seeded noise', () => {
    const result = fuzzLines(150_000, 20_261_125);
    expect(result.bytes).toBe(150_000);
    expect(result.samples).toBeGreaterThan(100);
    expect(result.rejected).toBeGreaterThan(100);
  });
});

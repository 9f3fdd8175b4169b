import { describe, expect, it } from 'vitest';
import { patternKeys } from '../../../shared/tuning/diagnosis/patterns.ts';
import { plainFormats as f } from '../../../shared/words/tune/tune-formats.ts';
import { hintWords } from '../../../shared/words/tune/tune-hints.ts';
import { beforeAfterWords } from '../../../shared/words/visit/before-after.ts';
import { positionRefusal, smokeRefusal } from '../../../shared/words/visit/refusals.ts';
import { allWords } from '../../helpers/all-words.ts';

const everyFigure = new Proxy({}, { get: () => 1.5 }) as Readonly<Record<string, number>>;
const hints = patternKeys.map((pattern) => hintWords({ pattern, strength: 1, figures: everyFigure, trialIds: [] }, f));
const sentences = (value: unknown): string[] =>
  typeof value === 'string' ? [value] : typeof value === 'object' && value !== null ? Object.values(value).flatMap(sentences) : [];
const all = [...sentences(await allWords('visit')), ...sentences(await allWords('tune')), ...hints.flatMap(sentences)];

describe('words of Tune', () => {
  it('say every pattern as seen, what may cause it, next check; never a cause', () => {
    for (const hint of hints) {
      expect(hint.seen).toMatch(/\.$/);
      expect(hint.may.length).toBeGreaterThan(0);
      expect(hint.next).toMatch(/\.$/);
      expect(sentences(hint).join(' ')).not.toMatch(/\bthe cause\b|\bis caused\b|undefined|NaN/);
    }
  });
  it('keep the house style: no exclamation marks, no please, no successfully, no hyphen for minus', () => {
    expect(all.length).toBeGreaterThan(150);
    for (const text of all) expect(text).not.toMatch(/!|\bplease\b|successfully|(^|\s)-\d/i);
  });
  it('refuse smoke 11 and a shutter off its scale in plain words', () => {
    expect(smokeRefusal({ key: 'smoke-above-scale', typed: 11 }, f)).toBe('The scale ends at 9; 11 is not on it. Nothing was changed.');
    expect(positionRefusal({ key: 'position-above-scale', adjuster: 'shutter', typed: 12, max: 10 }, f)).toContain(
      'ends at 10; 12 is beyond it',
    );
  });
  it('do not write a figure for a gain inside its uncertainty', () => {
    const base = {
      beforePercent: 84,
      afterPercent: 84.1,
      gainPoints: 0.1,
      gainExpanded: 0.3,
      fuelSavedPercent: 0.1,
      fuelSavedExpanded: 0.4,
    };
    expect(beforeAfterWords({ ...base, clear: false }, f)).toBe('Efficiency is the same within ±0.3 points; no saving is claimed.');
  });
});

describe('plain formats', () => {
  it('follow the rules for numbers: true minus, thin space, vulgar fractions for smoke only', () => {
    expect([
      f.draft(-5),
      f.smoke(0.5),
      f.smoke(2.5),
      f.smoke(3),
      f.smoke(1.33),
      f.duration(30),
      f.duration(600),
      f.duration(7500),
      f.o2(-0.01),
    ]).toEqual(['−5.0\u2009Pa', '½', '2½', '3', '1.3', '30\u2009s', '10\u2009min', '2\u2009h 05\u2009min', '0.0\u2009%']);
  });
});

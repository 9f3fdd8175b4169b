import { describe, expect, it } from 'vitest';
import { answerOf, at, burnerCase, anyCase, holds, plainVisit } from './visits.ts';

/** The sentence about the adjuster, without the reasons after it. */
const headline = (words: string): string => words.split('. ')[0] ?? '';

describe('law 3: open and close follow the air, not the number', () => {
  it('open is only said for a higher number that was seen to give more air, close for a lower one', () => {
    const { tried, met } = holds('law 3', anyCase, (_, { adjuster, from, to, words, advice }) => {
      if (adjuster === null || from === null || to === null) return false;
      const said = headline(words);
      if (/\bopen\b/i.test(said)) expect([advice, to > from]).toEqual(['more-air', true]);
      if (/\bclose\b/i.test(said)) expect([advice, to < from]).toEqual(['less-air', true]);
      expect(said).toContain(`from ${from.toString().replace('-', '−')} to ${to.toString().replace('-', '−')}`);
      return true;
    });
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(met).toBeGreaterThan(300);
  });
  it('a scale that runs backwards gets its numbers only, and the number goes the way of the air', () => {
    let backwards = 0;
    const { tried } = holds('law 3, against the truth', burnerCase, ({ up }, { adjuster, from, to, words, advice, because }) => {
      if (adjuster === null || from === null || to === null || up?.[adjuster] === undefined) return false;
      const isUp = up[adjuster];
      if (!isUp) {
        expect(headline(words)).not.toMatch(/\b(open|close)\b/i);
        backwards++;
      }
      // what differs from the truth was read so: two trials within what an O2 cell is good for
      if (because.includes('back-to-clean')) return true;
      expect(advice).toBe(to > from === isUp ? 'more-air' : 'less-air');
      return true;
    });
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(backwards).toBeGreaterThan(100);
  });
  it('three tenths of O2 do not tell which way the air goes, nor does scatter', () => {
    expect(answerOf(plainVisit([at(5, 9.8), at(4, 9.5)]))).toMatchObject({ adjuster: null });
    const scattered = [at(8.5, 3.6), at(9, 4), ...[4.2, 3.9, 3.8, 3.6, 4.2, 3.6].map((o2) => at(10, o2))];
    expect(answerOf(plainVisit(scattered))).toMatchObject({ adjuster: null });
    // a setting that was read on either side of the other, and an adjuster whose place is not known
    expect(answerOf(plainVisit([at(3, 9.8), at(3, 0.1), at(3, 9.8), at(4, 8.4)])).adjuster).toBeNull();
    const nowhere = { setting: { band: 4 } as Record<string, number>, o2_pct: 4.5 };
    const two = { adjusters: ['band', 'shutter'].map((name) => ({ name, kind: 'air', min: 0, max: 10, step: 1 })) };
    expect(
      answerOf(
        plainVisit([{ setting: { band: 3, shutter: 7 }, o2_pct: 5.5 }, { setting: { band: 3, shutter: 2 }, o2_pct: 8.5 }, nowhere], two),
      ).adjuster,
    ).toBeNull();
    // the person said otherwise, and the trials say too little to know better
    const said = { adjusters: [{ name: 'shutter', kind: 'air', min: 0, max: 10, step: 0.5, more_air: 'down' }] };
    expect(answerOf(plainVisit([at(7, 8), at(8, 8.5)], said))).toMatchObject({
      adjuster: null,
      because: expect.arrayContaining(['against-what-was-said']) as string[],
    });
    expect(answerOf(plainVisit([at(7, 8), at(8, 9.5)], said))).toMatchObject({ adjuster: 'shutter', advice: 'less-air' });
    // one of two readings alone would say more
    expect(answerOf(plainVisit([at(8, 9), at(10, 9.4), at(10, 9.1)]))).toMatchObject({ adjuster: null });
  });
});

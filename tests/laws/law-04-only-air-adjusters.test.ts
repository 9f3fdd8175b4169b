import { describe, expect, it } from 'vitest';
import { kindOf } from '../../shared/tuning/trial/adjuster.ts';
import { anyCase } from './random-visits.ts';
import { holds } from './visits.ts';

describe('law 4: only adjusters of kind air are advised on', () => {
  it('never a head, a draft regulator, anything else, or one whose kind nobody said', () => {
    const { tried, met } = holds('law 4', anyCase, ({ visit }, { adjuster, from, to }) => {
      if (adjuster === null) return false;
      const one = visit.adjusters.find(({ name }) => name === adjuster);
      expect(one).toBeDefined();
      expect(one!.kind ?? (/^(shutter|band)$/i.test(adjuster) ? 'air' : 'not said')).toBe('air');
      // on its scale, on its step from where it is
      if (to !== null) {
        expect(to).toBeGreaterThanOrEqual(one!.min);
        expect(to).toBeLessThanOrEqual(one!.max);
        expect(to).not.toBe(from);
      }
      return true;
    });
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(met).toBeGreaterThan(500);
  });
  it('an adjuster without a kind counts as air only when it is called shutter or band', () => {
    expect([
      kindOf({ name: 'Shutter' }),
      kindOf({ name: 'band' }),
      kindOf({ name: 'head' }),
      kindOf({ name: 'Band', kind: 'draft' }),
    ]).toEqual(['air', 'air', undefined, 'draft']);
  });
});

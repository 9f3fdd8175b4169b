import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { findFuel, fuelIds, isOilFuel, oilFuelIds } from '../../shared/combustion/fuel.ts';
import { startWords } from '../../shared/words/visit/screens/start.ts';
import { anyCase } from './random-visits.ts';
import { holds } from './visits.ts';

describe('law 8: pressure-atomizing oil burners only', () => {
  it('no next setting on gas, and what is unsafe is still said', () => {
    const { tried, met } = holds('law 8', anyCase, ({ visit }, { advice, adjuster, safe }) => {
      if (isOilFuel(visit.fuel)) return false;
      expect(['none', 'stop']).toContain(advice);
      expect(adjuster).toBeNull();
      if ((visit.room_co_ppm ?? 0) >= 35) expect([advice, safe]).toEqual(['stop', 'no']);
      return true;
    });
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(met).toBeGreaterThan(100);
  });
  it('a visit offers oils only; Start and the README say so', () => {
    expect(oilFuelIds.length).toBeGreaterThan(3);
    expect(oilFuelIds.map((id) => findFuel(id)?.phase)).toEqual(oilFuelIds.map(() => 'liquid'));
    expect(fuelIds.filter((id) => !isOilFuel(id))).toEqual(['natural-gas', 'methane', 'propane']);
    expect(startWords.oilOnly).toBe('For pressure-atomizing oil burners only.');
    expect(readFileSync(new URL('../../README.md', import.meta.url), 'utf8')).toContain('For pressure-atomizing oil burners only.');
  });
});

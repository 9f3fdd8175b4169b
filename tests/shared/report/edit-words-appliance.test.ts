import { describe, expect, it } from 'vitest';
import { applianceEditText } from '../../../shared/report/edit-words-appliance.ts';
import { Appliance } from '../../../shared/tuning/visit/appliance.ts';
import { movedInEdit, personOutEdit, type ApplianceEdit } from '../../../shared/tuning/visit/appliance-edits.ts';
import { applianceEditWords } from '../../../shared/words/records/edits.ts';

const line = (
  path: string[],
  before: ApplianceEdit['before'],
  after: ApplianceEdit['after'],
  units: 'metric' | 'us' = 'metric',
): string => {
  const said = applianceEditText({ path, before, after }, units);
  return `${said.field}: ${said.before} -> ${said.after}`.replace(/\u2009/g, ' ');
};

describe('a change of an appliance in words', () => {
  it('writes dates, kinds and places as the window does', () => {
    expect(line(['nextDue'], '2026-11-30', '2027-12-01')).toBe('Next visit due: 30 November 2026 -> 1 December 2027');
    expect(line(['nextDue'], '2026-11-30', undefined)).toBe('Next visit due: 30 November 2026 -> –');
    expect(line(['kind'], 'furnace', 'boiler-steam')).toBe('Kind: Warm-air furnace -> Boiler, steam');
    expect(line(['tank'], undefined, 'buried')).toBe('Oil tank: – -> buried');
    expect(line(['fuelId'], 'no2', 'b20')).toBe('Fuel: No. 2 oil -> B20 biodiesel blend');
    expect(line(['burner', 'maker'], 'Invented', 'Other')).toBe('Burner maker: Invented -> Other');
    expect(line(['burner', 'year'], 2012, 2013)).toBe('Burner year: 2012 -> 2013');
    expect(line(['consent'], undefined, false)).toBe('Saved with consent: – -> no');
  });

  it('writes power in the units of the user', () => {
    // 1 kW = 3412.14 Btu/h (International Table Btu, NIST SP 811 appendix B.8)
    expect(line(['ratedInputKw'], 29.3071, 35)).toBe('Rated input: 29.3 kW -> 35.0 kW');
    expect(line(['ratedInputKw'], 29.3071, 35.1685, 'us')).toBe('Rated input: 100 000 Btu/h -> 120 000 Btu/h');
    // what would read alike is written finer
    expect(line(['ratedOutputKw'], 29.301, 29.312)).toBe('Rated output: 29.301 kW -> 29.312 kW');
    expect(line(['ratedOutputKw'], 29.3071, 29.31, 'us')).toBe('Rated output: 100 000 Btu/h -> 100 010 Btu/h');
  });

  it('says that a person was taken out, what went with the person, and what came from elsewhere', () => {
    const made = { wallMs: 0, by: 'A. Sample' };
    expect(applianceEditText(personOutEdit(made), 'metric')).toEqual({ field: 'Person', before: '–', after: 'owner details removed' });
    expect(line(['owner'], undefined, undefined)).toBe('Owner: taken out -> taken out');
    expect(applianceEditText(movedInEdit(made), 'metric')).toEqual({
      field: 'Appliance',
      before: '–',
      after: 'came with visits from another computer',
    });
  });

  it('has a word for every field, and cuts what is long', () => {
    const { burner, ...rest } = Appliance.shape;
    const keys = [...Object.keys(rest), ...Object.keys(burner.unwrap().shape).map((key) => `burner.${key}`)];
    expect(keys.filter((key) => key !== 'format' && applianceEditWords.fields[key] === undefined)).toEqual([]);
    expect(line(['notes'], undefined, 'word '.repeat(800)).length).toBeLessThan(280);
  });
});

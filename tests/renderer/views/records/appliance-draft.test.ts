import { describe, expect, it } from 'vitest';
import { draftOf, readDraft, type DraftField } from '../../../../renderer/views/records/appliance/appliance-draft.ts';
import { dueWords, isoDayHere } from '../../../../renderer/views/records/due.ts';
import { Appliance } from '../../../../shared/tuning/visit/appliance.ts';

const full: Appliance = {
  format: 1,
  name: 'Boiler in the cellar',
  kind: 'boiler-water',
  place: '7 Sample Lane',
  owner: 'A. Sample',
  consent: true,
  maker: 'Invented Works',
  year: 2011,
  ratedInputKw: 29.307,
  tank: 'indoor',
  burner: { maker: 'Invented Burners', year: 2012 },
  pressurised: true,
  nextDue: '2027-11-30',
};
const typed = (texts: Partial<Record<DraftField, string>>, before: Appliance = full, units: 'metric' | 'us' = 'metric') => {
  const draft = draftOf(before, units);
  return readDraft({ ...draft, texts: { ...draft.texts, ...texts } }, before, units);
};

describe('the particulars of an appliance', () => {
  it.each(['metric', 'us'] as const)('come back as they were when nothing was typed, in %s units', (units) => {
    expect(typed({}, full, units)).toEqual({ appliance: full });
  });

  it('lose what was emptied, and a burner of which nothing is left', () => {
    const read = typed({ owner: ' ', place: '', burnerMaker: '', burnerYear: '', nextDue: '', ratedInput: '' });
    const { owner: _o, place: _p, consent: _c, burner: _b, nextDue: _d, ratedInputKw: _r, ...rest } = full;
    expect(read).toEqual({ appliance: rest });
  });

  it('take American figures of a plate', () => {
    // 100 000 Btu/h: 1 Btu = 1055.06 J, so 100 000 x 1055.06 / 3600 / 1000 = 29.307 kW
    const read = typed({ ratedInput: '100000' }, { ...full, ratedInputKw: 10 }, 'us');
    expect('appliance' in read ? read.appliance.ratedInputKw : 0).toBeCloseTo(29.307, 3);
  });

  it.each([
    // 3412.14 Btu/h a kW, no more digits than the plate has: 99 976 Btu/h was offered for 29.3 kW
    [29.3, '100000'],
    [29.30710701722, '100000'],
    [23.4, '79800'],
    [24.6, '83900'],
    [36.633883771525, '125000'],
  ])('%s kW in the digits that it was written with: %s Btu/h', (kw, shown) => {
    expect(draftOf({ ...full, ratedInputKw: kw }, 'us').texts.ratedInput).toBe(shown);
  });

  it('no longer count as taken out when a person is typed in again', () => {
    const out: Appliance = { format: 1, name: 'Unit 000001', kind: 'other', pseudonymised: true };
    expect(typed({ maker: 'Invented Works' }, out)).toEqual({ appliance: { ...out, maker: 'Invented Works' } });
    const { pseudonymised: _p, ...plain } = out;
    expect(typed({ owner: 'B. Sample' }, out)).toEqual({ appliance: { ...plain, owner: 'B. Sample', consent: false } });
  });

  it.each([
    ['name', '  '],
    ['name', 'x'.repeat(121)],
    ['year', '1066'],
    ['burnerYear', '2011.5'],
    ['ratedInput', '1,234.5'],
    ['ratedOutput', '-3'],
    ['ratedOutput', '0'],
    ['ratedOutput', '30000'],
    ['nextDue', '2027-02-30'],
  ] as const)('say what is wrong with %s: %s', (field, text) => {
    const read = typed({ [field]: text });
    expect('errors' in read ? Object.keys(read.errors) : []).toEqual([field]);
  });

  it('are always such as the records take', () => {
    const read = typed({ place: 'x'.repeat(300), notes: 'y'.repeat(4000) });
    expect('appliance' in read && Appliance.safeParse(read.appliance).success).toBe(true);
  });
});

describe('the next visit', () => {
  const noon = new Date(2026, 10, 25, 12).getTime();
  it('is said in words, by the day of this computer', () => {
    expect(isoDayHere(new Date(2026, 10, 25, 0, 1).getTime())).toBe('2026-11-25');
    expect(isoDayHere(new Date(2026, 10, 25, 23, 59).getTime())).toBe('2026-11-25');
    expect(dueWords('2026-11-24', noon)).toEqual({ text: 'overdue since 24 November 2026', isOver: true });
    expect(dueWords('2026-11-25', noon)).toEqual({ text: 'due today', isOver: false });
    expect(dueWords('2026-11-26', noon)).toEqual({ text: 'due 26 November 2026', isOver: false });
    expect(dueWords(undefined, noon)).toBeUndefined();
  });
});

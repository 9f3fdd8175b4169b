/** Names that boards and loggers write in several languages, with the unit that a careful reader takes. Invented data, shapes from memory. */
import { describe, expect, it } from 'vitest';
import { nameMeaning } from '../../../../shared/lines/learning/names/column-name.ts';

describe('units of pressure behind a name', () => {
  it.each([
    ['Draft hPa', 'hPa'],
    ['Tiraggio hPa', 'hPa'],
    ['Zug_hPa', 'hPa'],
    ['DrafthPa', 'hPa'],
    ['draft kPa', 'kPa'],
    ['Tirage mbar', 'mbar'],
    ['Draft Pa', 'Pa'],
    ['Zug Pa', 'Pa'],
    ['Draft mmH2O', 'mmH2O'],
    ['Zug mmWS', 'mmH2O'],
    ['draft_mmWC', 'mmH2O'],
    ['Draft inWC', 'inH2O'],
    ['draft_inH2O', 'inH2O'],
  ])('%s is a draft in %s', (name, unit) => {
    const { roles, unit: said } = nameMeaning(name);
    expect([roles.draft, said]).toEqual([3, unit]);
  });

  it.each(['Draft daPa', 'draft MPa', 'Draft mPa'])('%s is in no unit that is known, and never in Pa', (name) => {
    expect(nameMeaning(name).unit).toBeUndefined();
  });
});

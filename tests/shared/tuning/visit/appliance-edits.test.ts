import { describe, expect, it } from 'vitest';
import { Appliance } from '../../../../shared/tuning/visit/appliance.ts';
import { ApplianceEdit, applianceEdits, tellsPerson, withoutPersonIn } from '../../../../shared/tuning/visit/appliance-edits.ts';

const made = { wallMs: 7, by: 'A. Sample' };
/** every field of the schema has a value, so that one that is forgotten is seen */
type Full = Required<Omit<Appliance, 'burner'>> & { burner: Required<NonNullable<Appliance['burner']>> };
const full: Full = {
  format: 1,
  name: 'Boiler north',
  kind: 'boiler-water',
  place: '7 Sample Lane',
  owner: 'O. Sample',
  contact: 'door bell 3',
  consent: true,
  pseudonymised: false,
  maker: 'Invented Works',
  model: 'M 1',
  serial: 'SN-77',
  year: 2011,
  ratedInputKw: 29.3,
  ratedOutputKw: 25,
  fuelId: 'no2',
  tank: 'indoor',
  flueGas: 'low-temperature',
  burner: { maker: 'Invented Burners', model: 'B 1', serial: 'B-77', year: 2012 },
  pressurised: false,
  figuresCardId: 'card-1',
  nextDue: '2027-01-31',
  notes: 'key at the shop',
};
const plain: Appliance = { format: 1, name: 'Boiler north', kind: 'boiler-water' };

describe('what was changed of an appliance', () => {
  it('is nothing when nothing differs, however it is written', () => {
    const { name, ...rest } = full;
    expect(applianceEdits(full, { ...rest, burner: { ...full.burner }, name }, made)).toEqual([]);
    expect(applianceEdits(plain, { ...plain, maker: undefined }, made)).toEqual([]);
    expect(applianceEdits(plain, { ...plain, burner: {} }, made)).toEqual([]);
  });

  it('names each field with what stood there and what stands there now', () => {
    expect(applianceEdits(full, { ...full, maker: 'Other Works', nextDue: '2028-01-31' }, made)).toEqual([
      { ...made, path: ['maker'], before: 'Invented Works', after: 'Other Works' },
      { ...made, path: ['nextDue'], before: '2027-01-31', after: '2028-01-31' },
    ]);
    expect(applianceEdits(full, { ...full, burner: { ...full.burner, year: 2013 } }, made)).toEqual([
      { ...made, path: ['burner', 'year'], before: 2012, after: 2013 },
    ]);
  });

  it('has no value where nothing stood, and a value where “no” stood', () => {
    expect(applianceEdits(plain, { ...plain, consent: false }, made)).toEqual([{ ...made, path: ['consent'], after: false }]);
    expect(applianceEdits({ ...plain, consent: false }, plain, made)).toEqual([{ ...made, path: ['consent'], before: false }]);
  });

  it('forgets no field: all that was typed, and all that was taken away, of a burner each part', () => {
    const paths = Object.keys(full)
      .filter((key) => !['format', 'name', 'kind'].includes(key))
      .flatMap((key) => (key === 'burner' ? Object.keys(full.burner).map((inner) => `burner.${inner}`) : [key]));
    expect(new Set(Object.keys(full))).toEqual(new Set(Object.keys(Appliance.shape)));
    const typed = applianceEdits(plain, full, made);
    expect(typed.map(({ path }) => path.join('.')).sort()).toEqual(paths.sort());
    expect(typed.every((edit) => edit.before === undefined && edit.after !== undefined)).toBe(true);
    const gone = applianceEdits(full, plain, made);
    expect(gone.map(({ path }) => path.join('.')).sort()).toEqual(paths.sort());
    expect(gone.every((edit) => edit.before !== undefined && edit.after === undefined)).toBe(true);
    for (const edit of [...typed, ...gone]) expect(ApplianceEdit.parse(edit)).toEqual(edit);
  });
});

describe('a person in what was changed', () => {
  it('goes with both values; who, when and which field stay, and the machine’s values too', () => {
    const person = ['name', 'place', 'owner', 'contact', 'notes', 'consent'];
    const edits = applianceEdits({ ...full, name: 'House of O. Sample' }, plain, made);
    for (const edit of edits) {
      const isOfPerson = person.includes(String(edit.path[0]));
      expect(tellsPerson(edit), edit.path.join('.')).toBe(isOfPerson);
      expect(withoutPersonIn(edit)).toEqual(isOfPerson ? { ...made, path: edit.path } : edit);
      expect(tellsPerson(withoutPersonIn(edit))).toBe(false);
    }
    expect(edits.filter(tellsPerson).map(({ path }) => path[0])).toEqual(expect.arrayContaining(person));
  });
});

/** The particulars of an appliance as they are typed, and back. Pure. */
import type { Appliance } from '../../../../shared/tuning/visit/appliance.ts';
import { BTU_PER_KWH } from '../../../../shared/units/convert.ts';
import { records } from '../../../../shared/words/records/records.ts';
import { errorOf, type Typed, typedDay, typedPlain, typedText, typedWhole, valueOf } from '../../../fields/typed.ts';
import type { UnitSystem } from '../../../../shared/format/quantity.ts';

const words = records.particulars;

export type DraftField =
  | 'name'
  | 'place'
  | 'owner'
  | 'contact'
  | 'maker'
  | 'model'
  | 'serial'
  | 'notes'
  | 'burnerMaker'
  | 'burnerModel'
  | 'burnerSerial'
  | 'year'
  | 'burnerYear'
  | 'ratedInput'
  | 'ratedOutput'
  | 'nextDue';

export type ApplianceDraft = {
  readonly texts: Readonly<Record<DraftField, string>>;
  readonly kind: Appliance['kind'];
  readonly tank: NonNullable<Appliance['tank']> | '';
  readonly flueGas: NonNullable<Appliance['flueGas']> | '';
  readonly consent: boolean;
};

const longest: Partial<Record<DraftField, number>> = { place: 300, contact: 300, notes: 4000 };

/** kW, or Btu/h where the app shows American units. */
export const powerUnit = (units: UnitSystem): string => (units === 'us' ? 'Btu/h' : 'kW');
const powerFactor = (units: UnitSystem): number => (units === 'us' ? BTU_PER_KWH : 1);

/** In Btu/h with no more digits than the figure in kW has, and three at least: 29.3 kW on a plate is 100 000 Btu/h, not 99 976. */
function btuOf(kw: number): number {
  const exact = kw * BTU_PER_KWH;
  const half = 0.5 * 10 ** -(String(kw).split('.')[1]?.length ?? 0);
  const rounded = [3, 4, 5].map((digits) => Number(exact.toPrecision(digits)));
  return rounded.find((btu) => Math.abs(btu / BTU_PER_KWH - kw) <= half) ?? Math.round(exact);
}

export function draftOf(appliance: Appliance, units: UnitSystem): ApplianceDraft {
  const { burner } = appliance;
  const power = (kw: number | undefined): string =>
    kw === undefined ? '' : String(units === 'us' ? btuOf(kw) : Math.round(kw * 1000) / 1000);
  return {
    kind: appliance.kind,
    tank: appliance.tank ?? '',
    flueGas: appliance.flueGas ?? '',
    consent: appliance.consent === true,
    texts: {
      name: appliance.name,
      place: appliance.place ?? '',
      owner: appliance.owner ?? '',
      contact: appliance.contact ?? '',
      maker: appliance.maker ?? '',
      model: appliance.model ?? '',
      serial: appliance.serial ?? '',
      notes: appliance.notes ?? '',
      burnerMaker: burner?.maker ?? '',
      burnerModel: burner?.model ?? '',
      burnerSerial: burner?.serial ?? '',
      year: appliance.year === undefined ? '' : String(appliance.year),
      burnerYear: burner?.year === undefined ? '' : String(burner.year),
      ratedInput: power(appliance.ratedInputKw),
      ratedOutput: power(appliance.ratedOutputKw),
      nextDue: appliance.nextDue ?? '',
    },
  };
}

export type ReadDraft = { appliance: Appliance } | { errors: Partial<Record<DraftField, string>> };

/** @param before what is not in the form stays as it was */
export function readDraft({ texts, kind, tank, flueGas, consent }: ApplianceDraft, before: Appliance, units: UnitSystem): ReadDraft {
  const errors: Partial<Record<DraftField, string>> = {};
  const taken = <T>(field: DraftField, typed: Typed<T>, wrong = errorOf(typed)): T | undefined => {
    if (typed.kind === 'wrong') errors[field] = wrong ?? typed.error;
    return valueOf(typed);
  };
  const text = (field: DraftField): string | undefined => taken(field, typedText(texts[field], longest[field] ?? 120));
  const year = (field: DraftField): number | undefined =>
    taken(field, typedWhole(texts[field], { low: 1900, high: 2100 }), words.yearWrong);
  const power = (field: DraftField, unchangedKw: number | undefined): number | undefined => {
    const typed = typedPlain(texts[field]);
    if (typed.kind === 'empty') return undefined;
    // what was not touched is not rounded
    if (texts[field] === draftOf(before, units).texts[field]) return unchangedKw;
    const kw = typed.kind === 'value' ? typed.value / powerFactor(units) : 0;
    if (kw > 0 && kw <= 20_000) return kw;
    errors[field] = typed.kind === 'wrong' ? typed.error : words.powerWrong;
    return undefined;
  };
  const day = taken('nextDue', typedDay(texts.nextDue));
  const name = text('name');
  if (name === undefined) errors.name = words.nameMissing;
  const burner = { maker: text('burnerMaker'), model: text('burnerModel'), serial: text('burnerSerial'), year: year('burnerYear') };
  const isSomebody = ['place', 'owner', 'contact'].some((field) => texts[field as DraftField].trim() !== '');
  const appliance: Appliance = {
    ...before,
    name: name ?? before.name,
    kind,
    place: text('place'),
    owner: text('owner'),
    contact: text('contact'),
    notes: text('notes'),
    maker: text('maker'),
    model: text('model'),
    serial: text('serial'),
    year: year('year'),
    ratedInputKw: power('ratedInput', before.ratedInputKw),
    ratedOutputKw: power('ratedOutput', before.ratedOutputKw),
    nextDue: day,
    tank: tank === '' ? undefined : tank,
    flueGas: flueGas === '' ? undefined : flueGas,
    burner: Object.values(burner).every((value) => value === undefined) ? undefined : burner,
    consent: isSomebody ? consent : undefined,
    pseudonymised: isSomebody ? undefined : before.pseudonymised,
  };
  return Object.keys(errors).length > 0 ? { errors } : { appliance: withoutBlanks(appliance) };
}

/** What travels has no undefined in it. */
const withoutBlanks = (appliance: Appliance): Appliance => JSON.parse(JSON.stringify(appliance)) as Appliance;

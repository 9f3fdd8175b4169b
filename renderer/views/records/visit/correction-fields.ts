/** What a person typed into a visit and may put right after signing: the field, its present value, and how it is typed. Pure. */
import { editText } from '../../../../shared/report/edit-words.ts';
import { setUpItemNames } from '../../../../shared/tuning/set-up/set-up-sheet.ts';
import type { Edit, Visit } from '../../../../shared/tuning/visit/visit.ts';
import type { QuantityId } from '../../../../shared/units/quantities.ts';
import { records } from '../../../../shared/words/records/records.ts';
import { plainText, type Typed, typedPlain, typedQuantity } from '../../../fields/typed.ts';
import { isLength, itemNames } from '../../../../shared/geometry/items.ts';
import { figureError } from '../../geometry/use-lead.ts';
import { fieldOf } from '../../visit/steps/set-up/set-up-fields.ts';
import { formatNumber, shownAs, type UnitSystem } from '../../../../shared/format/quantity.ts';
import { whenDefined } from '../../../../shared/defined.ts';

export type CorrectionField = {
  readonly key: string;
  readonly label: string;
  readonly path: Edit['path'];
  /** as it would be typed; empty where nothing stood */
  readonly shown: string;
  readonly unit: string;
  readonly read: (text: string) => Typed<unknown>;
  /** may be taken away altogether */
  readonly mayBeEmpty: boolean;
};

/** @param visit as it reads now, with the corrections made since @param wallMs for a note that is added */
export function correctionFields(visit: Visit, units: UnitSystem, wallMs: number): CorrectionField[] {
  const label = (path: Edit['path'], value: unknown): string => editText({ path, after: value as Edit['after'] }, { visit, units }).field;
  const text = (path: Edit['path'], value: string | undefined, mayBeEmpty = true): CorrectionField => ({
    key: path.join(' '),
    label: label(path, value ?? ''),
    path,
    shown: value ?? '',
    unit: '',
    read: plainText,
    mayBeEmpty,
  });
  const plain = (path: Edit['path'], value: number, unit: string, decimals: number, mayBeEmpty = true): CorrectionField => ({
    key: path.join(' '),
    label: label(path, value),
    path,
    shown: formatNumber(value, decimals),
    unit,
    read: (typed) => typedPlain(typed),
    mayBeEmpty,
  });
  const quantity = (path: Edit['path'], value: number, id: QuantityId): CorrectionField => {
    const { unit, factor, offset, decimals } = shownAs(id, units);
    return {
      ...plain(path, value, unit, decimals),
      shown: formatNumber(value * factor + offset, decimals),
      read: (typed) => typedQuantity(typed, id, units),
    };
  };
  const note: CorrectionField = {
    key: 'note',
    label: records.correct.note,
    path: ['notes', visit.notes.length],
    shown: '',
    unit: '',
    read: (typed) => {
      const read = plainText(typed);
      return read.kind === 'value' ? { kind: 'value', value: { wallMs, text: read.value } } : read;
    },
    mayBeEmpty: false,
  };
  const setUp = setUpItemNames.flatMap((item): CorrectionField[] =>
    (['asFound', 'asLeft'] as const).flatMap((which) => {
      const value = visit.setUp.rows[item]?.[which];
      if (value === undefined) return [];
      const path = ['setUp', 'rows', item, which];
      const { unit, write, read } = fieldOf(item, units, visit.setUp.lengthUnit);
      return [{ key: path.join(' '), label: label(path, value), path, shown: write(value), unit, read, mayBeEmpty: true }];
    }),
  );
  const geometry = itemNames.flatMap((item): CorrectionField[] =>
    (['asFound', 'asLeft'] as const).flatMap((which) => {
      const value = visit.setUp.geometry?.rows?.[item]?.[which];
      if (value === undefined) return [];
      const path = ['setUp', 'geometry', 'rows', item, which];
      const read: CorrectionField['read'] = (typed) => {
        const error = figureError(item, typed, visit.setUp.lengthUnit);
        return error === undefined ? plainText(typed) : { kind: 'wrong', error };
      };
      const unit = isLength(item) ? (visit.setUp.lengthUnit === 'mm' ? 'mm' : 'in') : '';
      return [{ key: path.join(' '), label: label(path, value), path, shown: value, unit, read, mayBeEmpty: true }];
    }),
  );
  return [
    note,
    ...visit.people.flatMap((person, at) => [
      text(['people', at, 'name'], person.name, false),
      text(['people', at, 'licence'], person.licence),
    ]),
    text(['instrumentName'], visit.instrumentName),
    ...geometry,
    ...setUp,
    ...whenDefined(visit.airTypedC, (airTypedC) => quantity(['airTypedC'], airTypedC, 'airTemperature')),
    ...visit.roomCo.map(({ ppm }, at) => plain(['roomCo', at, 'ppm'], ppm, 'ppm', 0, false)),
    ...visit.safety.flatMap((result, at) => [
      ...whenDefined(result.seconds, (seconds) => plain(['safety', at, 'seconds'], seconds, 's', 1)),
      ...whenDefined(result.markedSeconds, (markedSeconds) => plain(['safety', at, 'markedSeconds'], markedSeconds, 's', 1)),
      text(['safety', at, 'note'], result.note),
    ]),
    ...visit.trials.flatMap(({ draft }, at) =>
      (['overFirePa', 'breechPa'] as const).flatMap((which) => {
        const value = draft?.[which];
        return value === undefined ? [] : [quantity(['trials', at, 'draft', which], value, 'draft')];
      }),
    ),
    ...visit.notes.map(({ text: written }, at) => ({
      ...text(['notes', at, 'text'], written, false),
      label: records.correct.noteOf(written.length > 40 ? `${written.slice(0, 40)}…` : written),
    })),
  ];
}

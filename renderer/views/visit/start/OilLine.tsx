/** The line from tank to pump, and what its vacuum should be. */
import { formatNumber, type UnitSystem } from '../../../../shared/format/quantity.ts';
import { expectedVacuumPa, oilPipes, vacuumSays, type OilLine as Line } from '../../../../shared/tuning/set-up/oil-line.ts';
import { presentValue } from '../../../../shared/tuning/set-up/set-up-sheet.ts';
import { M_PER_FT } from '../../../../shared/units/convert.ts';
import { oilLineWords as words } from '../../../../shared/words/tune/oil-line.ts';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { KeptField } from '../../../fields/KeptField.tsx';
import { typedPlain } from '../../../fields/typed.ts';
import { writtenItem } from '../steps/set-up/set-up-fields.ts';
import type { VisitChange } from '../../../backend/visit-edits.ts';
import type { VisitHere } from '../use-visit.ts';
import '../visit.css';
import './start.css';
import { Choice } from '../../../components/Field.tsx';

const lengthOf = (units: UnitSystem) => (units === 'us' ? { unit: 'ft', m: M_PER_FT } : { unit: 'm', m: 1 });

export function OilLine({ here: { visit, units, may, edit, put: pressed } }: { here: VisitHere }) {
  const { setUp } = visit;
  const line: Line = setUp.oilLine ?? {};
  const { unit, m } = lengthOf(units);
  const withPart = (part: Partial<Record<keyof Line, unknown>>): VisitChange => ({
    path: ['setUp', 'oilLine'],
    after: Object.fromEntries(Object.entries({ ...line, ...part }).filter(([, value]) => value !== undefined)),
  });
  const metres = (key: 'liftM' | 'runM') => (
    <KeptField
      name={`oil-${key}`}
      label={words.labels[key]}
      width={150}
      unit={unit}
      disabled={!may}
      shown={line[key] === undefined ? '' : formatNumber(line[key] / m, 1)}
      parse={(text) => typedPlain(text)}
      keep={(value) => edit(withPart({ [key]: value === undefined ? undefined : value * m }))}
    />
  );
  const expected = expectedVacuumPa(line);
  const says = vacuumSays(line, presentValue(setUp, 'vacuumPa'));
  const written = (pa: number): string => writtenItem('vacuumPa', pa, units, setUp.lengthUnit);
  return (
    <section aria-label={words.title} className="stage-nozzles">
      <h2>{words.title}</h2>
      <div className="adjusters-found">
        <label>
          <span className="field-label">{words.labels.pipes}</span>
          <Choice
            bare
            label={words.labels.pipes}
            value={line.pipes ?? ''}
            width={190}
            disabled={!may}
            change={(pipes) => pressed(withPart({ pipes: pipes === '' ? undefined : pipes }))}
            options={[{ value: '' as const, text: words.notSaid }, ...oilPipes.map((value) => ({ value, text: words.pipes[value] }))]}
          />
        </label>
        {metres('liftM')}
        {metres('runM')}
        <label>
          <span className="field-label">{words.labels.filter}</span>
          <Choice
            bare
            label={words.labels.filter}
            value={line.filter === undefined ? '' : line.filter ? 'yes' : 'no'}
            width={190}
            disabled={!may}
            change={(filter) => pressed(withPart({ filter: filter === '' ? undefined : filter === 'yes' }))}
            options={[
              { value: '' as const, text: words.notSaid },
              { value: 'yes' as const, text: words.yes },
              { value: 'no' as const, text: words.no },
            ]}
          />
        </label>
      </div>
      {line.pipes !== undefined && <p className="second">{words.about[line.pipes]}</p>}
      {expected !== undefined && (
        <p className="verdict">
          <VerdictSign verdict={says === undefined ? 'open' : says === 'as-expected' ? 'pass' : 'notice'} />
          <span>{words.expected(written(expected), says)}</span>
        </p>
      )}
    </section>
  );
}

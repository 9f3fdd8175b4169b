import { makersLimits, setUpVerdict, type SetUpItem } from '../../../../../shared/tuning/set-up/set-up-sheet.ts';
import { isNewChange } from '../../../../../shared/tuning/set-up/geometry-changes.ts';
import { changeKindOf } from '../../../../../shared/tuning/visit/steps.ts';
import { common } from '../../../../../shared/words/common.ts';
import { setUpVerdicts, setUpWords } from '../../../../../shared/words/visit/set-up-items.ts';
import { setUpScreen as words } from '../../../../../shared/words/visit/screens/set-up.ts';
import { useParts } from '../../../../app-parts.ts';
import { flowChanges } from '../../../geometry/use-lead.ts';
import { KeptField } from '../../../../fields/KeptField.tsx';
import { fieldOf } from './set-up-fields.ts';
import { VerdictScale } from '../../../../../shared/report/drawings/VerdictScale.tsx';
import { VerdictSign } from '../../../../../shared/report/drawings/VerdictSign.tsx';
import type { VisitHere } from '../../use-visit.ts';

export function SetUpRowView({ item, here }: { item: SetUpItem; here: VisitHere }) {
  const { visits } = useParts();
  const { visit, units, may, edit } = here;
  const row = visit.setUp.rows[item];
  const field = fieldOf(item, units, visit.setUp.lengthUnit);
  const which = row?.asLeft === undefined ? 'asFound' : 'asLeft';
  const verdict = setUpVerdict(row, which);
  const value = row?.[which];
  const limits = makersLimits(row?.maker);
  const path = ['setUp', 'rows', item];
  const keepValue = (key: 'asFound' | 'asLeft') => (after: number | undefined) => {
    if (item === 'nozzleFlowLh') return edit(...flowChanges(here, key, after, visits.nowWallMs()));
    const kind = key === 'asLeft' && after !== undefined && after !== row?.asFound ? changeKindOf(item) : undefined;
    return edit(
      { path, after: { ...row, [key]: after } },
      ...(kind === undefined || !isNewChange(visit, kind, setUpWords[item])
        ? []
        : [{ path: ['changes', visit.changes.length], after: { wallMs: visits.nowWallMs(), kind, note: setUpWords[item] } }]),
    );
  };
  const keepMaker = (key: 'nominal' | 'tolerance') => (after: number | undefined) =>
    key === 'tolerance' && after !== undefined && after < 0
      ? common.fieldErrors.tooLow('0')
      : edit({ path, after: { ...row, maker: { ...row?.maker, [key]: after } } });
  const cell = (
    key: 'asFound' | 'asLeft' | 'nominal' | 'tolerance',
    label: string,
    inner: number | undefined,
    keep: (value: number | undefined) => string | undefined,
  ) => (
    <td>
      <KeptField
        bare
        name={`set-up-${item}-${key}`}
        label={`${setUpWords[item]}, ${label}`}
        unit={key === 'tolerance' ? '' : field.unit}
        disabled={!may}
        shown={inner === undefined ? '' : field.write(inner)}
        parse={key === 'tolerance' ? field.readTolerance : field.read}
        keep={keep}
      />
    </td>
  );
  return (
    <tr>
      <th scope="row">{setUpWords[item]}</th>
      {cell('asFound', words.found, row?.asFound, keepValue('asFound'))}
      {cell('asLeft', words.left, row?.asLeft, keepValue('asLeft'))}
      {cell('nominal', words.maker, row?.maker?.nominal, keepMaker('nominal'))}
      {cell('tolerance', words.tolerance, row?.maker?.tolerance, keepMaker('tolerance'))}
      <td className="scale-column">
        {value !== undefined && limits !== undefined && (
          <VerdictScale
            width={116}
            picture={{ value, low: limits.low, high: limits.high, verdict: verdict === 'in' ? 'pass' : 'fail', label: '' }}
          />
        )}
      </td>
      <td>
        <span className="verdict">
          <VerdictSign verdict={verdict === 'in' ? 'pass' : verdict === 'out' ? 'fail' : 'open'} />
          <span className={verdict === 'in' || verdict === 'out' ? 'bold' : 'second small'}>
            {verdict === 'in' || verdict === 'out' ? setUpVerdicts[verdict] : ''}
          </span>
          <span className="hidden-text">{setUpVerdicts[verdict]}</span>
        </span>
      </td>
    </tr>
  );
}

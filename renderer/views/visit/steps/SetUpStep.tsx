import { useState } from 'react';
import { firingRate } from '../../../../shared/tuning/trial/firing-rate.ts';
import { checkPosition } from '../../../../shared/tuning/trial/adjuster.ts';
import { withPosition, positionOf } from '../../../../shared/tuning/trial/setting.ts';
import {
  implausible,
  makersLimits,
  nozzlePatterns,
  presentValue,
  setUpItemNames,
  setUpVerdict,
  type SetUpItem,
} from '../../../../shared/tuning/set-up/set-up-sheet.ts';
import { isMoved, withGeometryRows, unitChanges, type GeometryNow } from '../../../../shared/tuning/set-up/geometry-now.ts';
import { isNewChange } from '../../../../shared/tuning/set-up/geometry-changes.ts';
import { changeKindOf } from '../../../../shared/tuning/visit/steps.ts';
import { positionRefusal } from '../../../../shared/words/visit/refusals.ts';
import { setUpHint, setUpVerdicts, setUpWords } from '../../../../shared/words/visit/set-up-items.ts';
import { setUpScreen as words } from '../../../../shared/words/visit/screens/set-up.ts';
import { trueSizeWords } from '../../../../shared/words/paper/geometry-sheet.ts';
import { leadWords } from '../../../../shared/words/geometry/lead.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Key } from '../../../components/Key.tsx';
import { NoteSign } from '../../../components/Signs.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { GeometryFar } from '../../geometry/GeometryFar.tsx';
import { GeometryLead } from '../../geometry/GeometryLead.tsx';
import { GeometryRows, tableTitle } from '../../geometry/GeometryTable.tsx';
import { TableDrawing } from '../../geometry/TableDrawing.tsx';
import { TrueSizeDialog } from '../../geometry/TrueSizeDialog.tsx';
import { settingLeft } from '../../../../shared/tuning/visit/carry-over.ts';
import { settingWords } from '../../tune/setting-words.ts';
import { flowChanges, useLead, type Lead } from '../../geometry/use-lead.ts';
import { BareChoice, KeptField, optionsOf } from '../../../fields/KeptField.tsx';
import { typedPlain } from '../../../fields/typed.ts';
import { AdjusterKinds } from '../start/AdjusterKinds.tsx';
import { fieldOf, writtenItem } from './set-up-fields.ts';
import { useGoOn, StepFrame } from './StepFrame.tsx';
import { VerdictScale } from '../../../../shared/report/drawings/VerdictScale.tsx';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { OilLine } from '../start/OilLine.tsx';
import { StageNozzles } from '../start/StageNozzles.tsx';
import { fuelOf } from '../visit-facts.ts';
import type { VisitHere } from '../use-visit.ts';
import { formatNumber, formatPosition, withUnit } from '../../../../shared/format/quantity.ts';
import { BTU_PER_KWH } from '../../../../shared/units/convert.ts';
import '../visit.css';
import './StepFrame.css';
import './steps.css';

/** Measured before firing, against the burner maker's figures: one at a time in the order of the hands, or everything in a table. */
export function SetUpStep() {
  const [isTable, setTable] = useState(false);
  const far = useApp((state) => state.far);
  const { text, go } = useGoOn('set-up');
  const lead = useLead({ name: text, run: go });
  if (far) return <GeometryFar lead={lead} />;
  return isTable ? <SetUpTable lead={lead} toLead={() => setTable(false)} /> : <GeometryLead lead={lead} toTable={() => setTable(true)} />;
}

function SetUpTable({ lead: { here, now }, toLead }: { lead: Lead; toLead: () => void }) {
  const { visit, may, edit } = here;
  const [isSheet, setSheet] = useState(false);
  useKey('together', toLead);
  return (
    <StepFrame
      step="set-up"
      right={<SetUpRight here={here} now={now} />}
      others={
        <>
          <button type="button" className="button" onClick={() => setSheet(true)}>
            {trueSizeWords.title}
          </button>
          <button type="button" className="button tall" onClick={toLead}>
            {leadWords.oneAtATime} <Key action="together" />
          </button>
        </>
      }
    >
      {isSheet && <TrueSizeDialog close={() => setSheet(false)} />}
      <div className="set-up-head">
        <h2>{words.title}</h2>
        <span className="second small grow">{tableTitle(now)}</span>
        <span className="second small unwrapped">{words.lengthUnit}</span>
        <BareChoice
          label={words.lengthUnit}
          value={visit.setUp.lengthUnit}
          width={150}
          disabled={!may}
          change={(unit) => edit(...unitChanges(visit.setUp, unit))}
          options={optionsOf(words.lengthUnits)}
        />
      </div>
      <AdjustersFound here={here} />
      <AdjusterKinds />
      <table className="set-up" aria-label={words.title}>
        <thead>
          <tr>
            <th scope="col">{words.item}</th>
            <th scope="col">{words.found}</th>
            <th scope="col">{words.left}</th>
            <th scope="col">{words.maker}</th>
            <th scope="col">{words.tolerance}</th>
            <th scope="col" className="scale-column">
              {words.scale}
            </th>
            <th scope="col">{words.verdict}</th>
          </tr>
        </thead>
        <tbody>
          <GeometryRows here={here} now={now} />
          {setUpItemNames
            .filter((item) => !isMoved(item))
            .map((item) => (
              <SetUpRowView key={item} item={item} here={here} />
            ))}
          <tr>
            <th scope="row">{words.pattern}</th>
            {(['asFound', 'asLeft'] as const).map((which) => (
              <td key={which}>
                <BareChoice
                  label={`${words.pattern}, ${which === 'asFound' ? words.found : words.left}`}
                  value={visit.setUp.nozzlePattern?.[which] ?? ''}
                  disabled={!may}
                  change={(pattern) =>
                    edit({
                      path: ['setUp', 'nozzlePattern'],
                      after: { ...visit.setUp.nozzlePattern, [which]: pattern === '' ? undefined : pattern },
                    })
                  }
                  options={[
                    { value: '' as const, text: words.patterns[''] },
                    ...nozzlePatterns.map((value) => ({ value, text: words.patterns[value] })),
                  ]}
                />
              </td>
            ))}
            <td colSpan={4} />
          </tr>
        </tbody>
      </table>
      <StageNozzles here={here} />
      <OilLine here={here} />
    </StepFrame>
  );
}

export function AdjustersFound({ here: { visit, stage, may, edit, formats } }: { here: VisitHere }) {
  const setting = visit.settingFound;
  const lastVisit = useApp((state) => state.lastVisit);
  const left = setting === undefined ? settingLeft(lastVisit, stage.name, visit.adjusters) : undefined;
  return (
    <fieldset className="adjusters-found">
      <legend className="field-label">{words.adjusters}</legend>
      {visit.adjusters.map((adjuster) => {
        const value = setting === undefined ? undefined : positionOf(setting, adjuster.name);
        const keep = (position: number | undefined): string | undefined => {
          if (position === undefined) {
            const positions = (setting?.positions ?? []).filter(({ name }) => name !== adjuster.name);
            return edit({ path: ['settingFound'], after: positions.length === 0 ? undefined : { stage: '1', positions } });
          }
          const checked = checkPosition(adjuster, position);
          if (!checked.ok) return positionRefusal(checked.error, formats);
          return edit({ path: ['settingFound'], after: withPosition(setting ?? { stage: '1', positions: [] }, adjuster.name, position) });
        };
        return (
          <KeptField
            key={adjuster.name}
            name={`found-${adjuster.name}`}
            label={adjuster.name}
            width={150}
            disabled={!may}
            unit={adjuster.unit}
            shown={value === undefined ? '' : formatPosition(value)}
            parse={(text) => typedPlain(text)}
            keep={keep}
          />
        );
      })}
      {left !== undefined && (
        <button type="button" className="button" disabled={!may} onClick={() => edit({ path: ['settingFound'], after: left })}>
          {words.sameAsLeft(settingWords(left))}
        </button>
      )}
    </fieldset>
  );
}

function SetUpRowView({ item, here }: { item: SetUpItem; here: VisitHere }) {
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
      ? setUpVerdicts['not-given']
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

function SetUpRight({ here: { visit, units, formats }, now }: { here: VisitHere; now: GeometryNow }) {
  const sheet = withGeometryRows(visit.setUp);
  const which = Object.values(sheet.rows).some((row) => row?.asLeft !== undefined) ? 'asLeft' : 'asFound';
  const hints = [...implausible(sheet, 'asFound'), ...(which === 'asLeft' ? implausible(sheet, 'asLeft') : [])];
  const fuel = fuelOf(visit);
  const rate = fuel === undefined ? undefined : firingRate(sheet, fuel);
  const figure = (label: string, value: string) => (
    <div className="computed" key={label}>
      <dt>{label}</dt>
      <dd className="number">{value}</dd>
    </div>
  );
  const kilowatts = (kw: number): string =>
    units === 'us' ? withUnit(formatNumber((kw * BTU_PER_KWH) / 1000, 1), 'kBtu/h') : withUnit(formatNumber(kw, 1), 'kW');
  return (
    <>
      <TableDrawing now={now} angleDeg={presentValue(sheet, 'nozzleAngleDeg')} />
      <section aria-label={words.computed}>
        <h2>{words.computed}</h2>
        {rate === undefined ? (
          <p className="second">{words.noFlow}</p>
        ) : (
          <dl>
            {figure(words.flow, writtenItem('nozzleFlowLh', rate.flowLPerH, units, sheet.lengthUnit))}
            {figure(words.massFlow, withUnit(formatNumber(rate.flowKgPerH, 2), 'kg/h'))}
            {figure(words.inputHhv, kilowatts(rate.inputHhvKw))}
            {figure(words.inputLhv, kilowatts(rate.inputLhvKw))}
          </dl>
        )}
        {sheet.ratedPressurePa !== undefined && <p className="second small">{words.rated(formats.pressure(sheet.ratedPressurePa))}</p>}
      </section>
      {hints.length > 0 && (
        <section aria-label={words.hints}>
          <h2>{words.hints}</h2>
          {hints.map((hint, index) => (
            <div key={index} className="say hint-line">
              <NoteSign />
              <span>{setUpHint(hint.item, hint.source)}</span>
            </div>
          ))}
        </section>
      )}
    </>
  );
}

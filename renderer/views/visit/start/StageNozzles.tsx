/** Nozzles as they are stamped, the pressure of each stage, and the aid that goes from a wanted input to a nozzle. */
import { useState } from 'react';
import {
  nozzlePatterns,
  stampUnits,
  type NozzleStamp,
  type StageNozzle,
  type StampUnit,
} from '../../../../shared/tuning/set-up/set-up-sheet.ts';
import { derate, nozzleAt, stageFirings, stampPressures, stampedLh } from '../../../../shared/tuning/set-up/stage-nozzle.ts';
import { nozzleWords as words } from '../../../../shared/words/tune/nozzle.ts';
import { setUpScreen } from '../../../../shared/words/visit/screens/set-up.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { useApp } from '../../../app-parts.ts';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { Choice, Field } from '../../../components/Field.tsx';
import { KeptField } from '../../../fields/KeptField.tsx';
import { errorOf, typedPlain, typedQuantity, valueOf } from '../../../fields/typed.ts';
import { fuelOf } from '../visit-facts.ts';
import type { VisitChange } from '../../../backend/visit-edits.ts';
import type { VisitHere } from '../use-visit.ts';
import { formatNumber, formatWithUnit, shownAs, withUnit, type UnitSystem } from '../../../../shared/format/quantity.ts';
import { BTU_PER_KWH } from '../../../../shared/units/convert.ts';
import '../visit.css';
import './start.css';

/** Input is spoken of on the higher heating value in US units, on the lower one in metric ones. */
const inputUnit = (units: UnitSystem) =>
  units === 'us'
    ? { unit: 'kBtu/h, HHV', factor: BTU_PER_KWH / 1000, basis: 'hhv' as const }
    : { unit: 'kW, LHV', factor: 1, basis: 'lhv' as const };

export function StageNozzles({ here }: { here: VisitHere }) {
  const { visit, units } = here;
  const fuel = fuelOf(visit);
  const names = visit.stages.map(({ name }) => name);
  const firings = fuel === undefined ? [] : stageFirings(visit.setUp, names, fuel);
  const { unit, factor, basis } = inputUnit(units);
  return (
    <section aria-label={words.title} className="stage-nozzles">
      <h2>{words.title}</h2>
      <table className="set-up stage-table" aria-label={words.title}>
        <thead>
          <tr>
            <th scope="col">{words.columns.stage}</th>
            <th scope="col">{words.columns.stamp}</th>
            <th scope="col">{words.columns.unit}</th>
            <th scope="col">{words.columns.at}</th>
            <th scope="col">{words.columns.angle}</th>
            <th scope="col">{words.columns.pattern}</th>
            <th scope="col">{words.columns.pump}</th>
            <th scope="col">{words.columns.flow}</th>
          </tr>
        </thead>
        <tbody>
          {names.map((stage, at) => {
            const rate = firings.find((one) => one.stage === stage)?.firing;
            return (
              <StageRow key={stage} stage={stage} isFirst={at === 0} here={here}>
                {rate === undefined ? (
                  '–'
                ) : (
                  <>
                    {formatWithUnit('nozzleFlow', rate.flowLPerH, units)}
                    <br />
                    <span className="second small">
                      {formatNumber((basis === 'hhv' ? rate.inputHhvKw : rate.inputLhvKw) * factor, 1)} {unit}
                    </span>
                  </>
                )}
              </StageRow>
            );
          })}
        </tbody>
      </table>
      <Derating here={here} />
    </section>
  );
}

function StageRow({ stage, isFirst, here, children }: { stage: string; isFirst: boolean; here: VisitHere; children: React.ReactNode }) {
  const { visit, units, may, edit, put: pressed } = here;
  const { setUp } = visit;
  const first = visit.stages[0]?.name ?? '1';
  const nozzle = nozzleAt(setUp, stage, first);
  const others = (setUp.stages ?? []).filter((one) => one.stage !== stage);
  const own = setUp.stages?.find((one) => one.stage === stage) ?? { stage };
  const row = (item: 'nozzleFlowLh' | 'nozzleAngleDeg' | 'pumpPressurePa', value: number | undefined) => {
    const before = setUp.rows[item];
    // as left where that was measured already, else as found: the field says what is in the burner now
    const key = before?.asLeft === undefined ? 'asFound' : 'asLeft';
    const { [key]: _gone, ...rest } = before ?? {};
    return { path: ['setUp', 'rows', item], after: value === undefined ? rest : { ...rest, [key]: value } };
  };
  const put = (part: Partial<Record<keyof StageNozzle, unknown>>): { path: string[]; after: unknown } => ({
    path: ['setUp', 'stages'],
    after: [...others, Object.fromEntries(Object.entries({ ...own, ...part }).filter(([, value]) => value !== undefined))],
  });
  const ofStamp = (stamp: NozzleStamp | undefined): VisitChange[] => [
    put({ stamp }),
    ...(isFirst
      ? [
          row('nozzleFlowLh', stamp === undefined ? undefined : stampedLh(stamp)),
          { path: ['setUp', 'ratedPressurePa'], after: stamp?.atPa },
        ]
      : []),
  ];
  const usual: Pick<NozzleStamp, 'unit' | 'atPa'> =
    units === 'us' ? { unit: 'gph', atPa: stampPressures[0] } : { unit: 'kg/h', atPa: stampPressures[2] };
  const stamp = nozzle.stamp;
  const [unitChosen, setUnit] = useState<StampUnit>();
  const [atChosen, setAt] = useState<number>();
  const unit = stamp?.unit ?? unitChosen ?? usual.unit;
  const atPa = stamp?.atPa ?? atChosen ?? usual.atPa;
  const name = visit.stages.length > 1 ? visitWords.stage(stage) : words.only;
  const label = (what: string): string => (visit.stages.length > 1 ? `${what}, ${name}` : what);
  const pressure = shownAs('pumpPressure', units);
  return (
    <tr>
      <th scope="row">
        {name}
        {!isFirst && (
          <label className="check adds">
            <input
              type="checkbox"
              checked={own.adds === true}
              disabled={!may}
              onChange={(event) => pressed(put({ adds: event.target.checked ? true : undefined }))}
            />
            <span>{words.adds}</span>
          </label>
        )}
      </th>
      <td>
        <KeptField
          bare
          name={`stamp-${stage}`}
          label={label(words.columns.stamp)}
          width={80}
          disabled={!may}
          shown={stamp === undefined ? '' : String(Number(stamp.value.toFixed(2)))}
          parse={(text) => typedPlain(text)}
          keep={(value) => edit(...ofStamp(value === undefined ? undefined : { value, unit, atPa }))}
        />
      </td>
      <td>
        <Choice
          bare
          label={label(words.columns.unit)}
          value={unit}
          width={84}
          disabled={!may}
          change={(next) => {
            setUnit(next);
            if (stamp !== undefined) pressed(...ofStamp({ ...stamp, unit: next }));
          }}
          options={stampUnits.map((value) => ({ value, text: words.units[value] }))}
        />
      </td>
      <td>
        <Choice
          bare
          label={label(words.columns.at)}
          value={String(Math.round(atPa))}
          width={112}
          disabled={!may}
          change={(next) => {
            const chosen = stampPressures.find((pa) => String(Math.round(pa)) === next) ?? atPa;
            setAt(chosen);
            if (stamp !== undefined) pressed(...ofStamp({ ...stamp, atPa: chosen }));
          }}
          options={[...new Set([...stampPressures, atPa])].map((pa) => ({
            value: String(Math.round(pa)),
            text: pa === stampPressures[0] ? words.psi100 : words.stampedBar(pa),
          }))}
        />
      </td>
      <td>
        <KeptField
          bare
          name={`stamp-angle-${stage}`}
          label={label(words.columns.angle)}
          unit="°"
          width={76}
          disabled={!may}
          shown={nozzle.angleDeg === undefined ? '' : String(nozzle.angleDeg)}
          parse={(text) => typedPlain(text)}
          keep={(value) => (isFirst ? edit(row('nozzleAngleDeg', value)) : edit(put({ angleDeg: value })))}
        />
      </td>
      <td>
        <Choice
          bare
          label={label(words.columns.pattern)}
          value={nozzle.pattern ?? ''}
          width={116}
          disabled={!may}
          change={(value) => {
            const pattern = value === '' ? undefined : value;
            if (!isFirst) return void pressed(put({ pattern }));
            const key = setUp.nozzlePattern?.asLeft === undefined ? 'asFound' : 'asLeft';
            pressed({ path: ['setUp', 'nozzlePattern'], after: { ...setUp.nozzlePattern, [key]: pattern } });
          }}
          options={[
            { value: '' as const, text: setUpScreen.patterns[''] },
            ...nozzlePatterns.map((value) => ({ value, text: setUpScreen.patterns[value] })),
          ]}
        />
      </td>
      <td>
        <KeptField
          bare
          name={`stamp-pump-${stage}`}
          label={label(words.columns.pump)}
          unit={pressure.unit}
          width={104}
          disabled={!may}
          shown={nozzle.pumpPa === undefined ? '' : formatNumber(nozzle.pumpPa * pressure.factor, pressure.decimals)}
          parse={(text) => typedQuantity(text, 'pumpPressure', units)}
          keep={(value) => (isFirst ? edit(row('pumpPressurePa', value)) : edit(put({ pumpPa: value })))}
        />
      </td>
      <td className="number">{children}</td>
    </tr>
  );
}

/** From the input that the house needs to a nozzle at a pressure, never over the plate. */
function Derating({ here }: { here: VisitHere }) {
  const { visit, units, formats } = here;
  const plateKw = useApp((state) => state.appliance?.appliance.ratedInputKw);
  const [text, setText] = useState('');
  const fuel = fuelOf(visit);
  const { unit, factor, basis } = inputUnit(units);
  const typed = typedPlain(text);
  const wanted = valueOf(typed);
  const rows =
    fuel === undefined || wanted === undefined || !(wanted > 0) ? [] : derate({ fuel, wantedKw: wanted / factor, plateKw, basis });
  return (
    <details className="derating">
      <summary>{words.derate}</summary>
      <div className="form-row">
        <Field label={words.wanted} value={text} change={setText} unit={unit} width={230} error={errorOf(typed)} />
        <p className="form-note">
          {plateKw === undefined ? words.noPlate : words.plate(`${formatNumber(plateKw * factor, 1)} ${unit.split(',')[0]}`)}
        </p>
      </div>
      {rows.length > 0 && (
        <table className="since-table" aria-label={words.derate}>
          <thead>
            <tr>
              <th scope="col">{words.derateColumns.pressure}</th>
              <th scope="col" className="right">
                {words.derateColumns.needed}
              </th>
              <th scope="col" className="right">
                {words.derateColumns.nozzle}
              </th>
              <th scope="col" className="right">
                {words.derateColumns.input}
              </th>
              <th scope="col">{words.derateColumns.plate}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ pressurePa, neededGph, nozzle }) => (
              <tr key={pressurePa}>
                <th scope="row">{formats.pressure(pressurePa)}</th>
                <td className="number right">{withUnit(formatNumber(neededGph, 2), 'gph')}</td>
                <td className="number right bold">{nozzle === undefined ? '–' : withUnit(formatNumber(nozzle.gph, 2), 'gph')}</td>
                <td className="number right">
                  {nozzle === undefined
                    ? '–'
                    : `${formatNumber(nozzle.inputKw * factor, 1)} (${nozzle.away >= 0 ? '+' : '−'}${formatNumber(Math.abs(nozzle.away) * 100, 0)} %)`}
                </td>
                <td>
                  {nozzle === undefined || plateKw === undefined ? (
                    '–'
                  ) : (
                    <span className="verdict">
                      <VerdictSign verdict={nozzle.overPlate ? 'fail' : 'pass'} /> {nozzle.overPlate ? words.over : words.inside}
                    </span>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="second small">{words.derateNote}</p>
    </details>
  );
}

import { firingRate } from '../../../../../shared/tuning/trial/firing-rate.ts';
import { implausible, presentValue } from '../../../../../shared/tuning/set-up/set-up-sheet.ts';
import { withGeometryRows, type GeometryNow } from '../../../../../shared/tuning/set-up/geometry-now.ts';
import { setUpHint } from '../../../../../shared/words/visit/set-up-items.ts';
import { setUpScreen as words } from '../../../../../shared/words/visit/screens/set-up.ts';
import { NoteSign } from '../../../../components/Signs.tsx';
import { TableDrawing } from '../../../geometry/TableDrawing.tsx';
import { writtenItem } from './set-up-fields.ts';
import { fuelOf } from '../../visit-facts.ts';
import type { VisitHere } from '../../use-visit.ts';
import { formatNumber, withUnit } from '../../../../../shared/format/quantity.ts';
import { BTU_PER_KWH, massShown } from '../../../../../shared/units/convert.ts';
import '../steps.css';

export function SetUpRight({ here: { visit, units, formats }, now }: { here: VisitHere; now: GeometryNow }) {
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
            {figure(words.massFlow, withUnit(formatNumber(rate.flowKgPerH * massShown[units].factor, 2), `${massShown[units].unit}/h`))}
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

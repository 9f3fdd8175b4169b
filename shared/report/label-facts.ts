/** What the label at the appliance says: one line each, in the order of the draft. Nothing for a burner that is not known to be safe. */
import { formatIsoDay, formatDay } from '../format/date.ts';
import { formatPosition, formatWithUnit, type UnitSystem } from '../format/quantity.ts';
import { cardFigures } from '../tuning/card-figures.ts';
import { conditionsOf } from '../tuning/conditions.ts';
import type { SafeJudgement } from '../tuning/safe.ts';
import { presentValue } from '../tuning/set-up-sheet.ts';
import type { Visit } from '../tuning/visit.ts';
import { labelWords as words } from '../words/trade.ts';
import { cardFigureText, cardUnit } from './card-format.ts';
import type { Fact } from './report-model.ts';
import { written } from './written.ts';

/** @param visit as it reads now. @returns undefined when there must be no label */
export function labelFacts(visit: Visit, judgement: SafeJudgement, units: UnitSystem): Fact[] | undefined {
  if (judgement.safe === 'no') return undefined;
  const conditions = conditionsOf(visit);
  const smokeRule = visit.targetCard?.smokeRule ?? visit.smokeRule;
  const { setUp } = visit;
  const [flow, angle, pressure] = [
    presentValue(setUp, 'nozzleFlowLh'),
    presentValue(setUp, 'nozzleAngleDeg'),
    presentValue(setUp, 'pumpPressurePa'),
  ];
  const pattern = setUp.nozzlePattern?.asLeft ?? setUp.nozzlePattern?.asFound;
  const nozzle = [
    flow === undefined ? undefined : formatWithUnit('nozzleFlow', flow, units),
    angle === undefined ? undefined : `${formatPosition(angle)}°`,
    pattern,
  ].filter((part) => part !== undefined);
  const facts: (Fact | undefined)[] = [
    nozzle.length === 0 ? undefined : { label: words.nozzle, value: nozzle.join(' ') },
    pressure === undefined ? undefined : { label: words.pressure, value: formatWithUnit('pumpPressure', pressure, units) },
  ];
  for (const stage of visit.stages) {
    const left = visit.trials.find(({ id }) => id === stage.asLeftTrialId);
    if (left === undefined || conditions === undefined) continue;
    const figures = cardFigures(left, { conditions, smokeRule });
    for (const quantity of ['o2Percent', 'co2Percent', 'smokeNumber', 'overFirePa', 'breechPa'] as const) {
      const text = cardFigureText(quantity, figures[quantity], units);
      if (text === undefined) continue;
      const label = visit.stages.length > 1 ? words.atStage(words.figures[quantity], stage.name) : words.figures[quantity];
      facts.push({ label, value: written(text, cardUnit(quantity, units)) });
    }
  }
  facts.push({ label: words.day, value: formatDay(visit.startedWallMs, visit.zoneMinutes) });
  if (visit.nextDue !== undefined) facts.push({ label: words.next, value: formatIsoDay(visit.nextDue) });
  return facts.filter((fact) => fact !== undefined);
}

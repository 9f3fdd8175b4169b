/** The rows of the label at the burner, for the window and the card alike: set-up, adjusters, and what was read as left. */
import { formatPosition, formatWithUnit, type UnitSystem } from '../format/quantity.ts';
import { cardFigures } from '../tuning/card-figures.ts';
import { conditionsOf } from '../tuning/conditions.ts';
import { lockEcho } from '../tuning/lock-echo.ts';
import { presentValue } from '../tuning/set-up-sheet.ts';
import { isLeftOff } from '../tuning/safe.ts';
import { isWatermarked } from '../tuning/visit-marks.ts';
import type { CardQuantity } from '../tuning/target-card.ts';
import type { Trial } from '../tuning/trial.ts';
import type { Visit } from '../tuning/visit.ts';
import { labelWords as words, reportWords } from '../words/report.ts';
import { quantityWords } from '../words/tune.ts';
import { cardFigureText, cardUnit } from './card-format.ts';
import type { BurnerLabel } from './report-model.ts';

type Rows = BurnerLabel['rows'];

const ofFirst = [
  'o2Percent',
  'co2Percent',
  'coAirFreePpm',
  'smokeNumber',
  'netStackK',
  'overFirePa',
  'breechPa',
] as const satisfies CardQuantity[];
/** what a further stage adds: the card has no room for all of it again */
const ofFurther = ['o2Percent', 'co2Percent', 'smokeNumber'] as const satisfies CardQuantity[];

/** @param visit as it reads now */
export function labelRows(visit: Visit, units: UnitSystem): Rows {
  const trialOf = (id: string | undefined): Trial | undefined => visit.trials.find((trial) => trial.id === id);
  const left = visit.stages.flatMap((stage) => {
    const trial = trialOf(stage.asLeftTrialId);
    return trial === undefined ? [] : [{ stage, trial, echo: trialOf(stage.echoTrialId) }];
  });
  return [
    ...setUpRows(visit, units),
    ...left.flatMap(({ stage, trial, echo }, index) => {
      const isFirst = index === 0;
      const named = (name: string): string => (visit.stages.length > 1 ? words.atStage(name, stage.name) : name);
      return [...settingRows(visit, trial, echo, named), ...figureRows(visit, trial, isFirst ? ofFirst : ofFurther, units, named)];
    }),
  ];
}

/** The day that was set on this visit, before the one in the appliance's papers. */
export const nextDueOf = (
  visit: Pick<Visit, 'nextDue'>,
  appliance: { readonly nextDue?: string | undefined } | undefined,
): string | undefined => visit.nextDue ?? appliance?.nextDue;

/** What the card says before any figure; undefined for a burner left running. */
export function labelWarning(visit: Visit, unsafe: boolean): string | undefined {
  if (isWatermarked(visit)) return words.training;
  if (unsafe) return words.notSafe;
  return isLeftOff(visit) ? words.leftOff : undefined;
}

function setUpRows({ setUp }: Visit, units: UnitSystem): Rows {
  const [flow, angle, pressure] = (['nozzleFlowLh', 'nozzleAngleDeg', 'pumpPressurePa'] as const).map((item) => presentValue(setUp, item));
  const pattern = setUp.nozzlePattern?.asLeft ?? setUp.nozzlePattern?.asFound;
  const nozzle = [
    flow === undefined ? undefined : formatWithUnit('nozzleFlow', flow, units),
    angle === undefined ? undefined : `${formatPosition(angle)}°`,
  ].filter((part) => part !== undefined);
  return [
    ...(nozzle.length === 0 ? [] : [{ name: words.nozzle, value: nozzle.join(' '), unit: pattern ?? '' }]),
    ...(pressure === undefined ? [] : [{ name: words.pressure, value: formatWithUnit('pumpPressure', pressure, units), unit: '' }]),
  ];
}

function settingRows(visit: Visit, trial: Trial, echo: Trial | undefined, named: (name: string) => string): Rows {
  const positions = trial.setting.positions.filter(({ name }) => visit.adjusters.some((one) => one.name === name));
  if (positions.length === 0) return [];
  const names = positions.map(({ name }) => name).join(', ');
  return [
    {
      name: named(names.charAt(0).toUpperCase() + names.slice(1)),
      value: positions.map(({ value }) => formatPosition(value)).join(', '),
      unit: echo !== undefined && lockEcho(trial, echo)?.held === true ? reportWords.locked : '',
    },
  ];
}

function figureRows(
  visit: Visit,
  trial: Trial,
  quantities: readonly CardQuantity[],
  units: UnitSystem,
  named: (name: string) => string,
): Rows {
  const conditions = conditionsOf(visit);
  if (conditions === undefined) return [];
  const figures = cardFigures(trial, { conditions, smokeRule: visit.targetCard?.smokeRule ?? visit.smokeRule });
  return quantities.flatMap((quantity) => {
    const figure = cardFigureText(quantity, figures[quantity], units);
    return figure === undefined ? [] : [{ name: named(quantityWords[quantity]), value: figure.value, unit: cardUnit(quantity, units) }];
  });
}

/** The rows of the label at the burner, for the window and the card alike: set-up, adjusters, and what was read as left. */
import { isoDay } from '../format/date.ts';
import { formatPosition, formatValue, formatWithUnit, shownAs, type UnitSystem } from '../format/quantity.ts';
import { cardFigures } from '../tuning/card/card-figures.ts';
import { conditionsOf } from '../tuning/visit/conditions.ts';
import { lockEcho } from '../tuning/trial/lock-echo.ts';
import { presentValue } from '../tuning/set-up/set-up-sheet.ts';
import { isLeftOff } from '../tuning/advice/safe.ts';
import { isWatermarked } from '../tuning/visit/visit-marks.ts';
import type { CardQuantity } from '../tuning/card/target-card.ts';
import type { Trial } from '../tuning/trial/trial.ts';
import type { StageRecord, Visit } from '../tuning/visit/visit.ts';
import { reportWords } from '../words/paper/page-one.ts';
import { labelWords as words } from '../words/paper/label.ts';
import { cardFigureText, cardUnit } from './card-format.ts';
import type { BurnerLabel } from './report-model.ts';
import { whenDefined } from '../defined.ts';

type Rows = BurnerLabel['rows'];
/** what was left at one stage */
type Left = { readonly stage: StageRecord; readonly trial: Trial; readonly echo: Trial | undefined };
const BESIDE = ' / ';

const shown = [
  'o2Percent',
  'co2Percent',
  'coAirFreePpm',
  'smokeNumber',
  'netStackK',
  'overFirePa',
  'breechPa',
] as const satisfies CardQuantity[];

/** @param visit as it reads now */
export function labelRows(visit: Visit, units: UnitSystem): Rows {
  const trialOf = (id: string | undefined): Trial | undefined => visit.trials.find((trial) => trial.id === id);
  const left = visit.stages.flatMap((stage): Left[] => {
    const trial = trialOf(stage.asLeftTrialId);
    return trial === undefined ? [] : [{ stage, trial, echo: trialOf(stage.echoTrialId) }];
  });
  // a burner with two stages has them beside each other: the card has no room for one below the other
  const stages = left.length < 2 ? [] : [{ name: words.stages, value: left.map(({ stage }) => stage.name).join(BESIDE), unit: '' }];
  return [...setUpRows(visit, units), ...stages, ...settingRows(visit, left), ...figureRows(visit, left, units)];
}

/** The day that was set on this visit, before the one in the appliance's papers; what was due until this visit is none. */
export function nextDueOf(
  visit: Pick<Visit, 'nextDue' | 'startedWallMs' | 'zoneMinutes'>,
  appliance: { readonly nextDue?: string | undefined } | undefined,
): string | undefined {
  const known = appliance?.nextDue;
  return visit.nextDue ?? (known !== undefined && known > isoDay(visit.startedWallMs, visit.zoneMinutes) ? known : undefined);
}

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
    ...whenDefined(pressure, (pressure) => ({
      name: words.pressure,
      value: formatValue('pumpPressure', pressure, units),
      unit: shownAs('pumpPressure', units).unit,
    })),
  ];
}

function settingRows(visit: Visit, left: readonly Left[]): Rows {
  const positionsOf = ({ trial }: Left) => trial.setting.positions.filter(({ name }) => visit.adjusters.some((one) => one.name === name));
  const names =
    left[0] === undefined
      ? ''
      : positionsOf(left[0])
          .map(({ name }) => name)
          .join(', ');
  if (names === '') return [];
  const isHeld = ({ trial, echo }: Left): boolean => echo !== undefined && lockEcho(trial, echo)?.held === true;
  return [
    {
      name: names.charAt(0).toUpperCase() + names.slice(1),
      value: left
        .map((one) =>
          positionsOf(one)
            .map(({ value }) => formatPosition(value))
            .join(', '),
        )
        .join(BESIDE),
      unit: left.every(isHeld) ? reportWords.locked : '',
    },
  ];
}

function figureRows(visit: Visit, left: readonly Left[], units: UnitSystem): Rows {
  const conditions = conditionsOf(visit);
  if (conditions === undefined) return [];
  const figures = left.map(({ trial }) => cardFigures(trial, { conditions, smokeRule: visit.targetCard?.smokeRule ?? visit.smokeRule }));
  return shown.flatMap((quantity) => {
    const values = figures.map((one) => cardFigureText(quantity, one[quantity], units)?.value);
    if (values.every((value) => value === undefined)) return [];
    return [{ name: words.figures[quantity], value: values.map((value) => value ?? '–').join(BESIDE), unit: cardUnit(quantity, units) }];
  });
}

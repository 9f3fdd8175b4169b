/** What hangs at the burner: how it was left, in the fewest figures, and when the next visit is due. */
import { formatIsoDay } from '../format/date.ts';
import { formatPosition, formatWithUnit } from '../format/quantity.ts';
import { isLeftOff } from '../tuning/safe.ts';
import { presentValue } from '../tuning/set-up-sheet.ts';
import type { CardQuantity } from '../tuning/target-card.ts';
import { isWatermarked } from '../tuning/visit-marks.ts';
import { labelWords, reportWords } from '../words/report.ts';
import { quantityWords } from '../words/tune.ts';
import { cardFigureText, cardUnit } from './card-format.ts';
import { fuelName } from './page-one.ts';
import type { BurnerLabel } from './report-model.ts';
import { shortHash, timesOf } from './written.ts';
import type { Parts } from './page-parts.ts';

const shown = [
  'o2Percent',
  'co2Percent',
  'coAirFreePpm',
  'smokeNumber',
  'netStackK',
  'overFirePa',
  'breechPa',
] as const satisfies CardQuantity[];

export function burnerLabel({ visit, input, units, main, judgement }: Parts): BurnerLabel {
  const { appliance } = input;
  const technician = visit.people.find(({ role }) => role === 'technician');
  const hash = visit.signature?.hash;
  return {
    title: labelWords.title,
    about: [appliance?.name ?? reportWords.noAppliance, fuelName(visit)].join(' · '),
    day: timesOf(visit).day(visit.startedWallMs),
    warning: warningOf(visit, judgement.safe === 'no'),
    rows: [
      ...setUpRows({ visit, units }),
      ...settingRows({ visit, main }),
      ...shown.flatMap((quantity) => {
        const figure = cardFigureText(quantity, main.figuresLeft[quantity], units);
        return figure === undefined ? [] : [{ name: quantityWords[quantity], value: figure.value, unit: cardUnit(quantity, units) }];
      }),
    ],
    due: {
      title: labelWords.due,
      text: appliance?.nextDue === undefined ? labelWords.noDue : formatIsoDay(appliance.nextDue),
    },
    foot: [
      labelWords.reset,
      ...(technician === undefined
        ? []
        : [
            [technician.name, technician.licence === undefined ? undefined : labelWords.licence(technician.licence)]
              .filter(Boolean)
              .join(' · '),
          ]),
    ],
    side: [reportWords.visit(visit.number), hash === undefined ? labelWords.unsigned : shortHash(hash)],
  };
}

function warningOf(visit: Parts['visit'], unsafe: boolean): string | undefined {
  if (isWatermarked(visit)) return labelWords.training;
  if (unsafe) return labelWords.notSafe;
  return isLeftOff(visit) ? labelWords.leftOff : undefined;
}

function setUpRows({ visit, units }: Pick<Parts, 'visit' | 'units'>): BurnerLabel['rows'] {
  const { setUp } = visit;
  const [flow, angle, pressure] = (['nozzleFlowLh', 'nozzleAngleDeg', 'pumpPressurePa'] as const).map((item) => presentValue(setUp, item));
  const pattern = setUp.nozzlePattern?.asLeft ?? setUp.nozzlePattern?.asFound;
  const nozzle = [
    flow === undefined ? undefined : formatWithUnit('nozzleFlow', flow, units),
    angle === undefined ? undefined : `${formatPosition(angle)}°`,
  ].filter((part) => part !== undefined);
  return [
    ...(nozzle.length === 0 ? [] : [{ name: labelWords.nozzle, value: nozzle.join(' '), unit: pattern ?? '' }]),
    ...(pressure === undefined ? [] : [{ name: labelWords.pressure, value: formatWithUnit('pumpPressure', pressure, units), unit: '' }]),
  ];
}

function settingRows({ visit, main }: Pick<Parts, 'visit' | 'main'>): BurnerLabel['rows'] {
  const positions = main.asLeft?.setting.positions.filter(({ name }) => visit.adjusters.some((one) => one.name === name)) ?? [];
  if (positions.length === 0) return [];
  const names = positions.map(({ name }) => name).join(', ');
  return [
    {
      name: names.charAt(0).toUpperCase() + names.slice(1),
      value: positions.map(({ value }) => formatPosition(value)).join(', '),
      unit: main.echo?.held === true ? reportWords.locked : '',
    },
  ];
}

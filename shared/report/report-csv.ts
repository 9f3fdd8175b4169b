/** The visit's trials as CSV (RFC 4180): one row a trial, numbers as numbers, units in the header, the same number of cells in every row. */
import { BYTE_ORDER_MARK, csvRow, type CsvStyle } from '../format/csv.ts';
import { isoWithZone } from '../format/date.ts';
import { shownAs, type UnitSystem } from '../format/quantity.ts';
import { derive } from '../combustion/figures/derive.ts';
import { positionOf } from '../tuning/trial/setting.ts';
import { fuelOfVisit } from '../tuning/visit/conditions.ts';
import { combustionInput } from '../tuning/visit/before-after.ts';
import { readFigure } from '../geometry/figures-card.ts';
import { isLength, itemNames } from '../geometry/items.ts';
import { sides } from '../geometry/record.ts';
import { typedFigure } from '../tuning/set-up/geometry-now.ts';
import type { Trial } from '../tuning/trial/trial.ts';
import { figureOf, smokeOf } from '../tuning/trial/trial-figures.ts';
import { judgeWorstCase, ventItems, worstVerdict, type WorstQuantity } from '../tuning/safety/venting.ts';
import type { Visit } from '../tuning/visit/visit.ts';
import type { DerivedKey } from '../measurement/derived.ts';
import { quantities, type QuantityId } from '../units/quantities.ts';
import { geometryNames } from '../words/geometry/geometry.ts';
import { probeWords } from '../words/tune/probe.ts';
import { reportWords } from '../words/paper/page-one.ts';
import { recordWords } from '../words/paper/technical-record.ts';
import { ventWords } from '../words/visit/venting.ts';
import { safetyScreen } from '../words/visit/screens/safety.ts';
import { tapeWords } from './make-report.ts';
import { smokeText } from './record/trials.ts';
import type { ReportInput } from './report-input.ts';
import { allStages, type StageFacts } from './stage-facts.ts';
import { reportTexts } from '../words/core/report.ts';
import { whenDefined } from '../defined.ts';

type Cells = (string | number | undefined)[];
const measured = ['o2', 'co', 'stackTemperature', 'airTemperature'] as const;
const computed = [
  'co2Percent',
  'excessAirPercent',
  'coAirFreePpm',
  'netStackC',
  'stackLossPercent',
  'efficiencyHhvPercent',
  'efficiencyLhvPercent',
] as const satisfies readonly DerivedKey[];

export function reportCsv(input: ReportInput, style: CsvStyle): string {
  const { visit } = input;
  const units = input.units ?? visit.unitPreset;
  const stages = allStages(visit);
  const fixed = [...co2MaxColumns(visit), ...geometryColumns(visit, units), ...probeColumns(visit), ...ventingColumns(visit, units)];
  const header: Cells = [
    'Visit',
    'Begun',
    'Appliance',
    'Fuel',
    'Trial',
    'Mark',
    'Stage',
    'Time',
    ...visit.adjusters.map(({ name, unit }) => (unit === '' ? name : `${name} [${unit}]`)),
    ...measured.flatMap((id) => [title(id, units), `U ${title(id, units)}`]),
    ...computed.flatMap((id) => [title(id, units), `U ${title(id, units)}`]),
    reportTexts.smokeMean,
    'Smoke spots',
    `Draft over fire [${shownAs('draft', units).unit}]`,
    `Draft at the breech [${shownAs('draft', units).unit}]`,
    title('pumpPressure', units),
    'Reading',
    'Notes',
    ...fixed.map(({ header: name }) => name),
  ];
  const mark = tapeWords(visit);
  const rows = [
    ...whenDefined(mark, (mark) => [mark.toUpperCase(), ...header.slice(1).map(() => undefined)]),
    header,
    ...visit.trials.map((trial, index) => [...trialRow(trial, index, input, units, stages), ...fixed.map(({ value }) => value)]),
    // what was set with the gauge, and how the appliance vents, is not lost where no trial was taken
    ...(visit.trials.length > 0 || fixed.length === 0
      ? []
      : [[...visitCells(input), ...header.slice(VISIT_CELLS + fixed.length).map(() => undefined), ...fixed.map(({ value }) => value)]]),
  ];
  return (style === 'semicolon' ? BYTE_ORDER_MARK : '') + rows.map((cells) => csvRow(cells, style)).join('');
}

function title(id: QuantityId, units: UnitSystem): string {
  const { label, ...rest } = quantities[id];
  const { unit } = shownAs(id, units);
  const name = 'basis' in rest ? `${label}, ${rest.basis}` : label;
  return unit === '' ? name : `${name} [${unit}]`;
}

/** Two digits more than are shown: enough to compute with, without the noise of the last bits. */
const shown = (id: QuantityId, inner: number | undefined, units: UnitSystem, isDifference = false): number | undefined => {
  if (inner === undefined) return undefined;
  const { factor, offset, decimals } = shownAs(id, units);
  return Number((inner * factor + (isDifference ? 0 : offset)).toFixed(decimals + 2));
};

const VISIT_CELLS = 4;
const visitCells = ({ visit, appliance }: ReportInput): Cells => [
  visit.number,
  isoWithZone(visit.startedWallMs, visit.zoneMinutes),
  appliance?.name ?? reportWords.noAppliance,
  visit.fuelId,
];

type Fixed = { header: string; value: number | string };

/** What the CO2 of the rows was computed with. */
function co2MaxColumns(visit: Visit): Fixed[] {
  const fuel = visit.trials.length === 0 ? undefined : fuelOfVisit(visit);
  if (fuel === undefined) return [];
  const { co2MaxFrom } = reportTexts;
  return [
    {
      header: `${quantities.co2MaxPercent.label}, ${quantities.co2MaxPercent.basis} [%]`,
      value: Number(fuel.stoichiometry.co2MaxPercent.toFixed(3)),
    },
    { header: co2MaxFrom.title, value: fuel.co2MaxSetPercent === undefined ? co2MaxFrom.fuel : co2MaxFrom.visit },
  ];
}

/** The last spot before the probe went in, or why there was none. */
function probeColumns({ probeSmoke }: Visit): Fixed[] {
  const last = probeSmoke?.at(-1);
  if (last === undefined) return [];
  return [{ header: probeWords.fact, value: last.spots.length > 0 ? probeWords.spots(last.spots) : (last.withoutReason ?? '') }];
}

/** What was looked at last of each item, and the last worst case that was saved. */
function ventingColumns({ venting }: Visit, units: UnitSystem): Fixed[] {
  if (venting === undefined) return [];
  const latest = new Map(venting.checks.map((check) => [check.item, check]));
  const checks = ventItems.flatMap((item): Fixed[] => {
    const check = latest.get(item);
    if (check === undefined) return [];
    return [
      {
        header: ventWords.items[item],
        value: [safetyScreen.verdictOf[check.result], check.note].filter((part) => part !== undefined).join(', '),
      },
    ];
  });
  const saved = venting.worstCases.findLast(({ savedWallMs }) => savedWallMs !== undefined);
  if (saved === undefined) return checks;
  const lines = judgeWorstCase(saved);
  const figures = lines.flatMap(({ quantity, off, on, change, changeHalf }): Fixed[] => {
    const id = worstQuantityIds[quantity];
    const name = `${ventWords.worst}, ${ventWords.quantities[quantity]}`;
    const cell = (what: string, inner: number | undefined, isDifference = false): Fixed[] => {
      const value = shown(id, inner, units, isDifference);
      return value === undefined ? [] : [{ header: `${name}, ${what} [${shownAs(id, units).unit}]`, value }];
    };
    const { columns } = ventWords;
    return [
      ...cell(columns.off, off?.mean),
      ...cell(columns.on, on?.mean),
      ...cell(columns.change, change, true),
      ...cell(`U ${columns.change}`, changeHalf, true),
    ];
  });
  return [
    ...checks,
    ...figures,
    { header: `${ventWords.worst}, ${ventWords.columns.verdict}`, value: ventWords.verdictWords[worstVerdict(lines)] },
  ];
}
const worstQuantityIds = { draftPa: 'draft', o2Percent: 'o2', roomCoPpm: 'ambientCo' } as const satisfies Record<WorstQuantity, QuantityId>;

/** Electrodes, nozzle and head, the same in every row: only what was measured has a column. A figure that cannot be read has none; it is in the report. */
function geometryColumns({ setUp }: Visit, units: UnitSystem): Fixed[] {
  return itemNames.flatMap((item) =>
    sides.flatMap((side) => {
      const typed = typedFigure(setUp, item, side);
      const read = typed === undefined ? undefined : readFigure(item, typed, setUp.lengthUnit);
      if (read?.ok !== true) return [];
      const isInch = isLength(item) && units === 'us';
      const unit = isLength(item) ? ` [${isInch ? 'in' : 'mm'}]` : '';
      const name = side === 'asFound' ? recordWords.marks.asFound : recordWords.marks.asLeft;
      return [
        {
          header: `${geometryNames[item]}, ${name.toLowerCase()}${unit}`,
          value: Number((isInch ? read.value / 25.4 : read.value).toFixed(6)),
        },
      ];
    }),
  );
}

function trialRow(trial: Trial, index: number, input0: ReportInput, units: UnitSystem, stages: readonly StageFacts[]): Cells {
  const { visit } = input0;
  const facts = stages.find(({ stage }) => stage.name === trial.setting.stage);
  const tags = [
    facts?.asFound?.id === trial.id ? recordWords.marks.asFound : undefined,
    facts?.asLeft?.id === trial.id ? recordWords.marks.asLeft : undefined,
    facts?.stale.has(trial.id) === true ? recordWords.marks.stale : undefined,
  ].filter((tag) => tag !== undefined);
  const input = facts?.conditions && combustionInput(trial, facts.conditions);
  const derived = input && derive(input);
  const { reading } = trial;
  return [
    ...visitCells(input0),
    index + 1,
    tags.length === 0 ? undefined : tags.join('; '),
    trial.setting.stage,
    isoWithZone(trial.takenWallMs, visit.zoneMinutes),
    ...visit.adjusters.map(({ name }) => positionOf(trial.setting, name)),
    ...measured.flatMap((channel) => {
      const figure = figureOf(trial, channel);
      return [shown(channel, figure?.mean, units), shown(channel, figure && 2 * Math.hypot(figure.random, figure.common), units, true)];
    }),
    ...computed.flatMap((key) => [shown(key, derived?.values[key], units), shown(key, derived?.expanded[key], units, true)]),
    smokeOf(trial),
    trial.smoke === undefined ? undefined : smokeText(visit, trial),
    shown('draft', trial.draft?.overFirePa, units),
    shown('draft', trial.draft?.breechPa, units),
    shown('pumpPressure', trial.pumpPa, units),
    reading === undefined ? undefined : reading.settled ? recordWords.readings[reading.scope] : recordWords.readings.unsettled,
    trial.notes.length === 0 ? undefined : trial.notes.join(' / '),
  ];
}

import { formatNumber, formatPosition, formatWithUnit, withUnit, type UnitSystem } from '../../format/quantity.ts';
import { BTU_PER_KWH, massShown, M_PER_FT, PA_PER_IN_HG, PA_PER_MBAR } from '../../units/convert.ts';
import { findFuel } from '../../combustion/fuel.ts';
import { stageFirings, type StageFiring } from '../../tuning/set-up/stage-nozzle.ts';
import { expectedVacuumPa, vacuumSays } from '../../tuning/set-up/oil-line.ts';
import { oilLineWords } from '../../words/tune/oil-line.ts';
import { nozzleWords } from '../../words/tune/nozzle.ts';
import { firingRate } from '../../tuning/trial/firing-rate.ts';
import { formatLength, type LengthUnit } from '../../units/length.ts';
import { isMoved, withGeometryRows } from '../../tuning/set-up/geometry-now.ts';
import {
  implausible,
  makersLimits,
  presentValue,
  setUpItemNames,
  setUpItems,
  setUpVerdict,
  type MakersFigure,
  type SetUpItem,
  type SetUpSheet,
} from '../../tuning/set-up/set-up-sheet.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import { setUpHint, setUpVerdicts, setUpWords } from '../../words/visit/set-up-items.ts';
import type { Block, Cell, Section } from '../report-model.ts';
import { fact } from './job.ts';
import type { Parts } from '../pages/page-parts.ts';

/** A value of the sheet in the person's units. */
export function itemText(item: SetUpItem, inner: number, units: UnitSystem, lengthUnit: LengthUnit): string {
  switch (setUpItems[item].quantity) {
    case 'length':
      return formatLength(inner, lengthUnit);
    case 'flow':
      return formatWithUnit('nozzleFlow', inner, units);
    case 'pressure':
      if (item !== 'vacuumPa') return formatWithUnit('pumpPressure', inner, units);
      return units === 'us'
        ? withUnit(formatNumber(inner / PA_PER_IN_HG, 1), 'in Hg')
        : withUnit(formatNumber(inner / PA_PER_MBAR, 0), 'mbar');
    case 'angle':
      return `${formatPosition(inner)}°`;
    case 'percent':
      return withUnit(formatNumber(inner, 0), '%');
    case 'time':
      return withUnit(formatNumber(inner, 0), 's');
    case 'scale':
      return formatPosition(inner);
  }
}

export function setUpSection({ visit, units }: Parts): Section | undefined {
  const sheet = visit.setUp;
  const write = (item: SetUpItem, value: number | undefined): string =>
    value === undefined ? recordWords.absent : itemText(item, value, units, sheet.lengthUnit);
  const rows = setUpItemNames.flatMap((item): Cell[][] => {
    const row = sheet.rows[item];
    // electrodes and head have a section of their own
    if (isMoved(item)) return [];
    if (row === undefined || (row.asFound === undefined && row.asLeft === undefined && row.maker === undefined)) return [];
    const verdict = setUpVerdicts[setUpVerdict(row, row.asLeft === undefined ? 'asFound' : 'asLeft')];
    return [
      [
        setUpWords[item],
        write(item, row.asFound),
        write(item, row.asLeft),
        makersText(row.maker, (value) => write(item, value)),
        [verdict, row.note].filter(Boolean).join('; '),
      ],
    ];
  });
  const facts = sheetFacts(
    sheet,
    visit.fuelId,
    units,
    visit.stages.map(({ name }) => name),
  );
  if (rows.length === 0 && facts.length === 0) return undefined;
  const numbers = withGeometryRows(sheet);
  const hints = implausible(numbers, 'asLeft').concat(
    implausible(numbers, 'asFound').filter(({ item }) => numbers.rows[item]?.asLeft === undefined),
  );
  const { columns } = recordWords;
  return {
    title: recordWords.setUp,
    blocks: [
      ...(rows.length === 0
        ? []
        : [
            {
              kind: 'table' as const,
              dense: true,
              columns: [
                { label: columns.item, width: 170 },
                { label: columns.found, figures: true, width: 96 },
                { label: columns.left, figures: true, width: 96 },
                { label: columns.maker, figures: true, width: 140 },
                { label: columns.verdict, width: 210 },
              ],
              rows,
            },
          ]),
      ...(facts.length === 0 ? [] : [{ kind: 'facts' as const, facts }]),
      ...hints.map(({ item, source }): Block => ({ kind: 'text', text: setUpHint(item, source), tone: 'note' })),
    ],
  };
}

/** Lift and run of an oil line. */
export const lineLength = (m: number, units: UnitSystem): string =>
  units === 'us' ? withUnit(formatNumber(m / M_PER_FT, 1), 'ft') : withUnit(formatNumber(m, 1), 'm');

function oilLineText({ oilLine }: SetUpSheet, units: UnitSystem): string | undefined {
  if (oilLine === undefined) return undefined;
  const { pipes, liftM, runM, filter } = oilLine;
  return oilLineWords.line([
    pipes && oilLineWords.pipes[pipes],
    liftM === undefined ? undefined : oilLineWords.lift(lineLength(liftM, units)),
    runM === undefined ? undefined : oilLineWords.run(lineLength(runM, units)),
    filter === undefined ? undefined : oilLineWords.filter(filter),
  ]);
}

function makersText(maker: MakersFigure | undefined, write: (value: number) => string): string {
  if (maker === undefined) return recordWords.absent;
  const { nominal, tolerance } = maker;
  if (nominal !== undefined) return tolerance === undefined ? write(nominal) : `${write(nominal)} ± ${write(tolerance)}`;
  const limits = makersLimits(maker);
  if (limits === undefined) return recordWords.absent;
  if (Number.isFinite(limits.low) && Number.isFinite(limits.high)) return `${write(limits.low)} to ${write(limits.high)}`;
  return Number.isFinite(limits.high) ? `at most ${write(limits.high)}` : `at least ${write(limits.low)}`;
}

function sheetFacts(sheet: SetUpSheet, fuelId: string | undefined, units: UnitSystem, stageNames: readonly string[]) {
  const { labels } = recordWords;
  const fuel = fuelId === undefined ? undefined : findFuel(fuelId);
  const firing = fuel && firingRate(sheet, fuel);
  const input = (kw: number | undefined): string | undefined =>
    kw === undefined
      ? undefined
      : units === 'us'
        ? withUnit(formatNumber(kw * BTU_PER_KWH, -2), 'Btu/h')
        : withUnit(formatNumber(kw, 1), 'kW');
  const expected = sheet.oilLine && expectedVacuumPa(sheet.oilLine);
  const pattern = sheet.nozzlePattern?.asLeft ?? sheet.nozzlePattern?.asFound;
  const stages = fuel === undefined || stageNames.length < 2 ? [] : stageFirings(sheet, stageNames, fuel);
  const stageText = ({ nozzle, firing: rate }: StageFiring): string =>
    [
      nozzle.stamp === undefined
        ? undefined
        : nozzleWords.stampLine(
            withUnit(String(Number(nozzle.stamp.value.toFixed(2))), nozzleWords.units[nozzle.stamp.unit]),
            formatWithUnit('pumpPressure', nozzle.stamp.atPa, units),
          ),
      nozzle.adds === true ? nozzleWords.adds : undefined,
      nozzle.angleDeg === undefined ? undefined : `${nozzle.angleDeg}°`,
      nozzle.pattern,
      nozzle.pumpPa === undefined ? undefined : formatWithUnit('pumpPressure', nozzle.pumpPa, units),
      rate && formatWithUnit('nozzleFlow', rate.flowLPerH, units),
      rate && input(units === 'us' ? rate.inputHhvKw : rate.inputLhvKw),
    ]
      .filter(Boolean)
      .join(', ');
  return [
    fact(labels.pattern, pattern),
    fact(
      labels.ratedPressure,
      sheet.ratedPressurePa === undefined ? undefined : formatWithUnit('pumpPressure', sheet.ratedPressurePa, units),
    ),
    fact(labels.gauge, sheet.gauge),
    fact(oilLineWords.title, oilLineText(sheet, units)),
    fact(
      oilLineWords.vacuum,
      expected === undefined
        ? undefined
        : oilLineWords.expected(
            itemText('vacuumPa', expected, units, sheet.lengthUnit),
            vacuumSays(sheet.oilLine, presentValue(sheet, 'vacuumPa')),
          ),
    ),
    fact(labels.flow, firing && formatWithUnit('nozzleFlow', firing.flowLPerH, units)),
    fact(labels.massFlow, firing && withUnit(formatNumber(firing.flowKgPerH * massShown[units].factor, 2), `${massShown[units].unit}/h`)),
    fact(labels.inputHhv, firing && input(firing.inputHhvKw)),
    fact(labels.inputLhv, firing && input(firing.inputLhvKw)),
    ...stages.map((one) => fact(nozzleWords.fact(one.stage), stageText(one))),
  ].filter((one) => one !== undefined);
}

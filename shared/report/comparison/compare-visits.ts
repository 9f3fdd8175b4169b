/** Two visits of one appliance side by side, and one figure over all of them. Pure; the windows and the tests read the same. */
import { formatNumber, formatPosition, formatSmoke, shownAs, type UnitSystem } from '../../format/quantity.ts';
import { readFigure } from '../../geometry/figures-card.ts';
import { isLength, itemNames, type GeometryItem } from '../../geometry/items.ts';
import type { Side } from '../../geometry/record.ts';
import { isSameScale } from '../../tuning/trial/adjuster.ts';
import { nozzleOf } from '../../tuning/set-up/nozzle-there.ts';
import { positionOf } from '../../tuning/trial/setting.ts';
import { isComparable, otherBurner, type CompareNote, type SinceNote } from '../../tuning/visit/since-last.ts';
import { cardFigures } from '../../tuning/card/card-figures.ts';
import { difference } from '../../tuning/trial/difference.ts';
import { typedFigure } from '../../tuning/set-up/geometry-now.ts';
import type { CardFigure, CardFigures, CardQuantity } from '../../tuning/card/target-card.ts';
import type { Trial } from '../../tuning/trial/trial.ts';
import type { Visit } from '../../tuning/visit/visit.ts';
import { isWatermarked } from '../../tuning/visit/visit-marks.ts';
import { inchFraction, type LengthUnit } from '../../units/length.ts';
import { geometryNames, lengthWords } from '../../words/geometry/geometry.ts';
import { records, type Story } from '../../words/records/records.ts';
import { quantityWords } from '../../words/visit/target-card.ts';
import { cardFigureText, cardUnit, type FigureText } from '../card-format.ts';
import { conditionsOf } from '../../tuning/visit/conditions.ts';
import { ruleOf } from '../stage-facts.ts';
import { pair } from '../written.ts';

export type VisitFigures = {
  readonly visit: Visit;
  readonly found: CardFigures;
  readonly left: CardFigures;
  readonly foundTrial: Trial | undefined;
  readonly leftTrial: Trial | undefined;
};

/** As-found and as-left figures of the first stage. @param visit as it reads now, with corrections */
export function visitFigures(visit: Visit): VisitFigures {
  const conditions = conditionsOf(visit);
  const stage = visit.stages[0];
  const trialOf = (id: string | undefined): Trial | undefined => visit.trials.find((trial) => trial.id === id);
  const [foundTrial, leftTrial] = [trialOf(stage?.asFoundTrialId), trialOf(stage?.asLeftTrialId)];
  const figures = (trial: Trial | undefined): CardFigures =>
    trial === undefined || conditions === undefined ? {} : cardFigures(trial, { conditions, smokeRule: ruleOf(visit) });
  return { visit, found: figures(foundTrial), left: figures(leftTrial), foundTrial, leftTrial };
}

export type CompareRow = {
  readonly label: string;
  readonly a: FigureText | undefined;
  readonly found: FigureText | undefined;
  readonly left: FigureText | undefined;
  readonly difference: { readonly text: string; readonly clear: boolean } | undefined;
  readonly unit: string;
};

const compared = [
  'o2Percent',
  'coPpm',
  'netStackK',
  'efficiencyHhvPercent',
  'smokeNumber',
  'overFirePa',
  'breechPa',
  'draftDropPa',
] as const satisfies readonly CardQuantity[];
type Compared = (typeof compared)[number];

/** What limits the comparison of how two visits left the first stage; told beside it. */
export function compareNotes(a: VisitFigures | undefined, b: VisitFigures): CompareNote[] {
  if (a === undefined) return [];
  const left = ({ visit }: VisitFigures): Parameters<typeof otherBurner>[0] => ({
    fuelId: visit.fuelId,
    nozzle: nozzleOf(visit, visit.stages[0]?.name ?? '1', 'present'),
  });
  const bothSmoked = a.left.smokeNumber !== undefined && b.left.smokeNumber !== undefined;
  return [
    ...otherBurner(left(a), left(b)),
    ...(bothSmoked && ruleOf(a.visit) !== ruleOf(b.visit) ? [{ key: 'other-smoke-rule' as const }] : []),
    ...(a.visit.signature === undefined && !isWatermarked(a.visit) ? [{ key: 'not-signed' as const, number: a.visit.number }] : []),
    ...b.visit.adjusters.flatMap(({ name }): CompareNote[] => (isOtherScale(a, b, name) ? [{ key: 'other-scale', name }] : [])),
  ];
}

function isOtherScale(a: VisitFigures | undefined, b: VisitFigures, name: string): boolean {
  const [then, now] = [a, b].map((one) => one?.visit.adjusters.find((adjuster) => adjuster.name === name));
  return then !== undefined && now !== undefined && !isSameScale(then, now);
}

/** May this figure of both visits be set against each other? */
const mayDiffer = (quantity: CardQuantity, notes: readonly CompareNote[]): boolean =>
  isComparable(
    quantity,
    notes.filter((note): note is SinceNote & CompareNote => note.key !== 'other-smoke-rule'),
  ) && !(quantity === 'smokeNumber' && notes.some(({ key }) => key === 'other-smoke-rule'));

/** @param a the earlier visit, undefined when there is none to compare with */
export function compareRows(a: VisitFigures | undefined, b: VisitFigures, units: UnitSystem): CompareRow[] {
  const notes = compareNotes(a, b);
  const rows = compared.flatMap((quantity): CompareRow[] => {
    const [before, found, left] = [a?.left[quantity], b.found[quantity], b.left[quantity]];
    if (before === undefined && found === undefined && left === undefined) return [];
    const text = (figure: CardFigure | undefined): FigureText | undefined => cardFigureText(quantity, figure, units);
    return [
      {
        label: records.basis[quantity] === undefined ? quantityWords[quantity] : `${quantityWords[quantity]}, ${records.basis[quantity]}`,
        a: text(before),
        found: text(found),
        left: text(left),
        difference: before && left && mayDiffer(quantity, notes) ? differenceText(quantity, before, left, units) : undefined,
        unit: cardUnit(quantity, units),
      },
    ];
  });
  return [...settingRows(a, b), ...rows, ...geometryRows(a, b)];
}

/** Two readings of a rule with marks of 1/32 in: half a mark each. Common practice. */
const RULE_MM = Math.hypot(25.4 / 64, 25.4 / 64);
const withoutUnit = (text: string): string => text.replace(/\s*(mm|in\.?|"|″)$/i, '');

/** What was set with the gauge: as left then, as found and as left now, in the unit of the later visit. */
function geometryRows(a: VisitFigures | undefined, b: VisitFigures): CompareRow[] {
  const unit = b.visit.setUp.lengthUnit;
  const figure = (of: VisitFigures | undefined, item: GeometryItem, side: Side): { text: string; value: number } | undefined => {
    const setUp = of?.visit.setUp;
    const typed = setUp && typedFigure(setUp, item, side);
    const read = typed === undefined ? undefined : readFigure(item, typed, setUp!.lengthUnit);
    if (typed === undefined || read?.ok !== true) return undefined;
    return { value: read.value, text: isLength(item) ? inUnit(typed, read.value, setUp!.lengthUnit, unit) : typed };
  };
  return itemNames.flatMap((item): CompareRow[] => {
    // what was only read as found is not said to have been left so: each column says what it is named for
    const before = figure(a, item, 'asLeft');
    const [found, left] = [figure(b, item, 'asFound'), figure(b, item, 'asLeft')];
    if (found === undefined && left === undefined && before === undefined) return [];
    const text = (one: { text: string } | undefined): FigureText | undefined => one && { value: one.text };
    return [
      {
        label: geometryNames[item],
        a: text(before),
        found: text(found),
        left: text(left),
        difference: before && left && geometryDifference(item, left.value - before.value, unit),
        unit: isLength(item) ? (unit === 'mm' ? 'mm' : 'in') : '',
      },
    ];
  });
}

/** As it was typed, where the unit is the same; else as a rule of the other unit shows it. */
function inUnit(typed: string, mm: number, from: LengthUnit, to: LengthUnit): string {
  const ends = /mm$/i.test(typed.trim()) ? 'mm' : /[a-z"″]\.?$/i.test(typed.trim()) ? 'inch' : from;
  return ends === to ? withoutUnit(typed) : withoutUnit(lengthWords(mm, to));
}

function geometryDifference(item: GeometryItem, by: number, unit: LengthUnit): CompareRow['difference'] {
  if (!isLength(item)) return { text: signed(by, formatPosition), clear: Math.abs(by) > 1e-6 };
  const half = unit === 'mm' ? '0.6' : inchFraction(RULE_MM, 64).text;
  if (Math.abs(by) <= RULE_MM + 1e-6) return { text: records.within(`±${half}`), clear: false };
  return { text: signed(by, (size) => withoutUnit(lengthWords(size, unit))), clear: true };
}

function settingRows(a: VisitFigures | undefined, b: VisitFigures): CompareRow[] {
  const names = [...new Set([...(a?.visit.adjusters ?? []), ...b.visit.adjusters].map(({ name }) => name))];
  return names.flatMap((name): CompareRow[] => {
    const at = (trial: Trial | undefined): number | undefined => trial && positionOf(trial.setting, name);
    const [before, left] = [at(a?.leftTrial), at(b.leftTrial)];
    const found = (b.visit.settingFound && positionOf(b.visit.settingFound, name)) ?? at(b.foundTrial);
    if (before === undefined && found === undefined && left === undefined) return [];
    const write = (value: number | undefined): FigureText | undefined =>
      value === undefined ? undefined : { value: formatPosition(value) };
    const adjuster = [...b.visit.adjusters, ...(a?.visit.adjusters ?? [])].find((one) => one.name === name);
    return [
      {
        label: name.charAt(0).toUpperCase() + name.slice(1),
        a: write(before),
        found: write(found),
        left: write(left),
        difference:
          before === undefined || left === undefined || isOtherScale(a, b, name)
            ? undefined
            : { text: signed(left - before, formatPosition), clear: left !== before },
        unit: adjuster?.unit ?? '',
      },
    ];
  });
}

const signed = (value: number, write: (size: number) => string): string =>
  value === 0 ? '0' : `${value > 0 ? '+' : '−'}${write(Math.abs(Number(value.toFixed(6))))}`;

function differenceText(quantity: Compared, before: CardFigure, after: CardFigure, units: UnitSystem): CompareRow['difference'] {
  const { value, expanded } = difference(before, after);
  if (quantity === 'smokeNumber') return { text: signed(value, formatSmoke), clear: false };
  const shown = shownAs(
    quantity === 'o2Percent'
      ? 'o2'
      : quantity === 'coPpm'
        ? 'co'
        : quantity === 'netStackK'
          ? 'netStackC'
          : quantity === 'efficiencyHhvPercent'
            ? 'efficiencyHhvPercent'
            : 'draft',
    units,
  );
  const inUnits = value * shown.factor;
  if (expanded === undefined)
    return { text: signed(Number(inUnits.toFixed(shown.decimals)), (size) => formatNumber(size, shown.decimals)), clear: false };
  const text = pair(Math.abs(inUnits), expanded * Math.abs(shown.factor), shown.decimals);
  if (Math.abs(value) <= expanded) return { text: records.within(text.half ?? ''), clear: false };
  return { text: `${value > 0 ? '+' : '−'}${text.value} ${text.half ?? ''}`, clear: true };
}

/** What has moved by more than its uncertainty, worst first; nothing is said that the figures do not carry. */
export function compareStory(a: VisitFigures | undefined, b: VisitFigures): Story {
  if (a === undefined) return records.story.onlyOne;
  const { number } = a.visit;
  const notes = compareNotes(a, b);
  const inBoth = compared.filter((quantity) => a.left[quantity] !== undefined && b.left[quantity] !== undefined);
  if (inBoth.length === 0) return records.story.nothingInBoth(number);
  const comparable = inBoth.filter((quantity) => mayDiffer(quantity, notes));
  if (comparable.length === 0) return records.story.nothingComparable(number);
  const moved = (quantity: Compared): number => {
    const [before, after] = [a.left[quantity], b.left[quantity]];
    if (before === undefined || after === undefined || !comparable.includes(quantity)) return 0;
    const { value, expanded } = difference(before, after);
    return expanded === undefined || Math.abs(value) <= expanded ? 0 : Math.sign(value);
  };
  const { warmer, drop, efficiency, cooler } = records.story;
  const trouble =
    moved('netStackK') > 0
      ? warmer
      : moved('draftDropPa') > 0
        ? drop
        : moved('efficiencyHhvPercent') < 0
          ? efficiency
          : moved('netStackK') < 0
            ? cooler
            : undefined;
  if (trouble !== undefined) return trouble(number);
  const others = compared.filter((quantity) => moved(quantity) !== 0).map((quantity) => quantityWords[quantity]);
  if (others.length > 0) return records.story.moved(number, others);
  return comparable.length < inBoth.length ? records.story.sameOfRest(number) : records.story.same(number);
}

export const historyQuantities = [
  'o2Percent',
  'netStackK',
  'draftDropPa',
  'efficiencyHhvPercent',
] as const satisfies readonly CardQuantity[];
export type HistoryQuantity = (typeof historyQuantities)[number];

export type HistoryPoint = {
  readonly visitId: string;
  readonly wallMs: number;
  readonly zoneMinutes: number;
  readonly found: number | undefined;
  readonly left: number | undefined;
  readonly foundText: string | undefined;
  readonly leftText: string | undefined;
};

/** One figure of each visit, oldest first, in the units shown. */
export function history(visits: readonly VisitFigures[], quantity: HistoryQuantity, units: UnitSystem): HistoryPoint[] {
  const id = quantity === 'o2Percent' ? 'o2' : quantity === 'netStackK' ? 'netStackC' : quantity === 'draftDropPa' ? 'draft' : quantity;
  const { factor, offset } = shownAs(id, units);
  const shown = (figure: CardFigure | undefined): number | undefined => figure && figure.value * factor + offset;
  return [...visits]
    .sort((one, other) => one.visit.startedWallMs - other.visit.startedWallMs)
    .map(({ visit, found, left }) => ({
      visitId: visit.id,
      wallMs: visit.startedWallMs,
      zoneMinutes: visit.zoneMinutes,
      found: shown(found[quantity]),
      left: shown(left[quantity]),
      foundText: cardFigureText(quantity, found[quantity], units)?.value,
      leftText: cardFigureText(quantity, left[quantity], units)?.value,
    }));
}

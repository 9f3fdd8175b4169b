/**
 * Electrodes, nozzle and head as a visit has them now, from its one home: the geometry of its set-up sheet. Visits of earlier versions have
 * some of these figures as numbers in the rows of the sheet; they are read as if they had been typed.
 */
import type { DrawnFigure, DrawnFigures } from '../../geometry/drawing/drawing.ts';
import { limitsOf, readFigure, type CardFigure, type FiguresCard } from '../../geometry/figures-card.ts';
import { figuresFor, type Burner, type Found } from '../../geometry/figures-for.ts';
import { isLength, itemNames, type GeometryItem } from '../../geometry/items.ts';
import { leftFrom } from '../../geometry/left.ts';
import type { GeometryLeft } from '../../measurement/geometry-left.ts';
import { changeOf, type GeometryRecord, type GeometryRow, type Side } from '../../geometry/record.ts';
import { staleSince, type GeometryChange } from '../../geometry/stale.ts';
import { handSteps, looseAfter, type HandStep, type LoosePart } from '../../geometry/steps.ts';
import { judge, type GeometryVerdict } from '../../geometry/verdict.ts';
import type { LengthUnit } from '../../units/length.ts';
import { presentValue, type MakersFigure, type SetUpItem, type SetUpSheet } from './set-up-sheet.ts';
import { defined } from '../../defined.ts';

/** Items of the set-up sheet whose home is the geometry now. */
export const movedItems = {
  electrodeGap: 'electrodeGapMm',
  heightAboveCentreline: 'heightAboveCentrelineMm',
  aheadOfNozzle: 'aheadOfNozzleMm',
  tipToMetal: 'clearanceToMetalMm',
  nozzleToHead: 'nozzleToHeadMm',
  headSetting: 'headSetting',
} as const satisfies Partial<Record<GeometryItem, SetUpItem>>;
const oldItem = (item: GeometryItem): SetUpItem | undefined => (movedItems as Partial<Record<GeometryItem, SetUpItem>>)[item];
export const isMoved = (item: SetUpItem): boolean => Object.values<SetUpItem>(movedItems).includes(item);

export type ItemNow = {
  readonly item: GeometryItem;
  readonly asFound: string | undefined;
  readonly asLeft: string | undefined;
  readonly found: Found;
  /** false: the maker's figure was typed at this visit, in the unit of the sheet */
  readonly isOfCard: boolean;
  readonly verdicts: Readonly<Record<Side, GeometryVerdict>>;
  /** as left when it was measured again, else as found */
  readonly now: GeometryVerdict;
  readonly nowTyped: string | undefined;
  /** mm, for the drawing: as measured, else as the card wants it */
  readonly drawn: DrawnFigure | undefined;
  /** why it has to be measured again */
  readonly staleBecause: ReturnType<typeof staleSince>[number]['because'] | undefined;
};
export type GeometryNow = {
  readonly unit: LengthUnit;
  readonly card: FiguresCard | undefined;
  readonly burner: Burner;
  readonly items: Readonly<Record<GeometryItem, ItemNow>>;
  readonly loose: readonly LoosePart[];
  /** the steps that this burner has, in the order of the hands */
  readonly steps: readonly HandStep[];
};

const figureText = (item: GeometryItem, value: number): string => `${Number(value.toFixed(6))}${isLength(item) ? ' mm' : ''}`;

function oldFigure(item: GeometryItem, maker: MakersFigure | undefined): CardFigure | undefined {
  if (maker === undefined) return undefined;
  const text = (value: number | undefined): string | undefined => (value === undefined ? undefined : figureText(item, value));
  const figure = {
    nominal: text(maker.nominal),
    tolerance: text(maker.tolerance),
    low: text(maker.low),
    high: text(maker.high),
  };
  return Object.values(figure).some((one) => one !== undefined) ? figure : undefined;
}

/** As typed; a figure of an earlier version as it would be typed. */
export function typedFigure(sheet: SetUpSheet, item: GeometryItem, side: Side): string | undefined {
  const typed = sheet.geometry?.rows?.[item]?.[side];
  if (typed !== undefined) return typed;
  const old = oldItem(item);
  const value = old === undefined ? undefined : sheet.rows[old]?.[side];
  return value === undefined ? undefined : figureText(item, value);
}

export function burnerOf(sheet: SetUpSheet): Burner {
  const { tubeEnd, head, arrangement, card } = sheet.geometry ?? {};
  const flow = presentValue(sheet, 'nozzleFlowLh');
  const only = <T>(list: readonly T[] | undefined): T | undefined => (list?.length === 1 ? list[0] : undefined);
  return {
    tubeEnd: tubeEnd ?? only(card?.tubeEnds),
    head: head ?? only(card?.heads),
    arrangement: arrangement ?? only(card?.arrangements),
    ...defined({ flow: flow === undefined ? undefined : { value: flow, unit: 'l/h' as const } }),
  };
}

/** Everything that was moved: a figure that is another one as left than as found, and a nozzle that was changed. Oldest first. */
export function changesOf(sheet: SetUpSheet): { what: GeometryChange; wallMs: number }[] {
  const moved = itemNames.flatMap((item) => {
    const what = changeOf(item);
    const leftMs = sheet.geometry?.rows?.[item]?.leftMs;
    if (what === undefined || leftMs === undefined) return [];
    const [was, is] = [typedFigure(sheet, item, 'asFound'), typedFigure(sheet, item, 'asLeft')];
    if (was === undefined || is === undefined) return [];
    const [before, after] = [readFigure(item, was, sheet.lengthUnit), readFigure(item, is, sheet.lengthUnit)];
    return before.ok && after.ok && Math.abs(before.value - after.value) > 1e-6 ? [{ what, wallMs: leftMs }] : [];
  });
  return [...(sheet.geometry?.changed ?? []), ...moved].sort((a, b) => a.wallMs - b.wallMs);
}

const none: Found = { state: 'none', why: 'not-on-card' };

export function geometryNow(sheet: SetUpSheet): GeometryNow {
  const record: GeometryRecord = sheet.geometry ?? {};
  const { card } = record;
  const burner = burnerOf(sheet);
  const figures = card === undefined ? undefined : figuresFor(card, burner);
  const row = (item: GeometryItem): GeometryRow | undefined => record.rows?.[item];
  const changes = changesOf(sheet);
  const stale = staleSince(changes, (item) => {
    const one = row(item);
    return one?.leftMs ?? one?.foundMs;
  });
  const units = { sheet: sheet.lengthUnit, card: card?.lengthUnit ?? sheet.lengthUnit };
  const items = Object.fromEntries(
    itemNames.map((item): [GeometryItem, ItemNow] => {
      const old = oldItem(item);
      const ofCard = figures?.[item] ?? none;
      const typedHere = row(item)?.maker ?? (old === undefined ? undefined : oldFigure(item, sheet.rows[old]?.maker));
      const isOfCard = ofCard.state === 'given' || ofCard.why !== 'not-on-card' || typedHere === undefined;
      const found: Found = isOfCard ? ofCard : { state: 'given', figure: typedHere };
      const [asFound, asLeft] = [typedFigure(sheet, item, 'asFound'), typedFigure(sheet, item, 'asLeft')];
      const mine = isOfCard ? units : { ...units, card: units.sheet };
      const verdicts = { asFound: judge(item, asFound, found, mine), asLeft: judge(item, asLeft, found, mine) };
      return [
        item,
        {
          item,
          asFound,
          asLeft,
          found,
          isOfCard,
          verdicts,
          now: asLeft === undefined ? verdicts.asFound : verdicts.asLeft,
          nowTyped: asLeft ?? asFound,
          drawn: drawnFigure(item, asLeft ?? asFound, found, mine),
          staleBecause: stale.find(({ what }) => what === item)?.because,
        },
      ];
    }),
  ) as Record<GeometryItem, ItemNow>;
  return {
    unit: sheet.lengthUnit,
    card,
    burner,
    items,
    // a sheet that was only typed into the table was never led: it says nothing of what is loose
    loose: looseAfter(record.done ?? [], record.tight ?? [], record.at === undefined ? [] : changes.map(({ what }) => what)),
    steps: (handSteps as readonly HandStep[]).filter((step) => isAsked(step, card, burner, items)),
  };
}

function drawnFigure(
  item: GeometryItem,
  typed: string | undefined,
  found: Found,
  units: { sheet: LengthUnit; card: LengthUnit },
): DrawnFigure | undefined {
  if (!isLength(item)) return undefined;
  const limits = found.state === 'given' ? limitsOf(item, found.figure, units.card) : undefined;
  const read = typed === undefined ? undefined : readFigure(item, typed, units.sheet);
  if (read?.ok === true) return { mm: read.value, source: 'measured', ...defined({ slot: limits }) };
  const nominal =
    found.state === 'given' && found.figure.nominal !== undefined ? readFigure(item, found.figure.nominal, units.card) : undefined;
  if (nominal?.ok === true) return { mm: nominal.value, source: 'card', ...defined({ slot: limits }) };
  return undefined;
}

/** For the drawing of one side of the sheet. */
export function drawnFigures(now: GeometryNow, angleDeg?: number): DrawnFigures {
  const drawn = itemNames.flatMap((item) => {
    const figure = now.items[item].drawn;
    return figure === undefined ? [] : [[item, figure] as const];
  });
  return { ...Object.fromEntries(drawn), ...defined({ sprayAngleDeg: angleDeg }) };
}

/** A burner with one electrode has no tips to level; a card that gives no band position has a burner without a band. */
function isAsked(
  { id, item }: HandStep,
  card: FiguresCard | undefined,
  { arrangement }: Burner,
  items: Record<GeometryItem, ItemNow>,
): boolean {
  if (id === 'fine-to-zero') return card?.adjuster?.steps === 'two';
  if (item === 'tipDifference') return arrangement !== 'one';
  if (item === 'shutterStart' || item === 'bandStart')
    return (
      card === undefined ||
      items[item].nowTyped !== undefined ||
      !(items[item].found.state === 'none' && items[item].found.why === 'not-on-card')
    );
  return true;
}

/** Whether anything was written down of the geometry at all. */
export const hasGeometry = (sheet: SetUpSheet): boolean =>
  sheet.geometry?.card !== undefined || itemNames.some((item) => typedFigure(sheet, item, 'asFound') ?? typedFigure(sheet, item, 'asLeft'));

/**
 * How the simulated burner stands after what was set: outside the card by so much, with the nozzle that is in it now. Undefined while nothing was
 * measured: then it stands as its scenario says.
 */
export function geometryLeft(sheet: SetUpSheet): GeometryLeft | undefined {
  const now = geometryNow(sheet);
  const flow = sheet.rows.nozzleFlowLh;
  const nozzleShare = flow?.asFound === undefined || flow.asLeft === undefined ? 1 : flow.asLeft / flow.asFound;
  if (nozzleShare === 1 && itemNames.every((item) => now.items[item].now.verdict === 'not-measured')) return undefined;
  return leftFrom((item) => now.items[item].now, { nozzleShare });
}

/**
 * The sheet with its geometry as numbers in the rows, mm or marks, for what reads the whole sheet as numbers: hints and firing rate.
 */
export function withGeometryRows(sheet: SetUpSheet): SetUpSheet {
  const number = (item: GeometryItem, side: Side): number | undefined => {
    const typed = typedFigure(sheet, item, side);
    const read = typed === undefined ? undefined : readFigure(item, typed, sheet.lengthUnit);
    return read?.ok === true ? read.value : undefined;
  };
  const rows = { ...sheet.rows };
  for (const [item, old] of Object.entries(movedItems) as [GeometryItem, SetUpItem][]) {
    const [asFound, asLeft] = [number(item, 'asFound'), number(item, 'asLeft')];
    if (asFound !== undefined || asLeft !== undefined) rows[old] = { ...rows[old], asFound, asLeft };
  }
  return { ...sheet, rows };
}

/**
 * The unit of the sheet is how a figure without a unit is read: what was typed before gets its own unit written behind it, so that no figure
 * and no verdict changes with the unit shown. Back in its own unit it stands as it was typed: the thin space is ours, nobody types it.
 */
export function unitChanges(sheet: SetUpSheet, unit: LengthUnit): { path: (string | number)[]; after: unknown }[] {
  const own = sheet.lengthUnit === 'mm' ? 'mm' : 'in';
  const wanted = `\u2009${unit === 'mm' ? 'mm' : 'in'}`;
  const withUnit = (text: string | undefined): string | undefined => {
    if (text?.endsWith(wanted) === true) return text.slice(0, -wanted.length);
    return text === undefined || /[a-z"″]\s*\.?$/i.test(text.trim()) ? text : `${text}\u2009${own}`;
  };
  const rows = Object.entries(sheet.geometry?.rows ?? {}).flatMap(([item, row]) => {
    if (row === undefined || !isLength(item as GeometryItem)) return [];
    const { maker } = row;
    const typed = maker && Object.fromEntries(Object.entries(maker).map(([part, text]) => [part, withUnit(text)]));
    const after = {
      ...row,
      asFound: withUnit(row.asFound),
      asLeft: withUnit(row.asLeft),
      ...defined({ maker: typed }),
    };
    return [{ path: ['setUp', 'geometry', 'rows', item], after }];
  });
  return unit === sheet.lengthUnit ? [] : [{ path: ['setUp', 'lengthUnit'], after: unit }, ...rows];
}

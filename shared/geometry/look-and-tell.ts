/**
 * Look and tell: a burner with none to three planted errors; the learner says what is wrong. Pure: the lots are drawn by the caller.
 * The figures come from a card; nothing is planted that a rule could not show.
 */
import { inchFraction, type LengthUnit } from '../units/length.ts';
import { limitsOf, readFigure, type FiguresCard } from './figures-card.ts';
import { figuresFor, parseFlow, type Burner } from './figures-for.ts';
import { isLength, itemNames, type GeometryItem } from './items.ts';
import type { GeometryLeft } from '../measurement/geometry-left.ts';
import { leftFrom } from './left.ts';
import { judge, type GeometryVerdict } from './verdict.ts';
import { defined } from '../defined.ts';

/** What can be wrong, in the order of the answers. */
export const errorKinds = ['gap', 'height', 'ahead', 'metal', 'level', 'centre', 'tube-end', 'zero', 'porcelain', 'nozzle'] as const;
export type ErrorKind = (typeof errorKinds)[number];

export const kindItem: Readonly<Record<Exclude<ErrorKind, 'porcelain' | 'nozzle'>, GeometryItem>> = {
  gap: 'electrodeGap',
  height: 'heightAboveCentreline',
  ahead: 'aheadOfNozzle',
  metal: 'tipToMetal',
  level: 'tipDifference',
  centre: 'offCentre',
  'tube-end': 'headToTubeEnd',
  zero: 'headSetting',
};

export type TaughtBurner = {
  readonly card: FiguresCard;
  readonly burner: Burner;
  /** the flow that this burner is to have, and what is stamped on its nozzle */
  readonly wantedFlow: string;
  readonly stampedFlow: string;
  readonly porcelainCracked: boolean;
  /** mm, or marks */
  readonly figures: Readonly<Partial<Record<GeometryItem, number>>>;
  readonly planted: readonly ErrorKind[];
};

/** What is planted lies this far outside the tolerance at least: two marks of a common rule. */
const CLEAR_MM = 25.4 / 16;
const CLEAR_MARKS = 0.5;
const MOST_PLANTED = 3;

const pick = <T>(list: readonly T[], random: () => number): T => list[Math.min(list.length - 1, Math.floor(random() * list.length))] as T;

/** @param random numbers in [0, 1) */
export function plantErrors(card: FiguresCard, random: () => number): TaughtBurner {
  const rows = card.byFlow?.rows ?? [];
  const row = pick(rows, random);
  // the wrong nozzle is the one that lies beside the right one in the drawer: the next size
  const others = rows.filter((_, index) => Math.abs(index - rows.indexOf(row)) === 1);
  const kinds = errorKinds.filter((kind) => kind !== 'nozzle' || others.length > 0);
  const count = Math.floor(random() * (MOST_PLANTED + 1));
  const planted = new Set<ErrorKind>();
  while (planted.size < count) planted.add(pick(kinds, random));
  const unit = card.byFlow?.unit ?? 'gph';
  const wantedFlow = `${row.from} ${unit}`;
  const stampedFlow = planted.has('nozzle') ? `${pick(others, random).from} ${unit}` : wantedFlow;
  const tubeEnd = card.tubeEnds.length === 0 ? undefined : pick(card.tubeEnds, random);
  const flow = parseFlow(wantedFlow, unit);
  const burner: Burner = {
    ...defined({ tubeEnd }),
    ...(card.arrangements.includes('two') ? { arrangement: 'two' } : {}),
    ...defined({ flow }),
  };
  const wanted = figuresFor(card, burner);
  const figures: Partial<Record<GeometryItem, number>> = {};
  for (const item of itemNames) {
    const found = wanted[item];
    if (found.state !== 'given') continue;
    const limits = limitsOf(item, found.figure, card.lengthUnit);
    if (limits === undefined) continue;
    const isWrong = [...planted].some((kind) => kind !== 'porcelain' && kind !== 'nozzle' && kindItem[kind] === item);
    const { low, high } = limits;
    const clear = isLength(item) ? CLEAR_MM : CLEAR_MARKS;
    const far = clear * (1 + random());
    const good = limits.nominal ?? (Number.isFinite(high) ? (Number.isFinite(low) ? (low + high) / 2 : 0) : low + clear);
    const canBeLow = Number.isFinite(low) && low - far > 0;
    const goesLow = canBeLow && (!Number.isFinite(high) || random() < 0.5);
    const value = isWrong ? (goesLow ? low - far : Number.isFinite(high) ? high + far : Math.max(0, low - clear)) : good;
    figures[item] = onRule(item, value, card.lengthUnit);
  }
  return {
    card,
    burner,
    wantedFlow,
    stampedFlow,
    porcelainCracked: planted.has('porcelain'),
    figures,
    planted: errorKinds.filter((kind) => planted.has(kind)),
  };
}

/** As a rule shows it: what is drawn and what can be read are the same. */
function onRule(item: GeometryItem, value: number, unit: LengthUnit): number {
  const read = readFigure(item, typedOn(item, value, unit), unit);
  return read.ok ? read.value : value;
}
/** What a learner with a rule writes down. */
export const typedOn = (item: GeometryItem, value: number, unit: LengthUnit): string =>
  !isLength(item)
    ? String(Number((Math.round(value * 4) / 4).toFixed(2)))
    : unit === 'inch'
      ? inchFraction(value, 64).text
      : String(Number((Math.round(value * 2) / 2).toFixed(1)));

export function verdictOf({ card, burner, figures }: TaughtBurner, item: GeometryItem): GeometryVerdict {
  const value = figures[item];
  const typed = value === undefined ? undefined : typedOn(item, value, card.lengthUnit);
  return judge(item, typed, figuresFor(card, burner)[item], { sheet: card.lengthUnit, card: card.lengthUnit });
}

/** How the simulated burner fires this one, as it stands. */
export function leftOf(burner: TaughtBurner): GeometryLeft {
  const flow = (text: string): number => parseFlow(text, 'gph')?.value ?? 1;
  return leftFrom((item) => verdictOf(burner, item), {
    porcelainCracked: burner.porcelainCracked,
    nozzleShare: flow(burner.stampedFlow) / flow(burner.wantedFlow),
  });
}

/** What somebody finds who measures everything, looks at the porcelain, reads the stamp, and believes the verdicts. */
export function tellByMeasuring(burner: TaughtBurner): ErrorKind[] {
  return errorKinds.filter((kind) => {
    if (kind === 'porcelain') return burner.porcelainCracked;
    if (kind === 'nozzle') return burner.stampedFlow !== burner.wantedFlow;
    return verdictOf(burner, kindItem[kind]).verdict === 'fail';
  });
}

export type Told = { readonly found: ErrorKind[]; readonly missed: ErrorKind[]; readonly falseAlarms: ErrorKind[] };

/** Scored by what was missed and by false alarms alike: saying everything is no way to win. */
export function scoreTold({ planted }: Pick<TaughtBurner, 'planted'>, told: readonly ErrorKind[]): Told {
  return {
    found: planted.filter((kind) => told.includes(kind)),
    missed: planted.filter((kind) => !told.includes(kind)),
    falseAlarms: errorKinds.filter((kind) => told.includes(kind) && !planted.includes(kind)),
  };
}

/** In the second half of a lesson the rule is taken away. */
export const hasRule = (burner: number, ofBurners: number): boolean => burner <= ofBurners / 2;

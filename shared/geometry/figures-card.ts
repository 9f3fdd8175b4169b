/**
 * The maker's figures for one burner and head, typed once from the maker's sheet. Figures stay as they were typed (5/32 stays 5/32) and are
 * read in the unit of the sheet.
 */
import { z } from 'zod';
import { err, ok, type Result } from '../result.ts';
import { parseLengthMm, type LengthRefusal, type LengthUnit } from '../units/length.ts';
import { parseTypedNumber } from '../units/parse-number.ts';
import { flowItems, isLength, itemNames, type FlowItem, type GeometryItem } from './items.ts';

const Typed = z.string().trim().min(1).max(24);
const Text = z.string().trim().max(120);

/** A nominal with its tolerance either way, or limits of its own. A nominal alone gives no verdict. */
export const CardFigure = z.strictObject({
  nominal: Typed.optional(),
  tolerance: Typed.optional(),
  low: Typed.optional(),
  high: Typed.optional(),
});
export type CardFigure = z.infer<typeof CardFigure>;

export const tubeEnds = ['straight', 'conical'] as const;
export const arrangements = ['two', 'two-alternative', 'one'] as const;

/** For which burner a figure holds; what is left out does not matter to it. */
export const FigureFor = z.strictObject({
  tubeEnd: z.enum(tubeEnds).optional(),
  head: Text.optional(),
  arrangement: z.enum(arrangements).optional(),
});
export type FigureFor = z.infer<typeof FigureFor>;

export const flowUnits = ['gph', 'l/h', 'kg/h'] as const;

export const FiguresCard = z.strictObject({
  format: z.literal('flueside-figures-card'),
  version: z.literal(1),
  name: Text.min(1),
  revision: z.int().min(1).max(9999).default(1),
  /** what it was typed from; all of it is asked, none of it is invented */
  source: z.strictObject({
    document: Text.min(1),
    edition: Text.optional(),
    page: Text.optional(),
    date: Text.optional(),
    typedBy: Text.optional(),
  }),
  lengthUnit: z.enum(['mm', 'inch']),
  heads: z.array(Text.min(1)).max(12).default([]),
  tubeEnds: z.array(z.enum(tubeEnds)).max(2).default([]),
  arrangements: z.array(z.enum(arrangements)).max(3).default([]),
  /** how the head is moved; a coarse plate that is zeroed anew and a fine one with notches are two steps */
  adjuster: z
    .strictObject({ steps: z.enum(['one', 'two']), zeroMark: Text.optional(), fineNotches: z.int().min(1).max(99).optional() })
    .optional(),
  figures: z.array(z.strictObject({ item: z.enum(itemNames), figure: CardFigure, for: FigureFor.optional() })).max(80),
  /** positions by the flow stamped on the nozzle; both ends belong to the row */
  byFlow: z
    .strictObject({
      unit: z.enum(flowUnits),
      rows: z
        .array(
          z.strictObject({
            from: Typed,
            to: Typed,
            ...(Object.fromEntries(flowItems.map((item) => [item, Typed.optional()])) as Record<FlowItem, z.ZodOptional<typeof Typed>>),
          }),
        )
        .max(40),
      tolerance: z.partialRecord(z.enum(flowItems), Typed).optional(),
    })
    .optional(),
  nozzle: z.strictObject({ angle: Text.optional(), pattern: Text.optional(), pressure: Text.optional() }).optional(),
  notes: z.string().max(2000).optional(),
  training: z.boolean().default(false),
});
export type FiguresCard = z.infer<typeof FiguresCard>;

/** Limits in mm, or in marks for a position on a scale. */
export type Limits = { readonly low: number; readonly high: number; readonly nominal: number | undefined };

/** What is wrong with a card, as data; the words are in shared/words/geometry/geometry.ts. */
export type CardProblem =
  | { key: 'figure-unreadable'; item: GeometryItem; text: string; refusal: LengthRefusal['key'] | 'not-a-number' | 'two-separators' }
  | { key: 'figure-negative'; item: GeometryItem; text: string }
  | { key: 'figure-empty'; item: GeometryItem }
  | { key: 'limits-swapped'; item: GeometryItem; low: string; high: string }
  | { key: 'nominal-outside'; item: GeometryItem; nominal: string }
  | { key: 'tolerance-too-wide'; item: GeometryItem; nominal: string; tolerance: string }
  | { key: 'tolerance-alone'; item: GeometryItem; tolerance: string }
  | { key: 'tolerance-and-limits'; item: GeometryItem }
  | { key: 'unit-unlikely'; item: GeometryItem; text: string; unit: LengthUnit }
  | { key: 'figure-twice'; item: GeometryItem }
  /** two figures that say equally much about one burner: by its head and by its tube end */
  | { key: 'figure-unclear'; item: GeometryItem }
  | { key: 'figure-and-flow'; item: GeometryItem }
  | { key: 'for-unknown'; item: GeometryItem; what: 'head' | 'tubeEnd' | 'arrangement'; value: string }
  | { key: 'beyond-notches'; row: number; text: string; notches: number }
  | { key: 'flow-unreadable'; row: number; text: string }
  | { key: 'flow-swapped'; row: number; from: string; to: string }
  | { key: 'flow-overlap'; rows: readonly [number, number]; at: string };

type LengthItem = Exclude<GeometryItem, FlowItem>;
/** No part inside a burner tube is further from its neighbour than this; a longer one is mm typed as inches. Ours, mm. */
const longestMm: Readonly<Record<LengthItem, number>> = {
  electrodeGap: 25,
  heightAboveCentreline: 80,
  aheadOfNozzle: 60,
  tipToMetal: 100,
  tipDifference: 25,
  nozzleToHead: 200,
  offCentre: 40,
  headToTubeEnd: 250,
};
/** A card never asks for less than this; less is inches typed as mm. What was measured may be less. Ours, mm. */
const leastMm: Partial<Record<GeometryItem, number>> = { electrodeGap: 0.8, heightAboveCentreline: 2 };
/** A tolerance below this is inches typed as mm: no gauge reads it. Ours. */
const FINEST_MM = 0.05;

/** @returns mm for a length, marks for a position */
export function readFigure(item: GeometryItem, text: string, unit: LengthUnit): Result<number, CardProblem> {
  if (isLength(item)) {
    const length = parseLengthMm(text, unit);
    if (!length.ok) return err({ key: 'figure-unreadable', item, text, refusal: length.error.key });
    return length.value < 0 ? err({ key: 'figure-negative', item, text }) : ok(length.value);
  }
  const number = parseTypedNumber(text);
  if (number.ok) return number.value < 0 ? err({ key: 'figure-negative', item, text }) : ok(number.value);
  return err({ key: 'figure-unreadable', item, text, refusal: number.error.code === 'two-separators' ? 'two-separators' : 'not-a-number' });
}

/** @returns what makes a length impossible between these two parts: its unit, as a rule */
export function unlikely(item: GeometryItem, mm: number, text: string, unit: LengthUnit): CardProblem | undefined {
  const longest = (longestMm as Partial<Record<GeometryItem, number>>)[item];
  return longest !== undefined && mm > longest ? { key: 'unit-unlikely', item, text, unit: unitWritten(text) ?? unit } : undefined;
}
const unitWritten = (text: string): LengthUnit | undefined =>
  /mm$/i.test(text.trim()) ? 'mm' : /[a-z"″]\.?$/i.test(text.trim()) ? 'inch' : undefined;

/** @returns undefined when the figure has a nominal without a tolerance: a tolerance of our own would be a limit of our own */
export function limitsOf(item: GeometryItem, figure: CardFigure, unit: LengthUnit): Limits | undefined {
  const read = (text: string | undefined): number | undefined => {
    const value = text === undefined ? undefined : readFigure(item, text, unit);
    return value?.ok === true ? value.value : undefined;
  };
  const [nominal, tolerance, low, high] = [read(figure.nominal), read(figure.tolerance), read(figure.low), read(figure.high)];
  if (low !== undefined || high !== undefined) return { low: low ?? -Infinity, high: high ?? Infinity, nominal };
  return nominal === undefined || tolerance === undefined ? undefined : { low: nominal - tolerance, high: nominal + tolerance, nominal };
}

const sameFor = (a: FigureFor | undefined, b: FigureFor | undefined): boolean =>
  a?.head === b?.head && a?.tubeEnd === b?.tubeEnd && a?.arrangement === b?.arrangement;

const isFlowItem = (item: GeometryItem): item is FlowItem => (flowItems as readonly GeometryItem[]).includes(item);

/** Both hold for one burner, and neither is the closer one. */
function areRivals(a: FigureFor | undefined, b: FigureFor | undefined): boolean {
  const keys = ['head', 'tubeEnd', 'arrangement'] as const;
  const count = (wanted: FigureFor | undefined): number => keys.filter((key) => wanted?.[key] !== undefined).length;
  const canMeet = keys.every((key) => a?.[key] === undefined || b?.[key] === undefined || a[key] === b[key]);
  return canMeet && count(a) === count(b);
}

/** Everything about a card that can be caught without the paper it was typed from. An empty list: the card can be saved. */
export function checkCard(card: FiguresCard): CardProblem[] {
  const problems: CardProblem[] = [];
  card.figures.forEach(({ item, figure, for: holdsFor }, index) => {
    problems.push(...checkFigure(item, figure, card.lengthUnit));
    if (card.figures.slice(0, index).some((other) => other.item === item && sameFor(other.for, holdsFor)))
      problems.push({ key: 'figure-twice', item });
    else if (card.figures.slice(0, index).some((other) => other.item === item && areRivals(other.for, holdsFor)))
      problems.push({ key: 'figure-unclear', item });
    if (isFlowItem(item) && card.byFlow?.rows.some((row) => row[item] !== undefined) === true)
      problems.push({ key: 'figure-and-flow', item });
    const { head, tubeEnd, arrangement } = holdsFor ?? {};
    if (head !== undefined && !card.heads.includes(head)) problems.push({ key: 'for-unknown', item, what: 'head', value: head });
    if (tubeEnd !== undefined && !card.tubeEnds.includes(tubeEnd))
      problems.push({ key: 'for-unknown', item, what: 'tubeEnd', value: tubeEnd });
    if (arrangement !== undefined && !card.arrangements.includes(arrangement))
      problems.push({ key: 'for-unknown', item, what: 'arrangement', value: arrangement });
  });
  return [...problems, ...checkFlow(card)];
}

export function checkFigure(item: GeometryItem, figure: CardFigure, unit: LengthUnit): CardProblem[] {
  const texts = [figure.nominal, figure.tolerance, figure.low, figure.high].filter((text) => text !== undefined);
  if (texts.length === 0) return [{ key: 'figure-empty', item }];
  const unreadable = texts.flatMap((text) => {
    const value = readFigure(item, text, unit);
    return value.ok ? [] : [value.error];
  });
  if (unreadable.length > 0) return unreadable;
  const value = (text: string | undefined): number | undefined => {
    const read = text === undefined ? undefined : readFigure(item, text, unit);
    return read?.ok === true ? read.value : undefined;
  };
  const [nominal, tolerance, low, high] = [value(figure.nominal), value(figure.tolerance), value(figure.low), value(figure.high)];
  const problems: CardProblem[] = [];
  if (low !== undefined && high !== undefined && low > high)
    problems.push({ key: 'limits-swapped', item, low: figure.low ?? '', high: figure.high ?? '' });
  else if (nominal !== undefined && ((low !== undefined && nominal < low) || (high !== undefined && nominal > high)))
    problems.push({ key: 'nominal-outside', item, nominal: figure.nominal ?? '' });
  if (tolerance !== undefined && (low !== undefined || high !== undefined)) problems.push({ key: 'tolerance-and-limits', item });
  else if (tolerance !== undefined && nominal === undefined)
    problems.push({ key: 'tolerance-alone', item, tolerance: figure.tolerance ?? '' });
  if (!isLength(item)) return problems;
  if (nominal !== undefined && tolerance !== undefined && nominal > 0 && tolerance > nominal)
    problems.push({ key: 'tolerance-too-wide', item, nominal: figure.nominal ?? '', tolerance: figure.tolerance ?? '' });
  const long = texts.flatMap((text) => unlikely(item, value(text) ?? 0, text, unit) ?? [])[0];
  const least = leastMm[item] ?? 0;
  const tooShort = [figure.nominal, figure.high].find((text) => text !== undefined && (value(text) ?? 0) < least);
  const fine = tolerance !== undefined && tolerance > 0 && tolerance < FINEST_MM ? figure.tolerance : undefined;
  const short = tooShort ?? fine;
  if (long !== undefined) problems.push(long);
  else if (short !== undefined) problems.push({ key: 'unit-unlikely', item, text: short, unit: unitWritten(short) ?? unit });
  return problems;
}

/** @returns the rows in numbers, in the card's own flow unit; unreadable ones are left out */
export function flowRows(card: FiguresCard): { row: number; from: number; to: number }[] {
  return (card.byFlow?.rows ?? []).flatMap(({ from, to }, row) => {
    const [low, high] = [parseTypedNumber(from), parseTypedNumber(to)];
    return low.ok && high.ok ? [{ row, from: low.value, to: high.value }] : [];
  });
}

function checkFlow(card: FiguresCard): CardProblem[] {
  const notches = card.adjuster?.steps === 'two' ? card.adjuster.fineNotches : undefined;
  const problems: CardProblem[] = [];
  (card.byFlow?.rows ?? []).forEach((flowRow, row) => {
    for (const text of [flowRow.from, flowRow.to]) {
      const number = parseTypedNumber(text);
      if (!number.ok || number.value <= 0) problems.push({ key: 'flow-unreadable', row, text });
    }
    for (const item of flowItems) {
      const text = flowRow[item];
      const value = text === undefined ? undefined : readFigure(item, text, card.lengthUnit);
      if (value?.ok === false) problems.push(value.error);
      else if (item === 'headSetting' && text !== undefined && notches !== undefined && (value?.value ?? 0) > notches)
        problems.push({ key: 'beyond-notches', row, text, notches });
    }
  });
  for (const item of flowItems) {
    const text = card.byFlow?.tolerance?.[item];
    const value = text === undefined ? undefined : readFigure(item, text, card.lengthUnit);
    if (value?.ok === false) problems.push(value.error);
  }
  const rows = flowRows(card);
  for (const { row, from, to } of rows) {
    const typed = card.byFlow?.rows[row];
    if (from > to) problems.push({ key: 'flow-swapped', row, from: typed?.from ?? '', to: typed?.to ?? '' });
  }
  const ordered = rows.filter(({ from, to }) => from <= to).sort((a, b) => a.from - b.from || a.to - b.to);
  for (const [index, next] of ordered.entries()) {
    const before = ordered[index - 1];
    // both ends belong to a row, so a flow that ends one row and begins the next has two settings
    if (before !== undefined && next.from <= before.to)
      problems.push({ key: 'flow-overlap', rows: [before.row, next.row], at: card.byFlow?.rows[next.row]?.from ?? '' });
  }
  return problems;
}

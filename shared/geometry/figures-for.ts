/** The card's figures for this burner: by its tube end, head, electrodes and nozzle. What the card lacks stays "no maker's figure". */
import { checkFigure, flowRows, type CardFigure, type FigureFor, type FiguresCard } from './figures-card.ts';
import { flowItems, itemNames, type FlowItem, type GeometryItem } from './items.ts';
import { parseTypedNumber } from '../units/parse-number.ts';
import { L_PER_US_GALLON } from '../units/convert.ts';
import { defined } from '../defined.ts';

export type FlowUnit = 'gph' | 'l/h' | 'kg/h';
/** What this burner has; a flow in kg/h is compared only with a card in kg/h, for the oil's density is not the card's business. */
export type Burner = FigureFor & { readonly flow?: { readonly value: number; readonly unit: FlowUnit } | undefined };

export type Found =
  | { readonly state: 'given'; readonly figure: CardFigure }
  /** the card knows the item, not for this burner */
  | {
      readonly state: 'none';
      readonly why:
        | 'not-on-card'
        | 'other-burner'
        | 'no-row-for-flow'
        | 'two-rows-for-flow'
        | 'flow-unknown'
        | 'flow-unreadable'
        | 'flow-unit'
        /** the card's figure contradicts itself, or stands twice: nothing is judged by it */
        | 'card-contradicts';
    };

export type FiguresFor = Readonly<Record<GeometryItem, Found>>;

export function figuresFor(card: FiguresCard, burner: Burner): FiguresFor {
  const found = Object.fromEntries(itemNames.map((item) => [item, fixedFigure(card, item, burner)])) as Record<GeometryItem, Found>;
  for (const item of flowItems) {
    const byFlow = flowFigure(card, item, burner);
    if (byFlow !== undefined) found[item] = found[item].state === 'given' ? contradicts : byFlow;
  }
  if (!isCardFor(card, burner))
    for (const item of itemNames) if (isOnCard(card, item)) found[item] = { state: 'none', why: 'other-burner' };
  return found;
}

const contradicts: Found = { state: 'none', why: 'card-contradicts' };
const isOnCard = (card: FiguresCard, item: GeometryItem): boolean =>
  card.figures.some((figure) => figure.item === item) || card.byFlow?.rows.some((row) => row[item as FlowItem] !== undefined) === true;

/** A figure "for every burner" is for every burner that the card lists: a card for straight tube ends says nothing about a conical one. */
function isCardFor({ heads, tubeEnds, arrangements }: FiguresCard, { head, tubeEnd, arrangement }: Burner): boolean {
  const lists = <T>(list: readonly T[], value: T | undefined): boolean => value === undefined || list.length === 0 || list.includes(value);
  return lists(heads, head) && lists(tubeEnds, tubeEnd) && lists(arrangements, arrangement);
}
const given = (card: FiguresCard, item: GeometryItem, figure: CardFigure): Found =>
  checkFigure(item, figure, card.lengthUnit).length > 0 ? contradicts : { state: 'given', figure };
const sameFigure = (a: CardFigure, b: CardFigure): boolean =>
  a.nominal === b.nominal && a.tolerance === b.tolerance && a.low === b.low && a.high === b.high;

const holds = (wanted: FigureFor | undefined, burner: Burner): boolean =>
  (wanted?.head === undefined || wanted.head === burner.head) &&
  (wanted?.tubeEnd === undefined || wanted.tubeEnd === burner.tubeEnd) &&
  (wanted?.arrangement === undefined || wanted.arrangement === burner.arrangement);
const closeness = (wanted: FigureFor | undefined): number => Object.values(wanted ?? {}).filter((value) => value !== undefined).length;

function fixedFigure(card: FiguresCard, item: GeometryItem, burner: Burner): Found {
  const all = card.figures.filter((figure) => figure.item === item);
  if (all.length === 0) return { state: 'none', why: 'not-on-card' };
  // the figure that says most about this burner wins over one for all burners
  const fitting = all.filter((figure) => holds(figure.for, burner)).sort((a, b) => closeness(b.for) - closeness(a.for));
  const best = fitting[0];
  if (best === undefined) return { state: 'none', why: 'other-burner' };
  const rivals = fitting.filter((other) => closeness(other.for) === closeness(best.for) && !sameFigure(other.figure, best.figure));
  return rivals.length > 0 ? contradicts : given(card, item, best.figure);
}

function flowFigure(card: FiguresCard, item: FlowItem, burner: Burner): Found | undefined {
  const { byFlow } = card;
  if (byFlow === undefined || !byFlow.rows.some((row) => row[item] !== undefined)) return undefined;
  if (burner.flow === undefined) return { state: 'none', why: 'flow-unknown' };
  const flow = inUnit(burner.flow, byFlow.unit);
  if (flow === undefined) return { state: 'none', why: 'flow-unit' };
  const slack = 1e-6 * flow;
  const rows = flowRows(card).filter(
    ({ row, from, to }) => byFlow.rows[row]?.[item] !== undefined && flow >= from - slack && flow <= to + slack,
  );
  const values = new Set(rows.map(({ row }) => byFlow.rows[row]?.[item]));
  if (values.size > 1) return { state: 'none', why: 'two-rows-for-flow' };
  const [nominal] = values;
  if (nominal === undefined) return { state: 'none', why: 'no-row-for-flow' };
  const tolerance = byFlow.tolerance?.[item];
  return given(card, item, { nominal, ...defined({ tolerance }) });
}

function inUnit({ value, unit }: NonNullable<Burner['flow']>, wanted: FlowUnit): number | undefined {
  if (unit === wanted) return value;
  if (unit === 'gph' && wanted === 'l/h') return value * L_PER_US_GALLON;
  if (unit === 'l/h' && wanted === 'gph') return value / L_PER_US_GALLON;
  return undefined;
}

const flowShape = /^(.*?)\s*(gph|l\/h|kg\/h)?$/i;
/** '0.75 gph' or '2.8 l/h' as typed; undefined when it is none. */
export function parseFlow(text: string, sheetUnit: FlowUnit): Burner['flow'] {
  const match = flowShape.exec(text.trim());
  const number = parseTypedNumber(match?.[1] ?? '');
  if (!number.ok || number.value <= 0) return undefined;
  return { value: number.value, unit: (match?.[2]?.toLowerCase() ?? sheetUnit) as FlowUnit };
}
export const hasFlowUnit = (text: string): boolean => flowShape.exec(text.trim())?.[2] !== undefined;

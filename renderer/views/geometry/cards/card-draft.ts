/** A figures card while it is typed: texts as they stand in the fields; empty ones are absent. */
import { checkCard, FiguresCard, type CardProblem } from '../../../../shared/geometry/figures-card.ts';
import { flowItems, type FlowItem, type GeometryItem } from '../../../../shared/geometry/items.ts';
import { defined } from '../../../../shared/defined.ts';

export type FigureDraft = { item: GeometryItem; nominal: string; tolerance: string; low: string; high: string; holdsFor: string };
export type FlowRowDraft = { from: string; to: string } & Record<FlowItem, string>;
export type CardDraft = {
  card: FiguresCard;
  heads: string;
  figures: FigureDraft[];
  rows: FlowRowDraft[];
  tolerance: Record<FlowItem, string>;
};

/** between two conditions that hold together; nobody can type it */
const AND = '\n';
/** What a figure holds for, as one choice: 'tubeEnd conical', 'head No. 2'. */
const forText = (holdsFor: FiguresCard['figures'][number]['for']): string => {
  return Object.entries(holdsFor ?? {})
    .flatMap(([key, value]) => (value === undefined ? [] : [`${key} ${value}`]))
    .join(AND);
};
const forOf = (text: string): FiguresCard['figures'][number]['for'] => {
  if (text === '') return undefined;
  return Object.fromEntries(
    text.split(AND).map((part) => {
      const at = part.indexOf(' ');
      return [part.slice(0, at), part.slice(at + 1)];
    }),
  );
};
/** What a holds-for choice reads as; a card that was opened may have two of them together. */
export const forParts = (text: string): [key: string, value: string][] =>
  Object.entries(forOf(text) ?? {}).map(([key, value]) => [key, String(value)]);

export const emptyFlowRow = (): FlowRowDraft => ({ from: '', to: '', headSetting: '', shutterStart: '', bandStart: '' });
export const emptyFigure = (item: GeometryItem): FigureDraft => ({ item, nominal: '', tolerance: '', low: '', high: '', holdsFor: '' });

export const draftOf = (card: FiguresCard): CardDraft => ({
  card,
  heads: card.heads.join('\n'),
  figures: card.figures.map(({ item, figure, for: holdsFor }) => ({
    item,
    nominal: figure.nominal ?? '',
    tolerance: figure.tolerance ?? '',
    low: figure.low ?? '',
    high: figure.high ?? '',
    holdsFor: forText(holdsFor),
  })),
  rows: (card.byFlow?.rows ?? []).map(({ from, to, headSetting = '', shutterStart = '', bandStart = '' }) => ({
    from,
    to,
    headSetting,
    shutterStart,
    bandStart,
  })),
  tolerance: { headSetting: '', shutterStart: '', bandStart: '', ...card.byFlow?.tolerance },
});

export const newCard = (): FiguresCard => ({
  format: 'flueside-figures-card',
  version: 1,
  name: '',
  revision: 1,
  source: { document: '' },
  lengthUnit: 'inch',
  heads: [],
  tubeEnds: [],
  arrangements: [],
  figures: [],
  training: false,
});

const filled = <T extends string>(texts: Readonly<Record<T, string>>, keys: readonly T[]): Partial<Record<T, string>> =>
  Object.fromEntries(keys.flatMap((key) => (texts[key].trim() === '' ? [] : [[key, texts[key].trim()]]))) as Partial<Record<T, string>>;

/** @returns the card as it would be saved, or undefined where name or document are missing; and what contradicts itself */
export function readDraft({ card, heads, figures, rows, tolerance }: CardDraft): {
  card: FiguresCard | undefined;
  problems: CardProblem[];
} {
  const source = Object.fromEntries(Object.entries(card.source).filter(([key, text]) => key === 'document' || (text ?? '').trim() !== ''));
  const isFilled = (row: FlowRowDraft): boolean => Object.values(row).some((text: string) => text.trim() !== '');
  const flow = rows.filter(isFilled);
  // a row is called by its place in the form, where empty ones count
  const places = rows.flatMap((row, at) => (isFilled(row) ? [at] : []));
  const placed = (problem: CardProblem): CardProblem =>
    'rows' in problem
      ? { ...problem, rows: [places[problem.rows[0]] ?? 0, places[problem.rows[1]] ?? 0] }
      : 'row' in problem
        ? { ...problem, row: places[problem.row] ?? 0 }
        : problem;
  const read = FiguresCard.safeParse({
    ...card,
    source,
    heads: heads
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== ''),
    figures: figures.map(({ item, holdsFor, ...texts }) => {
      const holds = forOf(holdsFor);
      return { item, figure: filled(texts, ['nominal', 'tolerance', 'low', 'high']), ...defined({ for: holds }) };
    }),
    byFlow:
      flow.length === 0
        ? undefined
        : {
            unit: card.byFlow?.unit ?? 'gph',
            // an empty flow is said as a problem of its row, not as a card that cannot be read
            rows: flow.map((row) => ({
              from: row.from.trim() || '?',
              to: row.to.trim() || row.from.trim() || '?',
              ...filled(row, flowItems),
            })),
            tolerance: filled(tolerance, flowItems),
          },
  });
  return read.success ? { card: read.data, problems: checkCard(read.data).map(placed) } : { card: undefined, problems: [] };
}

/** A set-up sheet as a file or a visit has it: what burner it is, what was measured, what was changed; judged against a card. */
import { z } from 'zod';
import { checkCard, tubeEnds, arrangements, type CardProblem, type FiguresCard } from './figures-card.ts';
import { figuresFor, hasFlowUnit, parseFlow, type Burner, type Found } from './figures-for.ts';
import { itemNames, type GeometryItem } from './items.ts';
import { geometryChanges, staleOf, type GeometryChange, type Stale, type StaleReason } from './stale.ts';
import { judge, type GeometryVerdict } from './verdict.ts';
import { defined } from '../defined.ts';

const Typed = z.string().trim().max(24);
/** A number is taken as it would be typed. */
const Figure = z.union([Typed, z.number().transform(String)]);

export const MeasuredSheet = z.strictObject({
  lengthUnit: z.enum(['mm', 'inch']),
  burner: z
    .strictObject({
      tubeEnd: z.enum(tubeEnds).optional(),
      head: z.string().max(120).optional(),
      arrangement: z.enum(arrangements).optional(),
      nozzleFlow: Figure.optional(),
    })
    .default({}),
  measured: z.partialRecord(z.enum(itemNames), Figure),
  /** parts that were moved or changed after everything was measured, oldest first */
  changed: z.array(z.enum(geometryChanges)).max(50).default([]),
  /** measured or set again after the last of these changes */
  measuredAfter: z.array(z.enum([...itemNames, 'readings', 'ignitionTests'])).default([]),
});
export type MeasuredSheet = z.infer<typeof MeasuredSheet>;

export type JudgedItem = {
  readonly item: GeometryItem;
  readonly typed: string | undefined;
  readonly found: Found;
  readonly verdict: GeometryVerdict;
  /** what was changed after it was measured: the verdict is of then, not of now */
  readonly staleBecause: GeometryChange | undefined;
};
export type JudgedSheet = {
  /** the flow that rows of the card were chosen by, and whether its unit was written beside it */
  readonly flow: (NonNullable<Burner['flow']> & { readonly unitFrom: 'sheet' | 'card' }) | undefined;
  readonly items: readonly JudgedItem[];
  readonly stale: readonly StaleReason[];
  readonly cardProblems: readonly CardProblem[];
};

/** @param card absent: everything is shown as measured, without a verdict */
export function judgeSheet(card: FiguresCard | undefined, sheet: MeasuredSheet): JudgedSheet {
  const { nozzleFlow, ...burner } = sheet.burner;
  const flow = nozzleFlow === undefined ? undefined : parseFlow(nozzleFlow, card?.byFlow?.unit ?? 'gph');
  const figures = card === undefined ? undefined : figuresFor(card, { ...burner, ...defined({ flow }) });
  const units = { sheet: sheet.lengthUnit, card: card?.lengthUnit ?? sheet.lengthUnit };
  const none: Found = { state: 'none', why: 'not-on-card' };
  const stale = staleOf(sheet.changed, new Set<Stale>(sheet.measuredAfter));
  return {
    flow: flow && { ...flow, unitFrom: hasFlowUnit(nozzleFlow ?? '') ? 'sheet' : 'card' },
    items: itemNames.map((item) => {
      const asked = figures?.[item] ?? none;
      const isUnread = nozzleFlow !== undefined && flow === undefined && asked.state === 'none' && asked.why === 'flow-unknown';
      const found: Found = isUnread ? { state: 'none', why: 'flow-unreadable' } : asked;
      const typed = sheet.measured[item];
      const staleBecause = stale.find(({ what }) => what === item)?.because;
      return { item, typed, found, verdict: judge(item, typed, found, units), staleBecause };
    }),
    stale,
    cardProblems: card === undefined ? [] : checkCard(card),
  };
}

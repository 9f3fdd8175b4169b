import { z } from 'zod';
import '../../zod-setup.ts';
import { DecisionRule } from '../../measurement/decision-rule.ts';
import { tuningTexts } from '../../words/core/tuning.ts';
import { defined } from '../../defined.ts';

/** Figures that a limit can be set on. The basis is part of the name: limits on another basis are not comparable. */
export const cardQuantities = {
  o2Percent: { basis: 'dry' },
  co2Percent: { basis: 'dry, computed from O2' },
  excessAirPercent: { basis: 'from dry O2' },
  coPpm: { basis: 'dry, as measured' },
  coAirFreePpm: { basis: 'dry, air-free' },
  coAt3PercentO2Ppm: { basis: 'dry, at 3 % O2' },
  coMgPerKwh: { basis: 'per fuel energy, LHV' },
  smokeNumber: { basis: 'by the spot rule' },
  oilTrace: { basis: 'any spot; 0 none, 1 seen' },
  stackC: { basis: 'gross' },
  netStackK: { basis: 'over combustion air' },
  efficiencyHhvPercent: { basis: 'HHV' },
  efficiencyLhvPercent: { basis: 'LHV' },
  siegertLossPercent: { basis: 'LHV, Siegert' },
  overFirePa: { basis: tuningTexts.againstRoom },
  breechPa: { basis: tuningTexts.againstRoom },
  draftDropPa: { basis: 'over fire minus breech' },
  reserveO2Percent: { basis: tuningTexts.overOnset },
  roomCoPpm: { basis: 'room air' },
} as const satisfies Record<string, { basis: string }>;
export type CardQuantity = keyof typeof cardQuantities;
export const cardQuantityNames = Object.keys(cardQuantities) as [CardQuantity, ...CardQuantity[]];

export const CardLine = z
  .object({
    quantity: z.enum(cardQuantityNames),
    low: z.number().optional(),
    high: z.number().optional(),
    /** 'below 50', not '50 at most' */
    highExcluded: z.boolean().optional(),
    /** the rule rounds the value to this before it is compared, halves up */
    roundTo: z.number().positive().max(1000).optional(),
    source: z.string().min(1).max(300),
    /** when it applies: 'up to 25 kW', 'retention head' */
    appliesTo: z.string().max(200).optional(),
  })
  .refine((line) => line.low !== undefined || line.high !== undefined, tuningTexts.needsLimit)
  .refine((line) => line.low === undefined || line.high === undefined || line.low <= line.high, tuningTexts.lowAboveHigh);
export type CardLine = z.infer<typeof CardLine>;

/** A dated, editable set of limits. None is chosen by itself, and the decision rule is always chosen by a person. */
export const TargetCard = z.object({
  id: z.string(),
  name: z.string().min(1).max(120),
  /** date of the rule or of the sheet, ISO */
  date: z.string().regex(/^\d{4}(-\d{2}(-\d{2})?)?$/),
  place: z.string().max(120).optional(),
  source: z.string().min(1).max(300),
  kind: z.enum(['legal', 'training', 'guidance', 'maker', 'own']),
  decisionRule: DecisionRule,
  smokeRule: z.enum(['mean-of-three-whole', 'mean-to-half', 'single-spot', 'worst-spot']),
  lines: z.array(CardLine).min(1).max(40),
  /** shipped as an example to copy; the copy has this cleared */
  example: z.boolean().optional(),
});
export type TargetCard = z.infer<typeof TargetCard>;

/** A value as it stands against a line; `expanded` is U (k = 2) in the same unit, undefined when it is not known. */
export type CardFigure = { value: number; expanded?: number | undefined };
export type CardVerdict = 'pass' | 'fail' | 'too-close' | 'not-known';
export type LineVerdict = {
  line: CardLine;
  basis: string;
  figure: CardFigure | undefined;
  verdict: CardVerdict;
  rule: DecisionRule;
  /** the limits that the value itself was compared with, after the guard band */
  compared: { low?: number; high?: number };
  /** pass or fail by the simple rule, but the limit lies within U of the value */
  withinUncertainty: boolean;
};

/**
 * One figure against one line.
 *
 * - simple: the value itself decides; what lies within U of the limit is said.
 * - guarded acceptance: passes inside the limit by U, fails outside the limit, in between too close to call.
 * - guarded rejection: fails only when outside by more than U.
 *
 * Guarded rules need U: without it the verdict is not known, unless the value is outside a guarded-acceptance limit.
 *
 * @source JCGM 106:2012 and ISO 14253-1 (from memory); guarded rejection: 1st BImSchV, Annex 2 no. 2.3 (the reading minus its uncertainty is compared)
 */
export function judge(line: CardLine, figure: CardFigure | undefined, rule: DecisionRule): LineVerdict {
  const basis = cardQuantities[line.quantity].basis;
  const blank = { line, basis, figure, rule, compared: {}, withinUncertainty: false };
  if (!figure) return { ...blank, verdict: 'not-known' };
  const { expanded } = figure;
  // halves up, so that 11.5 is 12; the last digit of binary arithmetic does not decide
  const value = line.roundTo === undefined ? figure.value : Math.floor(figure.value / line.roundTo + 0.5 + 1e-9) * line.roundTo;
  const u = expanded ?? 0;
  const inside = (guard: number): boolean => {
    const slack = 1e-9 * Math.max(1, Math.abs(value));
    if (line.low !== undefined && value < line.low + guard - slack) return false;
    if (line.high === undefined) return true;
    return line.highExcluded === true ? value < line.high - guard : value <= line.high - guard + slack;
  };
  const guard = rule === 'guarded-acceptance' ? u : rule === 'guarded-rejection' ? -u : 0;
  const compared = {
    ...defined({
      low: line.low === undefined ? undefined : line.low + guard,
      high: line.high === undefined ? undefined : line.high - guard,
    }),
  };
  const withinUncertainty = inside(u) !== inside(-u);
  const shared = { ...blank, compared, withinUncertainty };
  if (rule === 'guarded-acceptance') {
    if (!inside(0)) return { ...shared, verdict: 'fail' };
    if (expanded === undefined) return { ...shared, verdict: 'not-known' };
    return { ...shared, verdict: inside(u) ? 'pass' : 'too-close' };
  }
  if (rule === 'guarded-rejection') {
    if (expanded === undefined && !inside(0)) return { ...shared, verdict: 'not-known' };
    return { ...shared, verdict: inside(-u) ? 'pass' : 'fail' };
  }
  return { ...shared, verdict: inside(0) ? 'pass' : 'fail' };
}

export type CardFigures = Partial<Record<CardQuantity, CardFigure | undefined>>;

/** Every line is judged, also after one has failed: the whole programme is always finished. */
export const judgeCard = (card: TargetCard, figures: CardFigures): LineVerdict[] =>
  card.lines.map((line) => judge(line, figures[line.quantity], card.decisionRule));

/** The card as a whole: fails when a line fails; passes only when every line passes. */
export function overallVerdict(verdicts: readonly LineVerdict[]): CardVerdict {
  const has = (verdict: CardVerdict): boolean => verdicts.some((line) => line.verdict === verdict);
  return has('fail') ? 'fail' : has('not-known') || verdicts.length === 0 ? 'not-known' : has('too-close') ? 'too-close' : 'pass';
}

/** A copy to edit: own id and date, no longer an example. */
export function copyCard(card: TargetCard, { id, name, date }: { id: string; name: string; date: string }): TargetCard {
  const copy: TargetCard = { ...card, id, name, date };
  delete copy.example;
  return copy;
}

/** As-found and as-left against the target card; without a card the usual figures, unjudged. */
import { withUnit, type UnitSystem } from '../format/quantity.ts';
import { cardQuantities, type CardFigure, type CardQuantity, type LineVerdict } from '../tuning/card/target-card.ts';
import type { Trial } from '../tuning/trial/trial.ts';
import type { Visit } from '../tuning/visit/visit.ts';
import { reportWords } from '../words/paper/page-one.ts';
import { decisionRuleWords, quantityWords, verdictNote, verdictWords } from '../words/visit/target-card.ts';
import { cardFigureText, cardUnit, exactText, lineLimitText, looksLike } from './card-format.ts';
import type { ScalePicture } from './drawings/VerdictScale.tsx';
import type { CardRow, CardTable } from './report-model.ts';
import type { StageFacts } from './stage-facts.ts';
import { timesOf } from './written.ts';

const usual = [
  'o2Percent',
  'coAirFreePpm',
  'netStackK',
  'smokeNumber',
  'overFirePa',
  'efficiencyHhvPercent',
] as const satisfies CardQuantity[];
/** quantities that cannot be below nothing: their scale begins there */
const floored: ReadonlySet<CardQuantity> = new Set<CardQuantity>([
  'coPpm',
  'coAirFreePpm',
  'coAt3PercentO2Ppm',
  'coMgPerKwh',
  'smokeNumber',
  'oilTrace',
  'roomCoPpm',
  'excessAirPercent',
  'siegertLossPercent',
  'stackC',
  'netStackK',
]);

export function cardTable(visit: Visit, facts: StageFacts, units: UnitSystem): CardTable {
  const rows = facts.verdicts
    ? facts.verdicts.map((verdict) => judgedRow(verdict, facts, units))
    : usual
        .filter((quantity) => facts.figuresFound[quantity] !== undefined || facts.figuresLeft[quantity] !== undefined)
        .map((quantity) => plainRow(quantity, facts, units));
  const card = visit.targetCard;
  const rule = card === undefined ? undefined : decisionRuleWords[card.decisionRule];
  return {
    title: facts.verdicts ? reportWords.cardTitle : reportWords.figuresTitle,
    rows,
    notes: [
      rows.length === 0
        ? reportWords.noReadings
        : rule === undefined || !facts.verdicts
          ? reportWords.plusMinus
          : `${reportWords.plusMinus} ${reportWords.rule(rule.name, rule.about)}`,
      ...(facts.stage.asFoundSkippedReason !== undefined && facts.asFound === undefined
        ? [reportWords.skipped(facts.stage.asFoundSkippedReason)]
        : []),
      ...(facts.verdicts ?? []).flatMap((verdict) => {
        const note = verdictNote(verdict);
        return note === undefined || verdict.verdict === 'not-known' ? [] : [`${quantityWords[verdict.line.quantity]}: ${uncapital(note)}`];
      }),
      ...(facts.verdicts ?? []).flatMap((verdict) => alikeNote(verdict, units)),
      ...readingNote(visit, reportWords.columns.left, facts.asLeft),
    ],
  };
}

/** −5.0 Pa fails against −0.02 in w.c., which is −4.98 Pa and reads −5: then the digits that decide are written out. */
function alikeNote({ line, figure, verdict }: LineVerdict, units: UnitSystem): string[] {
  const { quantity, low, high } = line;
  if (verdict !== 'fail' || figure === undefined) return [];
  const crossed = [low, high].find((limit) => limit !== undefined && looksLike(quantity, figure.value, limit, units));
  if (crossed === undefined) return [];
  const write = (inner: number): string => exactText(quantity, inner, units);
  return [`${quantityWords[quantity]}: ${reportWords.looksAlike(write(figure.value), write(crossed))}`];
}

const uncapital = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

/** A figure against its limits, as window and paper draw it. */
export const scalePicture = ({ line: { quantity, low, high }, verdict }: LineVerdict, figure: CardFigure): Omit<ScalePicture, 'label'> => ({
  value: figure.value,
  expanded: figure.expanded,
  low,
  high,
  floor: floored.has(quantity) ? 0 : undefined,
  verdict,
});

const writtenFigure = (quantity: CardQuantity, figure: CardFigure, units: UnitSystem): string => {
  const text = cardFigureText(quantity, figure, units);
  return withUnit([text?.value, text?.half].filter(Boolean).join(' '), cardUnit(quantity, units));
};

function plainRow(quantity: CardQuantity, facts: StageFacts, units: UnitSystem): CardRow {
  return {
    label: quantityWords[quantity],
    basis: cardQuantities[quantity].basis,
    unit: cardUnit(quantity, units),
    found: cardFigureText(quantity, facts.figuresFound[quantity], units),
    left: cardFigureText(quantity, facts.figuresLeft[quantity], units),
  };
}

function judgedRow(verdict: LineVerdict, facts: StageFacts, units: UnitSystem): CardRow {
  const { line, figure } = verdict;
  const { quantity } = line;
  const word = verdictWords[verdict.verdict];
  const limit = lineLimitText(line, units);
  return {
    ...plainRow(quantity, facts, units),
    limit: {
      text: limit,
      source: line.source,
      scale: figure && {
        ...scalePicture(verdict, figure),
        label: reportWords.scaleLabel(quantityWords[quantity], writtenFigure(quantity, figure, units), limit, word),
      },
    },
    verdict: { shape: verdict.verdict, word },
  };
}

function readingNote(visit: Visit, which: string, trial: Trial | undefined): string[] {
  const reading = trial?.reading;
  if (trial === undefined || reading === undefined) return [];
  const times = timesOf(visit);
  const [from, to] = [times.ofRun(trial.runId, reading.fromMs), times.ofRun(trial.runId, reading.toMs)];
  if (from === undefined || to === undefined) return [];
  const values = Math.max(0, ...Object.values(reading.channels).map((channel) => channel?.n ?? 0));
  const name = which.charAt(0).toUpperCase() + which.slice(1);
  return [reportWords.readingNote(name, reportWords.scopes[reading.scope], times.exact(from), times.exact(to), values, reading.settled)];
}

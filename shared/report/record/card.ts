import { formatIsoDay } from '../../format/date.ts';
import { cardQuantities } from '../../tuning/target-card.ts';
import { recordWords } from '../../words/report.ts';
import { decisionRuleWords, quantityWords, smokeRuleWords } from '../../words/tune.ts';
import { cardUnit, lineLimitText } from '../card-format.ts';
import type { Parts } from '../page-one.ts';
import type { Section } from '../report-model.ts';

/** The card itself: edition, source, rule and every limit, so that the verdicts can be checked without the program. */
export function cardSection({ visit, units }: Parts): Section {
  const card = visit.targetCard;
  if (card === undefined) return { title: recordWords.card, blocks: [{ kind: 'text', text: recordWords.noCard }] };
  const { columns } = recordWords;
  const rule = decisionRuleWords[card.decisionRule];
  return {
    title: `${recordWords.card}: ${card.name}`,
    blocks: [
      {
        kind: 'text',
        text: `${recordWords.cardKinds[card.kind]}. ${recordWords.edition(formatIsoDay(card.date), card.place)} ${card.source}.`,
      },
      { kind: 'text', text: `${rule.name}: ${rule.about} ${recordWords.labels.smokeRule}: ${smokeRuleWords[card.smokeRule]}.` },
      {
        kind: 'table',
        columns: [
          { label: columns.quantity, width: 120 },
          { label: columns.basis, width: 130 },
          { label: columns.limit, width: 110 },
          { label: columns.source, width: 200 },
          { label: columns.applies, width: 112 },
        ],
        rows: card.lines.map((line) => [
          quantityWords[line.quantity],
          cardQuantities[line.quantity].basis,
          [lineLimitText(line, units), cardUnit(line.quantity, units)].filter(Boolean).join(' '),
          line.source,
          line.appliesTo ?? '',
        ]),
      },
    ],
  };
}

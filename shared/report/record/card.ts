import { formatIsoDay } from '../../format/date.ts';
import type { UnitSystem } from '../../format/quantity.ts';
import { cardQuantities, type TargetCard } from '../../tuning/card/target-card.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import { decisionRuleWords, quantityWords } from '../../words/visit/target-card.ts';
import { smokeRuleWords } from '../../words/visit/smoke-and-window.ts';
import { longSources } from '../pages/card-sources.ts';
import { cardUnit, lineLimitText } from '../card-format.ts';
import type { Block, Section } from '../report-model.ts';
import type { Parts } from '../pages/page-parts.ts';

/** The card itself: edition, source, rule and every limit, so that the verdicts can be checked without the program. */
export function cardSection({ visit, units, main }: Parts): Section {
  const card = visit.targetCard;
  if (card === undefined) return { title: recordWords.card, blocks: [{ kind: 'text', text: recordWords.noCard }] };
  const rule = decisionRuleWords[card.decisionRule];
  const onPageOne = main.verdicts !== undefined && longSources(main.verdicts.map(({ line }) => line.source)).place === 'below';
  return {
    title: `${recordWords.card}: ${card.name}`,
    blocks: [
      {
        kind: 'text',
        text: `${recordWords.cardKinds[card.kind]}. ${recordWords.edition(formatIsoDay(card.date), card.place)} ${card.source}.`,
      },
      {
        kind: 'text',
        text: [
          `${rule.name}: ${rule.about} ${recordWords.labels.smokeRule}: ${smokeRuleWords[card.smokeRule]}.`,
          ...(onPageOne ? scopes(card) : []),
        ].join(' '),
      },
      ...(onPageOne ? [] : [limitTable(card, units)]),
    ],
  };
}

/** Page 1 has every limit with its source; here only for what each of them was written. */
function scopes({ lines }: TargetCard): string[] {
  const scoped = lines.flatMap(({ quantity, appliesTo }) => (appliesTo === undefined ? [] : [`${quantityWords[quantity]}: ${appliesTo}`]));
  return [recordWords.limitsOnPageOne, ...(scoped.length === 0 ? [] : [recordWords.appliesTo(scoped)])];
}

function limitTable({ lines }: TargetCard, units: UnitSystem): Block {
  const { columns } = recordWords;
  return {
    kind: 'table',
    dense: true,
    columns: [
      { label: columns.quantity, width: 110 },
      { label: columns.basis, width: 120 },
      { label: columns.limit, width: 120 },
      { label: columns.source, width: 210 },
      { label: columns.applies, width: 112 },
    ],
    rows: lines.map((line) => [
      quantityWords[line.quantity],
      cardQuantities[line.quantity].basis,
      [lineLimitText(line, units), cardUnit(line.quantity, units)].filter(Boolean).join(' '),
      line.source.replace(/\bp (?=\d)/g, 'p\u00a0'),
      line.appliesTo ?? '',
    ]),
  };
}

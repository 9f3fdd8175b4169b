import { useEffect, useState } from 'react';
import { exampleCards } from '../../../../shared/tuning/card/example-cards.ts';
import { TargetCard, copyCard } from '../../../../shared/tuning/card/target-card.ts';
import { decisionRuleWords } from '../../../../shared/words/visit/target-card.ts';
import { leftScreen as words } from '../../../../shared/words/visit/screens/as-left.ts';
import { useParts } from '../../../app-parts.ts';
import { Dialog } from '../../../components/Dialog.tsx';
import { useVisit } from '../use-visit.ts';
import { formatDate } from '../../../../shared/format/duration.ts';
import '../visit.css';
import './card.css';

/** Own cards first, then the examples, which are copied. None is chosen by itself. */
export function CardChooser({ close }: { close: () => void }) {
  const { client, visits } = useParts();
  const { visit, may, edit } = useVisit();
  const [own, setOwn] = useState<readonly TargetCard[]>([]);
  const [refused, setRefused] = useState<string>();
  useEffect(() => {
    let here = true;
    void client.call('document.list', { kind: 'target-card' }).then((list) => {
      if (here && list.ok) setOwn(list.value.documents.flatMap(({ body }) => TargetCard.safeParse(body).data ?? []));
    });
    return () => {
      here = false;
    };
  }, [client]);
  const take = (card: TargetCard): void => {
    const why = edit({ path: ['targetCard'], after: card }, { path: ['withoutCard'] }, { path: ['smokeRule'], after: card.smokeRule });
    if (why === undefined) close();
    else setRefused(why);
  };
  const copy = (card: TargetCard): void =>
    take(copyCard(card, { id: `card-of-${visit.id}`, name: card.name, date: formatDate(visits.nowWallMs(), visit.zoneMinutes) }));
  return (
    <Dialog title={words.cardTitle} close={close} wide>
      {refused !== undefined && (
        <p className="field-error" role="alert">
          {refused}
        </p>
      )}
      {own.length > 0 && <CardList title={words.own} cards={own} button={words.useCard} may={may} choose={take} />}
      <CardList title={words.examples} cards={exampleCards} button={words.useCopy} may={may} choose={copy} />
    </Dialog>
  );
}

function CardList({
  title,
  cards,
  button,
  may,
  choose,
}: {
  title: string;
  cards: readonly TargetCard[];
  button: string;
  may: boolean;
  choose: (card: TargetCard) => void;
}) {
  return (
    <section>
      <p className="second">{title}</p>
      <ul className="found">
        {cards.map((card) => (
          <li key={card.id} className="card-row">
            <div className="grow">
              <b>{card.name}</b>
              <div className="second small">
                {[words.kinds[card.kind], card.place ?? '', card.date, words.rule(decisionRuleWords[card.decisionRule].name)]
                  .filter((part) => part !== '')
                  .join(' · ')}
              </div>
              <div className="second small">{card.source}</div>
            </div>
            <button type="button" className="button" disabled={!may} aria-label={`${button}: ${card.name}`} onClick={() => choose(card)}>
              {button}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

import { useState } from 'react';
import { MOST_CARD_BYTES, readCardFile } from '../../../../shared/geometry/card-file.ts';
import type { FiguresCard } from '../../../../shared/geometry/figures-card.ts';
import { err } from '../../../../shared/result.ts';
import { cardProblemWords } from '../../../../shared/words/geometry/geometry.ts';
import { cardFileWords, cardScreen as words } from '../../../../shared/words/geometry/geometry-cards.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { selectMayAct } from '../../../state/selectors.ts';
import { saveText } from '../../../backend/save-text.ts';
import { BrokenSlot } from '../../../components/Signs.tsx';
import { FileButton } from '../../../components/FileButton.tsx';
import { CardForm } from './CardForm.tsx';
import { draftOf, newCard, readDraft, type CardDraft } from './card-draft.ts';
import { useFiguresCards, type SavedCard } from './use-figures-cards.ts';
import { defined } from '../../../../shared/defined.ts';
import './CardsPage.css';

type Open = { id: string | undefined; revision: number | undefined; draft: CardDraft; isTraining: boolean; savedText: string };
const openOf = ({ id, revision, card, isTraining }: SavedCard): Open => ({
  id,
  revision,
  draft: draftOf(card),
  isTraining,
  savedText: JSON.stringify(card),
});

/** What contradicts itself is under the eyes, and the next digit changes it. */
function toFirstProblem(): void {
  const field = document.querySelector<HTMLInputElement>('.card-form .field.wrong input');
  field?.scrollIntoView({ block: 'nearest' });
  field?.focus({ preventScroll: true });
}

/** Figures cards in the records: typed once from the maker's sheet, revised, copied, shared as a file. */
export function CardsPage() {
  const { actions } = useParts();
  const may = useApp(selectMayAct);
  const cards = useFiguresCards();
  const [open, setOpen] = useState<Open>();
  const [said, setSaid] = useState<string>();
  const begin = (card: FiguresCard): void => {
    setSaid(undefined);
    setOpen({ id: undefined, revision: undefined, draft: draftOf(card), isTraining: false, savedText: '' });
  };
  const takeFile = async (chosen: File): Promise<void> => {
    // the size first: what is bigger than any card is not read at all
    const text = chosen.size > MOST_CARD_BYTES ? undefined : await chosen.text().catch(() => '');
    const read = text === undefined ? err({ key: 'too-big' as const }) : readCardFile(text);
    if (!read.ok) return setSaid(cardFileWords(read.error));
    begin({ ...read.value, training: false });
  };
  const { card, problems } = open === undefined ? { card: undefined, problems: [] } : readDraft(open.draft);
  const isChanged = open !== undefined && (card === undefined || JSON.stringify(card) !== open.savedText);
  const nextRevision = open?.id === undefined ? 1 : (open.draft.card.revision ?? 1) + 1;
  const save = async (): Promise<void> => {
    if (!may || open === undefined || card === undefined || problems.length > 0) return;
    const body = { ...card, revision: nextRevision };
    const stored = await actions.ask('document.save', {
      kind: 'figures-card',
      ...defined({ id: open.id, revision: open.id === undefined ? undefined : open.revision }),
      body: JSON.parse(JSON.stringify(body)) as never,
    });
    if (stored === undefined) return;
    setOpen((now) => {
      const { id, revision } = stored;
      // another card was opened before the answer came
      if (now === undefined || now.id !== open.id || now.isTraining) return now;
      // what was typed while it was saved is not saved yet, and stays
      const draft = now.draft === open.draft ? draftOf(body) : { ...now.draft, card: { ...now.draft.card, revision: nextRevision } };
      return { id, revision, draft, isTraining: false, savedText: JSON.stringify(body) };
    });
    setSaid(words.saved);
  };
  return (
    <div className="cards-page">
      {open === undefined && <h1 className="hidden-text">{words.title}</h1>}
      <nav className="cards-list" aria-label={words.title}>
        <p className="second small">{words.about}</p>
        <div className="row cards-tools">
          <button type="button" className="button" onClick={() => begin(newCard())}>
            {words.newCard}
          </button>
          <FileButton text={words.open} accept=".json,application/json" choose={([chosen]) => void takeFile(chosen)} />
        </div>
        <ul>
          {cards.map((saved) => (
            <li key={saved.id}>
              <button
                type="button"
                className="record-row"
                aria-current={open?.id === saved.id ? 'true' : undefined}
                onClick={() => {
                  setSaid(undefined);
                  setOpen(openOf(saved));
                }}
              >
                <span className="grow">
                  <b>{saved.card.name}</b>
                  <span className="second">
                    {saved.isTraining ? words.training : words.revisionName(saved.card.source.document, saved.card.revision)}
                  </span>
                </span>
              </button>
            </li>
          ))}
        </ul>
        {said !== undefined && <p role="status">{said}</p>}
      </nav>
      {open === undefined && (
        <p className="cards-none second">
          <BrokenSlot /> {words.noneOpen}
        </p>
      )}
      {open !== undefined && (
        <section className="card-editor" aria-label={open.draft.card.name || words.newCard}>
          <header className="row">
            <h1>{open.draft.card.name || words.newCard}</h1>
            <span className="second">{open.isTraining ? words.training : ''}</span>
            <span className="grow" />
            <button
              type="button"
              className="button"
              disabled={card === undefined}
              onClick={() => card !== undefined && begin({ ...card, name: words.copyName(card.name), revision: 1, training: false })}
            >
              {words.copy}
            </button>
            <button
              type="button"
              className="button"
              disabled={card === undefined || problems.length > 0}
              onClick={() =>
                card !== undefined &&
                saveText(
                  `flueside-figures-card-${card.name.replace(/[^\w-]+/g, '-').toLowerCase() || 'card'}.json`,
                  `${JSON.stringify(card, null, 2)}\n`,
                )
              }
            >
              {words.share}
            </button>
            {open.id !== undefined && !open.isTraining && (
              <button
                type="button"
                className="button"
                disabled={!may}
                onClick={() => {
                  // a card that was not removed stays open, with what is typed in it
                  void actions
                    .ask('document.remove', { kind: 'figures-card', id: open.id ?? '' })
                    .then((gone) => gone !== undefined && setOpen(undefined));
                }}
              >
                {words.remove}
              </button>
            )}
          </header>
          <CardForm draft={open.draft} problems={problems} readOnly={open.isTraining} change={(draft) => setOpen({ ...open, draft })} />
          {!open.isTraining && (
            <footer className="row">
              <div className="grow" role="status">
                <b>
                  {card === undefined
                    ? words.noName
                    : problems.length > 0
                      ? words.problems(problems.length)
                      : isChanged
                        ? words.ready
                        : words.saved}
                </b>
                {problems.slice(0, 3).map((problem, index) => (
                  <div key={index} className="notice-text">
                    {cardProblemWords(problem)}
                  </div>
                ))}
              </div>
              {problems.length > 0 ? (
                <button type="button" className="button main" onClick={toFirstProblem}>
                  {words.goTo}
                </button>
              ) : (
                <button
                  type="button"
                  className="button main"
                  disabled={!may || card === undefined || !isChanged}
                  onClick={() => void save()}
                >
                  {nextRevision === 1 ? words.save : words.saveRevision(nextRevision)}
                </button>
              )}
            </footer>
          )}
        </section>
      )}
    </div>
  );
}

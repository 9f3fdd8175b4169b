import { tubeEnds, type FiguresCard } from '../../../shared/geometry/figures-card.ts';
import { hasGeometry } from '../../../shared/tuning/set-up/geometry-now.ts';
import { cardScreen as words } from '../../../shared/words/geometry/geometry-cards.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { Choice } from '../../components/Field.tsx';
import { useVisit } from '../visit/use-visit.ts';
import { useFiguresCards, type SavedCard } from './cards/use-figures-cards.ts';
import './geometry.css';

/** Which burner maker's figures hold at this visit. The visit takes a copy; the appliance remembers which one it was. */
export function FiguresCardField() {
  const { actions } = useParts();
  const { visit, may, put } = useVisit();
  const cards = useFiguresCards();
  const stored = useApp((state) => state.appliance);
  const { geometry } = visit.setUp;
  const chosen = geometry?.card;
  const lastTime = stored?.appliance.figuresCardId;
  const remembered = chosen === undefined ? cards.find(({ id }) => id === lastTime) : undefined;
  const take = (saved: SavedCard | undefined): void => {
    if (saved === undefined) return void put({ path: ['setUp', 'geometry', 'card'] }, { path: ['setUp', 'geometry', 'cardId'] });
    const isFresh = !hasGeometry(visit.setUp);
    const isTaken = put(
      { path: ['setUp', 'geometry', 'card'], after: saved.card },
      { path: ['setUp', 'geometry', 'cardId'], after: saved.id },
      ...(isFresh ? [{ path: ['setUp', 'lengthUnit'], after: saved.card.lengthUnit }] : []),
    );
    if (isTaken && stored !== undefined && stored.appliance.figuresCardId !== saved.id)
      void actions.ask('appliance.save', {
        id: stored.id,
        revision: stored.revision,
        appliance: { ...stored.appliance, figuresCardId: saved.id },
      });
  };
  const which = <K extends 'tubeEnd' | 'arrangement' | 'head'>(
    key: K,
    label: string,
    list: readonly string[],
    name: (value: string) => string,
    all: readonly string[] = list,
  ) => {
    const chosenHere = geometry?.[key];
    // what was chosen stays in sight, also where the card does not know it
    const shown = [...new Set([...list, ...all, ...(chosenHere === undefined ? [] : [chosenHere])])];
    if (list.length === 0 || shown.length < 2) return null;
    const [only] = list;
    return (
      <Choice
        label={label}
        width={200}
        value={chosenHere ?? ''}
        disabled={!may}
        change={(value) => put({ path: ['setUp', 'geometry', key], after: value === '' ? undefined : value })}
        options={[
          { value: '', text: list.length === 1 && only !== undefined ? words.asOnCard(name(only)) : words.notSaid },
          ...shown.map((value) => ({ value, text: list.includes(value) ? name(value) : words.notOnCard(name(value)) })),
        ]}
      />
    );
  };
  const known = cards.some(({ id }) => id === geometry?.cardId);
  const nameOf = (card: FiguresCard): string =>
    card.training ? words.trainingName(card.name) : words.revisionName(card.name, card.revision);
  return (
    <div className="form-row">
      <Choice
        label={words.field}
        width={334}
        value={chosen === undefined ? '' : (geometry?.cardId ?? 'own')}
        disabled={!may}
        change={(id) => take(cards.find((one) => one.id === id))}
        options={[
          { value: '', text: words.none },
          ...(chosen !== undefined && !known ? [{ value: geometry?.cardId ?? 'own', text: nameOf(chosen) }] : []),
          ...cards.map(({ id, card }) => ({ value: id, text: nameOf(card) })),
        ]}
      />
      {remembered !== undefined && (
        <button type="button" className="button under-label" disabled={!may} onClick={() => take(remembered)}>
          {words.asLastTime(remembered.card.name)}
        </button>
      )}
      {chosen !== undefined && (
        <>
          {which('tubeEnd', words.tubeEnd, chosen.tubeEnds, (value) => words.tubeEnds[value as 'straight'], tubeEnds)}
          {which('arrangement', words.arrangement, chosen.arrangements, (value) => words.arrangements[value as 'two'])}
          {which('head', words.head, chosen.heads, (value) => value)}
        </>
      )}
    </div>
  );
}

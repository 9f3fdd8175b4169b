import { useMemo } from 'react';
import { FiguresCard } from '../../../../shared/geometry/figures-card.ts';
import { trainingCards } from '../../../../shared/geometry/training-cards.ts';
import { useAnswer } from '../../../queries/use-answer.ts';

export type SavedCard = { readonly id: string; readonly revision: number; readonly card: FiguresCard; readonly isTraining: boolean };

/** An invented card is known by its name: it is never a document. */
export const trainingId = (card: FiguresCard): string => `training:${card.name}`;

/** Cards of the records, newest first, then the two invented ones. */
export function useFiguresCards(): readonly SavedCard[] {
  const list = useAnswer('document.list', { kind: 'figures-card', limit: 200 });
  return useMemo(
    () => [
      ...(list?.documents ?? []).flatMap(({ id, revision, body }) => {
        const read = FiguresCard.safeParse(body);
        return read.success ? [{ id, revision, card: read.data, isTraining: false }] : [];
      }),
      ...trainingCards.map((card) => ({ id: trainingId(card), revision: card.revision, card, isTraining: true })),
    ],
    [list],
  );
}

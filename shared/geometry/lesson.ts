/** A lesson of Look and tell: burners one after the other, told, answered, counted. Pure; the lots are the caller's. */
import type { FiguresCard } from './figures-card.ts';
import { hasRule, plantErrors, scoreTold, type ErrorKind, type TaughtBurner, type Told } from './look-and-tell.ts';

export type Lesson = {
  readonly seed: number;
  readonly of: number;
  /** the burner in front, 1 the first; beyond `of` the lesson is over */
  readonly at: number;
  readonly told: readonly ErrorKind[];
  /** the answer to the burner in front, once it was asked for */
  readonly answer: Told | undefined;
  readonly found: number;
  readonly missed: number;
  readonly falseAlarms: number;
  readonly skipped: number;
};

export const LESSON_BURNERS = 12;

export const beginLesson = (seed: number, of = LESSON_BURNERS): Lesson => ({
  seed,
  of,
  at: 1,
  told: [],
  answer: undefined,
  found: 0,
  missed: 0,
  falseAlarms: 0,
  skipped: 0,
});

/** @param randomOf a stream of numbers in [0, 1) for a seed: the same burner whenever it is looked at */
export function burnerOf(
  { seed, at }: Pick<Lesson, 'seed' | 'at'>,
  cards: readonly FiguresCard[],
  randomOf: (seed: number) => () => number,
): TaughtBurner {
  const card = cards[(seed + at) % cards.length];
  if (card === undefined) throw new RangeError('a lesson needs a card');
  return plantErrors(card, randomOf(seed * 1009 + at));
}

export const isOver = ({ at, of }: Lesson): boolean => at > of;
export const withRule = ({ at, of }: Lesson): boolean => hasRule(at, of);

export function turnTold(lesson: Lesson, kind: ErrorKind): Lesson {
  if (lesson.answer !== undefined || isOver(lesson)) return lesson;
  const told = lesson.told.includes(kind) ? lesson.told.filter((one) => one !== kind) : [...lesson.told, kind];
  return { ...lesson, told };
}

export function checkTold(lesson: Lesson, burner: TaughtBurner): Lesson {
  if (lesson.answer !== undefined || isOver(lesson)) return lesson;
  const answer = scoreTold(burner, lesson.told);
  return {
    ...lesson,
    answer,
    found: lesson.found + answer.found.length,
    missed: lesson.missed + answer.missed.length,
    falseAlarms: lesson.falseAlarms + answer.falseAlarms.length,
  };
}

/** A burner that was not answered is skipped: it is counted apart, for it is neither found nor missed. */
export const nextBurner = (lesson: Lesson): Lesson => ({
  ...lesson,
  at: lesson.at + 1,
  told: [],
  answer: undefined,
  skipped: lesson.skipped + (lesson.answer === undefined ? 1 : 0),
});

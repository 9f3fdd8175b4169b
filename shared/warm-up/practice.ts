/** Practice in its course: so many questions, answered one after the other. Pure. */
export type Practice<Answer extends string> = {
  readonly seed: number;
  /** the question in front, 1 the first; beyond the last one the practice is over */
  readonly at: number;
  readonly told: Answer | undefined;
  readonly right: number;
};
export const PRACTICE_QUESTIONS = 10;

export const beginPractice = <Answer extends string>(seed: number): Practice<Answer> => ({ seed, at: 1, told: undefined, right: 0 });
export const isPracticeOver = ({ at }: Practice<string>): boolean => at > PRACTICE_QUESTIONS;

/** The first answer counts. */
export function answeredWith<Answer extends string>(practice: Practice<Answer>, right: Answer, told: Answer): Practice<Answer> {
  if (practice.told !== undefined || isPracticeOver(practice)) return practice;
  return { ...practice, told, right: practice.right + (told === right ? 1 : 0) };
}
export const nextQuestion = <Answer extends string>(practice: Practice<Answer>): Practice<Answer> =>
  practice.told === undefined ? practice : { ...practice, at: practice.at + 1, told: undefined };

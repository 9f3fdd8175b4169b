import type { ShiftQuestion } from '../../tuning/trial/unmarked-shift.ts';
import type { Formats } from '../tune/tune-formats.ts';

export const shiftQuestion = (question: ShiftQuestion, f: Formats): { title: string; about: string; nothing: string } => ({
  title: 'What was changed?',
  about: `O2 went from ${f.o2(question.fromPercent)} to ${f.o2(question.toPercent)} and no mark says why. The mark is set at the time it started.`,
  nothing: 'Nothing was changed',
});

export const shiftWords = {
  turned: (name: string): string => `${name} was turned`,
  position: (name: string): string => `${name} is at`,
  use: 'Mark at that time',
  back: 'Back',
} as const;

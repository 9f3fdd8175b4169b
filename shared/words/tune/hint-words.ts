import type { Formats } from './tune-formats.ts';

/** Pattern seen -> what may cause it -> what to check next. It is never said that something *is* the cause. */
export type HintWords = { title: string; seen: string; may: readonly string[]; next: string };
type Figures = Readonly<Record<string, number | undefined>>;
export type Row = { title: string; seen: (figures: Figures, f: Formats) => string; may: readonly string[]; next: string };

export const value = (figures: Figures, key: string): number => figures[key] ?? 0;
export const given = (figures: Figures, key: string, write: (value: number) => string): string => {
  const number = figures[key];
  return number === undefined ? '' : write(number);
};
export const times = (count: number): string => (count === 1 ? 'once' : count === 2 ? 'twice' : `${count} times`);

/** How many starts were late, by what leaps at light-off. */
export const lateSeen = (figures: Figures, f: Formats): string =>
  `${value(figures, 'late')} of ${value(figures, 'starts')} starts lit late: CO rose to ${f.ppm(value(figures, 'peakPpm'))} or more and fell again within a minute. Oil that sprays before the flame lights does that.`;

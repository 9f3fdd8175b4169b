import { mostFrequent } from './cells.ts';

/** Text before the first value that all lines share ('GAS: 4.1,23'), so that it is no part of the first column. */
export function commonPrompt(lines: readonly string[]): string | undefined {
  const starts = lines.map((line) => /^[^0-9+\-.]*/.exec(line)?.[0] ?? '');
  const top = mostFrequent(starts);
  return top !== undefined && top.item.trim() !== '' && top.count >= lines.length * 0.5 && top.item.length <= 40 ? top.item : undefined;
}

export type LinesToLearn = {
  readonly texts: readonly string[];
  /** lines that carry digits: those that a recipe ought to read */
  readonly withDigits: number;
};

/** From the bytes of a port to whole lines, framed as the recipe in use says; what is left of a line at a change is not lost. */
import { createLineSplitter, LONGEST_UNKNOWN, type LineSplitter } from '../../../shared/lines/line-splitter.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';

type SplitLine = { timeMs: number; bytes: string; cutBytes?: number | undefined };

export type LineFraming = {
  push(bytes: Uint8Array, atMs: number): void;
  /** What came of a line that was cut off is kept raw, and marked as cut so that nobody takes half a number for a whole one. */
  keepHalfLine(atMs?: number): void;
  /** Another speed or a gap: what has come of a line is kept raw, at its time, and what follows is another line. */
  renew(recipe: LineRecipe | undefined, atMs: number): void;
  /** Other line ends or longer lines: what has come of a line goes on in the same line. */
  carryOver(recipe: LineRecipe): void;
};

export function createLineFraming(
  first: LineRecipe | undefined,
  told: { line(line: SplitLine): void; halfLine(line: SplitLine, atMs: number | undefined): void },
): LineFraming {
  let splitter = newSplitter(first);
  const push: LineFraming['push'] = (bytes, atMs) => {
    for (const line of splitter.push(bytes, atMs)) told.line(line);
  };
  const keepHalfLine: LineFraming['keepHalfLine'] = (atMs) => {
    for (const line of splitter.end()) told.halfLine(line, atMs);
  };
  return {
    push,
    keepHalfLine,
    renew(recipe, atMs) {
      keepHalfLine(atMs);
      splitter = newSplitter(recipe);
    },
    carryOver(recipe) {
      const rest = splitter.end();
      splitter = newSplitter(recipe);
      for (const { bytes, timeMs } of rest) push(Buffer.from(bytes, 'latin1'), timeMs);
    },
  };
}

const newSplitter = (recipe: LineRecipe | undefined): LineSplitter =>
  createLineSplitter({
    terminator: recipe?.framing.terminator,
    longestLine: recipe === undefined ? LONGEST_UNKNOWN : recipe.framing.longestLine,
  });

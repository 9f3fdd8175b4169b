import { createLineReader } from '../../../../shared/lines/reading/read-line.ts';
import type { StampedLine } from '../../../../shared/measurement/line.ts';
import type { LineRecipe } from '../../../../shared/measurement/recipe.ts';
import type { Sample } from '../../../../shared/measurement/sample.ts';
import { createLiveLearner, judgeLines, type Judgement } from '../../../../shared/pipeline/propose.ts';

/** What a burner shows from light-off on, second by second. Invented data. */
export type BoardRow = { readonly at: number; readonly o2: number; readonly co: number; readonly stack: number; readonly air: number };
export const boardRows = (count = 90): BoardRow[] =>
  Array.from({ length: count }, (_, at) => {
    const burning = 1 - Math.exp(-(at + 1) / 6);
    return {
      at,
      o2: Math.round((20.9 - 15.4 * burning + 0.4 * Math.sin(at / 9)) * 10) / 10,
      co: Math.round(34 * burning + 60 * Math.exp(-at / 8) + 4 * Math.sin(at / 5)),
      stack: Math.round((200 - 177 * Math.exp(-(at + 1) / 25)) * 10) / 10,
      air: Math.round((21.3 + at * 0.01 + 0.2 * Math.sin(at * 2)) * 10) / 10,
    };
  });

export const stamped = (texts: readonly string[]): StampedLine[] => texts.map((bytes, at) => ({ timeMs: at * 1000, bytes }));

/** As a file is judged, and what live use would read with from the first recipe that is adopted on. */
export function judgeBoard(texts: readonly string[]): { file: Judgement; live: LineRecipe | undefined } {
  const lines = stamped(texts);
  let live: LineRecipe | undefined;
  const learner = createLiveLearner((judgement) => {
    if (judgement.kind === 'adopt') live ??= judgement.proposal.recipe;
  });
  for (const line of lines) learner.push(line);
  return { file: judgeLines(lines), live };
}

export const recipeOf = (judgement: Judgement): LineRecipe | undefined =>
  judgement.kind === 'adopt' ? judgement.proposal.recipe : undefined;

/** Samples of the lines that are readings. */
export function readWith(recipe: LineRecipe, texts: readonly string[]): Sample[] {
  const reader = createLineReader(recipe);
  return stamped(texts).flatMap((line) => {
    const read = reader.read(line);
    return read.kind === 'sample' ? [read.sample] : [];
  });
}

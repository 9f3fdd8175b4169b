/** What learning found, in the form in which it is shown, asked and adopted. */
import { learn, MOST_LINES, type LearnResult } from '../lines/learn.ts';
import type { StampedLine } from '../measurement/line.ts';
import type { LineRecipe } from '../measurement/recipe.ts';

export type ShownProposal = { readonly recipe: LineRecipe; readonly confidence: number; readonly reasons: string[] };
export type ShownQuestion = {
  readonly text: string;
  readonly why: string;
  readonly answers: [string, string];
  /** which recipe each answer gives */
  readonly recipes: readonly [LineRecipe, LineRecipe];
};
export type Proposals = {
  readonly proposals: ShownProposal[];
  /** has to be answered before the lines can be trusted */
  readonly question?: ShownQuestion | undefined;
  readonly trouble?: LearnResult['trouble'];
};

/** from here on a proposal may be used without asking, and is said to be assumed */
export const CONFIDENT = 0.8;

/** @param lines as many as there are of a file; live, the first two hundred */
export function proposeRecipes(lines: readonly StampedLine[]): Proposals {
  const { proposals, trouble } = learn(lines);
  const question = proposals[0]?.questions.find(({ isNeeded }) => isNeeded);
  return {
    proposals: proposals.map(({ recipe, confidence, reasons }) => ({ recipe, confidence, reasons: [...reasons] })),
    ...(question === undefined
      ? {}
      : {
          question: {
            text: question.text,
            why: `Both fit the ${lines.length} lines seen so far.`,
            answers: [question.answers[0].text, question.answers[1].text],
            recipes: [question.answers[0].recipe, question.answers[1].recipe],
          },
        }),
    ...(trouble === undefined ? {} : { trouble }),
  };
}

/** Decides, while lines come in, when to look and what to do about it. */
export interface LiveLearner {
  /** @returns a recipe to use from now on (and for the lines so far), when there is one that can be used without asking */
  push(line: StampedLine): ShownProposal | undefined;
  readonly latest: Proposals | undefined;
}

/** looks at these counts of lines, then at every further two hundred */
const looks: ReadonlySet<number> = new Set([5, 10, 15, 20, 30, 50, 80, 120, 200]);
/** a first glance must be surer than a longer look */
const SURE_AT_ONCE = 0.93;
const SURE_AFTER = 15;

export function createLiveLearner(): LiveLearner {
  let seen: StampedLine[] = [];
  let count = 0;
  let latest: Proposals | undefined;
  return {
    push(line) {
      count++;
      seen.push(line);
      if (seen.length > MOST_LINES) seen = seen.slice(1);
      if (!looks.has(count) && count % MOST_LINES !== 0) return undefined;
      latest = proposeRecipes(seen);
      const best = latest.proposals[0];
      if (best === undefined || latest.question !== undefined) return undefined;
      return best.confidence >= (count < SURE_AFTER ? SURE_AT_ONCE : CONFIDENT) ? best : undefined;
    },
    get latest() {
      return latest;
    },
  };
}

import type { LineRecipe } from '../measurement/recipe.ts';
import type { StampedLine } from '../measurement/line.ts';

export type Proposal = { readonly recipe: LineRecipe; readonly confidence: number; readonly reasons: readonly string[] };
export type Question = { readonly text: string; readonly why: string; readonly answers: readonly [string, string] };
export type Proposals = { readonly proposals: readonly Proposal[]; readonly question?: Question | undefined };

export function proposeRecipes(lines: readonly StampedLine[]): Proposals {
  void lines;
  return { proposals: [] };
}

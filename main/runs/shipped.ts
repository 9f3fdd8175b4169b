import { shippedRecipes as byName } from '../../shared/lines/shipped-recipes.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';

/** by the short name that the command line takes */
export const shippedByName: Readonly<Record<string, LineRecipe>> = byName;
export const shippedRecipes: readonly LineRecipe[] = Object.values(byName);

import type { LineRecipe } from '../../shared/measurement/recipe.ts';

export const shippedRecipes: readonly LineRecipe[] = [];

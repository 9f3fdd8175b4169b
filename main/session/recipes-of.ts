import type { Caller, Handlers } from '../../shared/ipc/contract.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';

/** Recipes for a file that the person opened through the system: asked for by the host itself. */
export function recipesOf(handlers: Pick<Handlers, 'recipe.list' | 'recipe.save'>) {
  const byHost: Caller = { clientId: 'host', role: 'operator' };
  return {
    async list() {
      const listed = await handlers['recipe.list']({}, byHost);
      return listed.ok ? listed.value.recipes : [];
    },
    save: (recipe: LineRecipe) => handlers['recipe.save']({ recipe }, byHost),
  };
}

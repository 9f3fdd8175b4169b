/** A stored run through a corrected recipe. The run file keeps both: what it held stays, the new recipe is written behind it. */
import { open } from 'node:fs/promises';
import type { RunStory } from '../../../shared/ipc/run-documents.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { RunEntry, RunHeader } from '../../../shared/measurement/run.ts';
import { encodeEntry } from '../../../shared/measurement/run-format.ts';
import type { RunFold } from '../../../shared/pipeline/run-fold.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { measureRunFile, type RunFile } from '../file/run-file.ts';
import { defined } from '../../../shared/defined.ts';

export const storyOf = (
  fold: Pick<RunFold, 'recipe' | 'counters'> & { readings: () => RunStory['readings'] | readonly Reading[] },
): RunStory => ({
  ...defined({ recipeName: fold.recipe === undefined ? undefined : fold.recipe.name }),
  understood: fold.counters.understood,
  rejected: fold.counters.rejected,
  readings: [...fold.readings()],
});

/** The recipe that the whole run was last read anew with; undefined when it never was. */
export async function rereadRecipeOf(file: RunFile): Promise<LineRecipe | undefined> {
  let found: LineRecipe | undefined;
  for await (const change of file.changes()) if (change.rereads === true) found = change.recipe;
  return found;
}

/** The run as if it had been captured with this recipe from the first line. */
export function underRecipe(
  header: RunHeader,
  recipe: LineRecipe,
): { header: RunHeader; entry: (entry: RunEntry) => RunEntry | undefined } {
  return {
    header: { ...header, recipe },
    entry(entry) {
      if (entry.kind !== 'change' || entry.change.recipe === undefined) return entry;
      const { recipe: replaced, rereads, ...rest } = entry.change;
      void replaced;
      void rereads;
      return Object.keys(rest).length === 0 ? undefined : { ...entry, change: rest };
    },
  };
}

/** As captured: what was decided after the end does not count. */
export const asCaptured = (entry: RunEntry): RunEntry | undefined =>
  entry.kind === 'change' && entry.change.rereads === true ? undefined : entry;

/** Writes behind the end that the run was read anew. Nothing that was there is touched. */
export async function keepReread(path: string, recipe: LineRecipe): Promise<Result<undefined, Problem>> {
  const { goodBytes, durationMs } = await measureRunFile(path);
  try {
    const handle = await open(path, 'r+');
    try {
      await handle.truncate(goodBytes);
      await handle.write(encodeEntry({ kind: 'change', timeMs: durationMs, change: { recipe, rereads: true } }), goodBytes);
      await handle.datasync();
    } finally {
      await handle.close();
    }
    return ok(undefined);
  } catch (cause) {
    return err(problem('disk-failed', (cause as NodeJS.ErrnoException).code));
  }
}

/** The line recipes of this computer: those shipped with the app and the user's own, one JSON file each. */
import { createHash } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { canonicalRecipe } from '../../shared/lines/poll.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../shared/measurement/check-recipe.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { runsTexts } from '../../shared/words/host.ts';

export interface RecipeStore {
  /** the user's own first, then the shipped ones that they do not replace; by name */
  list(): Promise<LineRecipe[]>;
  find(name: string): Promise<LineRecipe | undefined>;
  /** counts the revision up when the contents differ, and keeps what was there. @returns the revision */
  save(recipe: LineRecipe): Promise<Result<number, Problem>>;
  /** the revisions before those that are listed, newest first */
  earlier(): Promise<LineRecipe[]>;
  /** shipped recipes stay */
  remove(name: string): Promise<Result<undefined, Problem>>;
}

/** A recipe's name may hold anything; its file's name may not. The digest keeps two names apart that look the same without their signs. */
const fileNameOf = (name: string): string => {
  const plain = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 40);
  return `${plain === '' ? 'recipe' : plain}-${createHash('sha256').update(name).digest('hex').slice(0, 8)}.json`;
};

/** Reads a recipe file that may come from anywhere. */
export async function readRecipeFile(path: string): Promise<Result<LineRecipe, Problem>> {
  let value: unknown;
  try {
    const text = await readFile(path, 'utf8');
    if (text.length > 1 << 20) return err(problem('recipe-invalid', runsTexts.recipeTooLong));
    value = JSON.parse(text);
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException;
    return err(code === 'ENOENT' ? problem('file-not-found', path) : problem('recipe-invalid', runsTexts.notJson));
  }
  return checkRecipe(value);
}

export function createRecipeStore(folder: string, shipped: readonly LineRecipe[]): RecipeStore {
  const earlierFolder = join(folder, 'earlier');
  const own = (): Promise<LineRecipe[]> => recipesIn(folder);
  const recipesIn = async (where: string): Promise<LineRecipe[]> => {
    const names = (await readdir(where).catch(() => [] as string[])).filter((name) => name.endsWith('.json')).sort();
    const read = await Promise.all(names.map((name) => readRecipeFile(join(where, name))));
    return read.flatMap((result) => (result.ok ? [result.value] : []));
  };
  const list = async (): Promise<LineRecipe[]> => {
    const mine = await own();
    const taken = new Set(mine.map(({ name }) => name));
    return [...mine, ...shipped.filter(({ name }) => !taken.has(name))];
  };
  return {
    list,
    async find(name) {
      return (await list()).find((recipe) => recipe.name === name);
    },
    async save(recipe) {
      const checked = checkRecipe(recipe);
      if (!checked.ok) return checked;
      const before = (await list()).find(({ name }) => name === recipe.name);
      const contents = (one: LineRecipe): string => canonicalRecipe({ ...one, revision: undefined });
      const revisionBefore = before?.revision ?? 1;
      if (before !== undefined && contents(before) === contents(checked.value)) return ok(revisionBefore);
      const revision = before === undefined ? (recipe.revision ?? 1) : revisionBefore + 1;
      const path = join(folder, fileNameOf(recipe.name));
      const half = `${path}.new`;
      try {
        await mkdir(folder, { recursive: true });
        if (before !== undefined) {
          await mkdir(earlierFolder, { recursive: true });
          const kept = fileNameOf(recipe.name).replace(/\.json$/, `-${revisionBefore}.json`);
          await writeFile(join(earlierFolder, kept), `${JSON.stringify({ ...before, revision: revisionBefore }, undefined, 2)}\n`, {
            mode: 0o600,
            flush: true,
          });
        }
        const handle = await open(half, 'w', 0o600);
        try {
          await handle.writeFile(`${JSON.stringify({ ...checked.value, revision }, undefined, 2)}\n`);
          await handle.sync();
        } finally {
          await handle.close();
        }
        // the old recipe stays whole until the new one is
        await rename(half, path);
        return ok(revision);
      } catch (cause) {
        await rm(half, { force: true }).catch(() => undefined);
        const { code } = cause as NodeJS.ErrnoException;
        return err(
          problem(code === 'ENOSPC' ? 'disk-full' : code === 'EACCES' || code === 'EROFS' ? 'store-read-only' : 'disk-failed', code),
        );
      }
    },
    async earlier() {
      return (await recipesIn(earlierFolder)).sort((a, b) => (b.revision ?? 1) - (a.revision ?? 1));
    },
    async remove(name) {
      if (!(await own()).some((recipe) => recipe.name === name)) return err(problem('recipe-not-found', name));
      await rm(join(folder, fileNameOf(name)), { force: true });
      return ok(undefined);
    },
  };
}

import { copyFile, mkdir, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, extname } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { readRecipeFile } from '../runs/recipe-store.ts';
import { readRunHeader } from '../runs/file/run-file.ts';
import { RUN_FILE_ENDING, runFilePath } from '../runs/file/run-path.ts';

export type TakenIn =
  | { readonly kind: 'run'; readonly runId: string; readonly wasHere: boolean }
  | { readonly kind: 'recipe'; readonly name: string };

export type RecipesHere = {
  readonly list: () => Promise<readonly LineRecipe[]>;
  readonly save: (recipe: LineRecipe) => Promise<Result<unknown, Problem>>;
};

/**
 * A file that the person opened through the system (double click, drop on the icon): a run is copied beside the others, a recipe is added.
 * Nothing that is there already is overwritten; the file itself is not touched.
 */
export async function takeInFile(path: string, dataFolder: string, recipes: RecipesHere): Promise<Result<TakenIn, Problem>> {
  if (extname(path).toLowerCase() !== RUN_FILE_ENDING) return takeInRecipe(path, recipes);
  const header = await readRunHeader(path);
  if (!header.ok) return header;
  const { runId } = header.value;
  try {
    return ok({ kind: 'run', runId, wasHere: await copyOnce(path, runFilePath(dataFolder, runId)) });
  } catch (failure) {
    const { code, message } = failure as NodeJS.ErrnoException;
    if (failure instanceof RangeError) return err(problem('file-damaged', basename(path)));
    return err(problem(code === 'ENOSPC' ? 'disk-full' : 'disk-failed', message));
  }
}

async function takeInRecipe(path: string, { list, save }: RecipesHere): Promise<Result<TakenIn, Problem>> {
  const read = await readRecipeFile(path);
  if (!read.ok) return read;
  const here = await list();
  if (here.some((recipe) => isDeepStrictEqual(recipe, read.value))) return ok({ kind: 'recipe', name: read.value.name });
  const taken = new Set(here.map(({ name }) => name));
  let name = read.value.name;
  for (let count = 2; taken.has(name); count += 1) name = `${read.value.name.slice(0, 110)} (${count})`;
  const saved = await save({ ...read.value, name });
  return saved.ok ? ok({ kind: 'recipe', name }) : saved;
}

/** @returns true when it was there already. It appears whole or not at all: lists are read while this goes on. */
async function copyOnce(from: string, to: string): Promise<boolean> {
  const isThere = await stat(to).then(
    () => true,
    () => false,
  );
  if (isThere) return true;
  await mkdir(dirname(to), { recursive: true });
  const temporary = `${to}.${process.pid}.new`;
  try {
    await copyFile(from, temporary);
    await rename(temporary, to);
  } finally {
    await rm(temporary, { force: true });
  }
  return false;
}

import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { takeInFile, type RecipesHere } from '../../../main/session/take-in-file.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../shared/measurement/check-recipe.ts';
import { RunHeader } from '../../../shared/measurement/run.ts';
import { ok } from '../../../shared/result.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-take-in-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const put = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
const header = (runId: string): string =>
  JSON.stringify(
    RunHeader.parse({
      format: 'flueside-run',
      version: 1,
      runId,
      startWallMs: 0,
      zoneMinutes: 0,
      source: { kind: 'typed' },
      fuelId: 'no2',
      appVersion: '0.0.0',
    }),
  );
const dataFolder = () => join(folder, 'data');
const noRecipes: RecipesHere = { list: () => Promise.resolve([]), save: () => Promise.resolve(ok(undefined)) };

const recipe = (name: string, note?: string): LineRecipe => {
  const checked = checkRecipe({
    format: 'flueside-recipe',
    version: 1,
    name,
    ...(note === undefined ? {} : { note }),
    shape: { kind: 'columns', delimiter: ',' },
    fields: [{ at: 1, channel: 'o2', unit: '%' }],
  });
  if (!checked.ok) throw new Error(JSON.stringify(checked.error));
  return checked.value;
};

describe('a run that was opened', () => {
  it('is copied beside the others under its own id, whatever the file was called', async () => {
    const text = `${header('run-1')}\n0\tline\t20.9\n`;
    const path = put('From the other laptop.flueside-run', text);
    expect(await takeInFile(path, dataFolder(), noRecipes)).toEqual(ok({ kind: 'run', runId: 'run-1', wasHere: false }));
    expect(readdirSync(join(dataFolder(), 'runs'))).toEqual(['run-1.run']);
    expect(readFileSync(join(dataFolder(), 'runs', 'run-1.run'), 'utf8')).toBe(text);
    expect(readFileSync(path, 'utf8')).toBe(text);
  });

  it('never replaces the one that is here', async () => {
    await takeInFile(put('a.flueside-run', `${header('run-1')}\n0\tline\tfirst\n`), dataFolder(), noRecipes);
    const second = await takeInFile(put('b.flueside-run', `${header('run-1')}\n0\tline\tsecond\n`), dataFolder(), noRecipes);
    expect(second).toEqual(ok({ kind: 'run', runId: 'run-1', wasHere: true }));
    expect(readFileSync(join(dataFolder(), 'runs', 'run-1.run'), 'utf8')).toContain('first');
  });

  it.each([
    { what: 'no run at all', text: 'hello\n', code: 'file-foreign' },
    { what: 'an id that climbs out of the folder', text: `${header('../../escape')}\n`, code: 'file-damaged' },
    { what: 'empty', text: '', code: 'file-damaged' },
  ])('is refused when it is $what', async ({ text, code }) => {
    expect(await takeInFile(put('a.flueside-run', text), dataFolder(), noRecipes)).toMatchObject({ ok: false, error: { code } });
    expect(readdirSync(folder)).toEqual(['a.flueside-run']);
  });

  it('is refused when it has gone', async () => {
    expect(await takeInFile(join(folder, 'gone.flueside-run'), dataFolder(), noRecipes)).toMatchObject({
      ok: false,
      error: { code: 'file-not-found' },
    });
  });
});

describe('a recipe that was opened', () => {
  const recipesWith = (here: LineRecipe[]) => {
    const saved: LineRecipe[] = [];
    const recipes: RecipesHere = {
      list: () => Promise.resolve(here),
      save: (one) => {
        saved.push(one);
        return Promise.resolve(ok(undefined));
      },
    };
    return { recipes, saved };
  };
  const open = (one: LineRecipe, recipes: RecipesHere) => takeInFile(put('a.flueside-recipe', JSON.stringify(one)), dataFolder(), recipes);

  it('is added', async () => {
    const { recipes, saved } = recipesWith([]);
    expect(await open(recipe('Kitchen'), recipes)).toEqual(ok({ kind: 'recipe', name: 'Kitchen' }));
    expect(saved).toEqual([recipe('Kitchen')]);
  });

  it('gets another name when a different one has it, and is not added twice', async () => {
    const { recipes, saved } = recipesWith([recipe('Kitchen', 'mine'), recipe('Kitchen (2)')]);
    expect(await open(recipe('Kitchen', 'theirs'), recipes)).toEqual(ok({ kind: 'recipe', name: 'Kitchen (3)' }));
    expect(await open(recipe('Kitchen', 'mine'), recipes)).toEqual(ok({ kind: 'recipe', name: 'Kitchen' }));
    expect(saved.map(({ name }) => name)).toEqual(['Kitchen (3)']);
  });

  it('is refused in words when it is no recipe', async () => {
    const { recipes, saved } = recipesWith([]);
    expect(await takeInFile(put('a.flueside-recipe', '{}'), dataFolder(), recipes)).toMatchObject({
      ok: false,
      error: { code: 'recipe-invalid' },
    });
    expect(saved).toEqual([]);
  });
});

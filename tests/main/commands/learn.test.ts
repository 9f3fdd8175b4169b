import { writeFile, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { command } from '../../../main/commands/learn.ts';
import { checkRecipe } from '../../../shared/measurement/check-recipe.ts';
import { burnerRows } from '../../shared/lines/shapes/corpus.ts';
import { runCommand } from './run-command.ts';

let folder = '';
const file = (name: string): string => join(folder, name);
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'flueside-learn-'));
  const rows = burnerRows(40, 11);
  await writeFile(
    file('semicolon.txt'),
    rows
      .map((row) =>
        `12:00:${String(row.t).padStart(2, '0')};${row.o2.toFixed(1)};${row.co.toFixed(0)};${row.stack.toFixed(1)};${row.air.toFixed(1)}`.replaceAll(
          '.',
          ',',
        ),
      )
      .join('\r\n'),
  );
  await writeFile(
    file('unclear.txt'),
    rows.map((row) => `${row.o2.toFixed(1)};${row.co.toFixed(0)};${(row.co + (row.t % 3)).toFixed(0)};${row.stack.toFixed(1)}`).join('\n'),
  );
  await writeFile(file('short.txt'), '4.1,23\n');
});
afterAll(() => rm(folder, { recursive: true }));

describe('learn', () => {
  it('proposes a recipe with confidence, reasons, preview and questions', async () => {
    const { json, code } = await runCommand(command, `${file('semicolon.txt')} --json`);
    expect(code).toBe(0);
    const [best] = (json as { proposals: { recipe: unknown; confidence: number; reasons: string[]; preview: unknown[] }[] }).proposals;
    expect(best?.confidence).toBeGreaterThan(0.8);
    expect(best?.reasons.length).toBeGreaterThan(3);
    expect(best?.preview.length).toBe(8);
    const recipe = checkRecipe(best?.recipe);
    expect(recipe).toMatchObject({ ok: true, value: { decimal: ',', shape: { kind: 'columns', delimiter: ';' } } });
  });

  it('prints the question where two columns could be the CO', async () => {
    const { out, code } = await runCommand(command, file('unclear.txt'));
    expect(code).toBe(0);
    expect(out.join('\n')).toMatch(/\? Is this what your instrument sends\? Look at column \d/);
  });

  it('says in one line what is missing', async () => {
    const short = await runCommand(command, file('short.txt'));
    expect([short.code, short.out.length, short.errors.length]).toEqual([1, 0, 1]);
    expect(short.errors[0]).toContain('at least five are needed');
    expect((await runCommand(command, file('nowhere.txt'))).code).toBe(1);
    expect((await runCommand(command, '')).code).toBe(2);
    expect((await runCommand(command, `${file('short.txt')} --surprise`)).code).toBe(2);
  });
});

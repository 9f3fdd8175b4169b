/** While a backup takes the place of what is here, nothing that writes there may begin: what it wrote would be gone, or half of it. */
import { describe, expect, it } from 'vitest';
import { waitsForRestore, withGate } from '../../../main/session/restore-gate.ts';
import { commands, viewerCommands, type CommandName, type Handlers } from '../../../shared/ipc/contract.ts';
import { ok } from '../../../shared/result.ts';

const all = Object.keys(commands) as CommandName[];
const writing = all.filter(waitsForRestore);
const others = all.filter((name) => !waitsForRestore(name));

function gate(isShut: () => boolean) {
  const began: string[] = [];
  const handlers = Object.fromEntries(
    all.map((name) => [name, (input: unknown) => (began.push(`${name} ${JSON.stringify(input)}`), Promise.resolve(ok({})))]),
  );
  const gated = withGate(handlers as unknown as Handlers, isShut) as unknown as Record<
    string,
    (input: unknown, caller: unknown) => Promise<unknown>
  >;
  return { began, call: (name: string, input: unknown = {}) => gated[name]?.(input, {}) };
}

describe('while a restore is under way', () => {
  it.each(writing)('%s does not begin, and says why', async (name) => {
    const { began, call } = gate(() => true);
    expect(await call(name)).toMatchObject({ ok: false, error: { code: 'restore-under-way' } });
    expect(began).toEqual([]);
  });
  it.each(others)('%s is answered as ever', async (name) => {
    const { began, call } = gate(() => true);
    expect(await call(name)).toEqual(ok({}));
    expect(began).toHaveLength(1);
  });
});

it('what a person writes waits, whichever part of the app keeps it', () => {
  expect(writing).toEqual(
    expect.arrayContaining([
      'run.start',
      'recipe.save',
      'settings.change',
      'visit.edit',
      'visit.sign',
      'appliance.save',
      'document.save',
      'photo.attach',
      'bench.press',
      'office.sync',
      'backup.make',
    ]),
  );
  // beside looking on, only what ends or moves what is in memory
  expect(others.filter((name) => !viewerCommands.has(name)).sort()).toEqual([
    'backup.restore',
    'problem.dismiss',
    'replay.control',
    'run.end',
    'simulator.look',
    'simulator.parts',
  ]);
});

it('before and after it everything begins with what it was asked', async () => {
  let isShut = false;
  const { began, call } = gate(() => isShut);
  await call('recipe.save', { recipe: 1 });
  isShut = true;
  await call('recipe.save', { recipe: 2 });
  isShut = false;
  await call('recipe.save', { recipe: 3 });
  expect(began).toEqual(['recipe.save {"recipe":1}', 'recipe.save {"recipe":3}']);
});

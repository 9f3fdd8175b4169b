// @vitest-environment happy-dom
/** A recipe while a person changes it: it begins as the one in use or as the best guess, and how it reads the newest lines is asked for while it can be used. */
import { act, cleanup, renderHook } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { useRecipeDraft } from '../../../renderer/views/lines/recipe/use-recipe-draft.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { commaRecipe } from '../../helpers/comma-recipe.ts';
import { infoOf } from '../helpers/records.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

const [inUse, guessed, typed] = [commaRecipe('in use'), commaRecipe('guessed', ['o2', 'co']), commaRecipe('typed', ['co'])];
const twice = { ...typed, fields: [...typed.fields, ...typed.fields] };
const column = { at: 0, name: 'O2' };

type Host = { recipe?: unknown; proposals?: unknown[]; refusal?: unknown; preview?: unknown; fails?: boolean };
async function open(host: Host = {}, info: Partial<RunInfo> = {}) {
  const asked: { name: string; input: Record<string, unknown> }[] = [];
  const answers: Record<string, () => unknown> = {
    'run.recipe': () => ({ earlier: [], ...(host.recipe as object) }),
    'recipe.propose': () => ({ proposals: host.proposals ?? [], refusal: host.refusal }),
    'recipe.preview': () => host.preview ?? { lines: [asked.length] },
  };
  const call = (name: string, input: Record<string, unknown>) => {
    asked.push({ name, input });
    return Promise.resolve(host.fails === true ? { ok: false } : { ok: true, value: answers[name]?.() });
  };
  const parts = { client: { call } } as unknown as AppParts;
  const hook = renderHook((run: RunInfo) => useRecipeDraft(run), {
    initialProps: infoOf(info),
    wrapper: ({ children }: { children: ReactNode }) => <AppContext value={parts}>{children}</AppContext>,
  });
  const wait = (ms: number) => act(() => vi.advanceTimersByTimeAsync(ms));
  await wait(0);
  return { ...hook, now: () => hook.result.current, wait, asked, times: (name: string) => asked.filter((one) => one.name === name).length };
}
const learning: Partial<RunInfo> = { recipeName: undefined, phase: 'learning' };

describe('what is shown', () => {
  it('the recipe in use, unchanged', async () => {
    const { now, times } = await open({ recipe: { recipe: inUse, columns: [column], confirmed: { roomAir: true, probe: false } } });
    expect(now()).toMatchObject({
      recipe: inUse,
      used: inUse,
      columns: [column],
      confirmed: { roomAir: true },
      isChanged: false,
      hasParts: false,
    });
    expect(now().flaw).toBeUndefined();
    expect(times('recipe.propose')).toBe(0);
  });
  it('the best guess while none is in use, asked for again every ten lines', async () => {
    const { now, times, rerender, wait } = await open({ proposals: [{ recipe: guessed, columns: [column] }] }, learning);
    expect(now()).toMatchObject({ recipe: guessed, used: undefined, columns: [column], isChanged: false });
    expect(times('recipe.propose')).toBe(1);
    const at = (lines: number): RunInfo => infoOf({ ...learning, counters: { ...infoOf().counters, lines } });
    rerender(at(109));
    await wait(0);
    expect(times('recipe.propose')).toBe(1);
    rerender(at(110));
    await wait(0);
    expect(times('recipe.propose')).toBe(2);
  });
  it('an empty one, with the columns that could not be told apart, where nothing can be guessed', async () => {
    const { now } = await open({ refusal: { columns: [column] } }, learning);
    expect(now().recipe).toMatchObject({ name: 'my instrument', fields: [] });
    expect(now().columns).toEqual([column]);
  });
  it('an empty one while the host does not answer', async () => {
    expect((await open({ fails: true }, learning)).now()).toMatchObject({ recipe: { fields: [] }, columns: [], used: undefined });
  });
  it('is asked for anew when another recipe is in use', async () => {
    const { times, rerender, wait } = await open({ recipe: { recipe: inUse } });
    rerender(infoOf({ recipeName: 'another' }));
    await wait(0);
    expect(times('run.recipe')).toBe(2);
  });
});

describe('a change', () => {
  it('is read with the newest lines after a moment, and again while it stays', async () => {
    const { now, wait, asked, times, unmount } = await open({ recipe: { recipe: inUse } });
    await wait(3000);
    expect(times('recipe.preview')).toBe(0);
    act(() => now().change(typed));
    expect(now()).toMatchObject({ recipe: typed, used: inUse, isChanged: true, preview: undefined });
    await wait(249);
    expect(times('recipe.preview')).toBe(0);
    await wait(1);
    expect(asked.at(-1)).toEqual({ name: 'recipe.preview', input: { runId: 'run-1', recipe: typed, count: 60 } });
    expect(now().preview).toBeDefined();
    await wait(1999);
    expect(times('recipe.preview')).toBe(1);
    await wait(1);
    expect(times('recipe.preview')).toBe(2);
    unmount();
    await wait(5000);
    expect(times('recipe.preview')).toBe(2);
  });
  it('that cannot be used says why, and is not read', async () => {
    const { now, wait, times } = await open({ recipe: { recipe: inUse } });
    act(() => now().change(typed));
    await wait(250);
    expect(times('recipe.preview')).toBe(1);
    act(() => now().change(twice));
    await wait(3000);
    expect(now().flaw).toMatch(/./);
    expect(times('recipe.preview')).toBe(1);
    expect(now().preview).toBeUndefined();
  });
  it('is taken back with what was read by it', async () => {
    const { now, wait } = await open({ recipe: { recipe: inUse } });
    act(() => now().change(typed));
    await wait(250);
    act(() => now().discard());
    expect(now()).toMatchObject({ recipe: inUse, isChanged: false, preview: undefined });
    act(() => now().change(typed));
    expect(now().preview).toBeUndefined();
  });
});

describe('learning it from the lines', () => {
  it('takes the best guess, and leaves how the instrument is asked', async () => {
    const polling = { command: 'READ?\r\n', intervalMs: 1000, retries: 2 };
    const { now } = await open({ recipe: { recipe: { ...inUse, polling } }, proposals: [{ recipe: guessed, columns: [] }] });
    let found: boolean | undefined;
    await act(async () => void (found = await now().learn()));
    expect(found).toBe(true);
    expect(now()).toMatchObject({ recipe: { ...guessed, polling }, isChanged: true });
  });
  it('changes nothing where the lines say nothing yet', async () => {
    const { now } = await open({ recipe: { recipe: inUse } });
    let found: boolean | undefined;
    await act(async () => void (found = await now().learn()));
    expect(found).toBe(false);
    expect(now()).toMatchObject({ recipe: inUse, isChanged: false });
  });
});

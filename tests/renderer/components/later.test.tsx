// @vitest-environment happy-dom
/** Parts of the window whose script comes later: never an empty place, no stand-in for what is here already, and a fetch that fails is told. */
import { cleanup, configure, fireEvent, render, screen } from '@testing-library/react';
import { act, type ComponentType } from 'react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { later, loadTheRest, Place, tryAgain } from '../../../renderer/components/Later.tsx';
import { MainPart } from '../../../renderer/components/Parts.tsx';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { common } from '../../../shared/words/common.ts';

// a busy computer draws late
configure({ asyncUtilTimeout: 10_000 });

beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

/** A part, and the answers that its fetches wait for. */
function fetched() {
  const waiting: { come: () => void; fail: () => void }[] = [];
  const Text = ({ name }: { name: string }) => <p>{name} is here</p>;
  const Part = later<{ name: string }>(
    () =>
      new Promise<ComponentType<{ name: string }>>((resolve, reject) =>
        waiting.push({ come: () => resolve(Text), fail: () => reject(new Error('not to be had')) }),
      ),
  );
  return { waiting, Part };
}
const parts = {
  store: createAppStore(),
  client: { call: () => Promise.resolve({ ok: true, value: {} }) },
} as unknown as AppParts;
const show = (Part: ComponentType<{ name: string }>) =>
  act(async () => {
    render(
      <AppContext value={parts}>
        <MainPart where="part">
          <Place>
            <Part name="It" />
          </Place>
        </MainPart>
      </AppContext>,
    );
    await Promise.resolve();
  });

it('a part that is on its way shows that it opens, then itself', async () => {
  const { waiting, Part } = fetched();
  await show(Part);
  expect(screen.getByText(common.loading)).toBeTruthy();
  await act(async () => {
    waiting[0]?.come();
    await Promise.resolve();
  });
  expect(screen.getByText('It is here')).toBeTruthy();
  expect(screen.queryByText(common.loading)).toBeNull();
});

it('a part that was fetched before is drawn at once: no stand-in for a moment', async () => {
  const { waiting, Part } = fetched();
  const rest = loadTheRest(() => Promise.resolve());
  for (let turn = 0; turn < 20 && waiting.length === 0; turn++) await Promise.resolve();
  waiting[0]?.come();
  await rest;
  render(
    <Place>
      <Part name="It" />
    </Place>,
  );
  // looked at before any promise could settle
  expect(screen.getByText('It is here')).toBeTruthy();
});

it('a part that cannot be fetched says so, and is fetched again when that is asked for', async () => {
  vi.spyOn(console, 'error').mockImplementation(() => undefined);
  const { waiting, Part } = fetched();
  await show(Part);
  await act(async () => {
    waiting[0]?.fail();
    await Promise.resolve();
  });
  expect(await screen.findByText(common.broken.title)).toBeTruthy();
  await act(async () => {
    fireEvent.click(screen.getByRole('button', { name: common.broken.again }));
    await Promise.resolve();
  });
  expect(waiting).toHaveLength(2);
  await act(async () => {
    waiting[1]?.come();
    await Promise.resolve();
  });
  expect(await screen.findByText('It is here')).toBeTruthy();
});

it('the rest comes one after the other, each when nothing else is to be done, and one that fails keeps no other away', async () => {
  const before = loadersSoFar();
  const first = fetched();
  const second = fetched();
  let idle = (): void => undefined;
  let asked = 0;
  const rest = loadTheRest(() => {
    asked += 1;
    return asked <= before ? Promise.resolve() : new Promise((resolve) => (idle = resolve));
  });
  const settled = async (): Promise<void> => {
    for (let turn = 0; turn < 50; turn++) await Promise.resolve();
  };
  await settled();
  expect([first.waiting.length, second.waiting.length]).toEqual([0, 0]);
  idle();
  await settled();
  expect([first.waiting.length, second.waiting.length]).toEqual([1, 0]);
  first.waiting[0]?.fail();
  await settled();
  expect(second.waiting).toHaveLength(0);
  idle();
  await settled();
  expect(second.waiting).toHaveLength(1);
  second.waiting[0]?.come();
  await rest;
});

/** parts of the tests above: all of them are here */
const loadersSoFar = (): number => 3;

it('a panel that is on its way is left by Escape', async () => {
  const keys = createKeys();
  let left = 0;
  const { Part } = fetched();
  await act(async () => {
    render(
      <AppContext value={{ ...parts, keys }}>
        <Place back={() => left++}>
          <Part name="It" />
        </Place>
      </AppContext>,
    );
    await Promise.resolve();
  });
  act(() => void keys.press({ key: 'Escape', ctrl: false, alt: false, repeat: false, focus: 'other', dialogOpen: false }));
  expect(left).toBe(1);
});

it('a part that has come since is not fetched again when another one fails later', async () => {
  vi.spyOn(console, 'error').mockImplementation(() => undefined);
  const settled = (): Promise<void> =>
    act(async () => {
      for (let turn = 0; turn < 10; turn++) await Promise.resolve();
    });
  const first = fetched();
  const second = fetched();
  await show(first.Part);
  first.waiting[0]?.fail();
  await settled();
  tryAgain();
  cleanup();
  await show(first.Part);
  first.waiting[1]?.come();
  await settled();
  cleanup();
  await show(second.Part);
  second.waiting[0]?.fail();
  await settled();
  tryAgain();
  cleanup();
  await show(first.Part);
  expect(first.waiting).toHaveLength(2);
  cleanup();
  await show(second.Part);
  expect(second.waiting).toHaveLength(2);
});

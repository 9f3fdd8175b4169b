// @vitest-environment happy-dom
/** What the host refuses is said where the person looks: in the small window while it is open, over the screen when it was closed before the answer came. */
import { act, cleanup, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { Dialog } from '../../../renderer/components/Dialog.tsx';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { ApplianceEditor } from '../../../renderer/views/records/appliance/ApplianceEditor.tsx';
import { useSaveMark } from '../../../renderer/views/tune/entries/use-save-mark.tsx';
import type { MarkOptions } from '../../../renderer/backend/actions.ts';
import { problem } from '../../../shared/problem.ts';
import { common } from '../../../shared/words/common.ts';
import { problems } from '../../../shared/words/problems.ts';
import { button, inWindow, press, settled } from '../helpers/in-window.tsx';

beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

it('a refusal while a small window is open is said in it; one from before it is not', () => {
  const { store } = inWindow(<Dialog title="Due">field</Dialog>, { answer: { problem: problem('port-busy'), count: 1 } });
  expect(screen.queryByText(problems['port-busy'].title)).toBeNull();
  act(() => store.getState().commandFailed(problem('disk-full')));
  expect(screen.getByText(problems['disk-full'].title).closest('dialog')).not.toBeNull();
  press(common.close);
  expect(store.getState().answer).toBeUndefined();
});

it.each([
  ['refused', { ok: false, error: problem('disk-full') }],
  ['saved', { ok: true, value: {} }],
] as const)('an appliance whose window was closed before the answer came, %s', async (_what, answer) => {
  let reply = (_answer: unknown): void => undefined;
  const client = { call: () => new Promise((done) => (reply = done)) };
  const store = createAppStore();
  const close = vi.fn();
  const stored = { id: 'a', revision: 3, appliance: { format: 1, name: 'Boiler', kind: 'boiler-water' }, visits: 0 };
  const { unmount } = render(
    <AppContext value={{ store, keys: createKeys(), client } as unknown as AppParts}>
      <ApplianceEditor stored={stored as never} close={close} />
    </AppContext>,
  );
  press(common.save);
  unmount();
  reply(answer);
  await settled();
  expect(store.getState().answer?.problem.code).toBe(answer.ok ? undefined : 'disk-full');
  // another window may be open by then
  expect(close).not.toHaveBeenCalled();
});

it.each(['trial-changed', 'saved'] as const)('a spot whose window was closed before the answer came: %s', async (what) => {
  const close = vi.fn();
  let answer = (): void => undefined;
  function Entry() {
    const { save } = useSaveMark(close, { isTyped: true });
    return (
      <button type="button" onClick={() => void save({ kind: 'smoke', spots: [{ number: 1 }] }, 'smoke 1')}>
        save
      </button>
    );
  }
  const store = createAppStore();
  const mark = (_body: unknown, { trialChanged }: MarkOptions): Promise<unknown> =>
    new Promise((done) => {
      answer = () => {
        if (what === 'trial-changed') trialChanged?.();
        done(what === 'saved' ? { id: 'm' } : undefined);
      };
    });
  const parts = { store, actions: { mark }, sounds: { play: () => undefined } } as unknown as AppParts;
  const { unmount } = render(
    <AppContext value={parts}>
      <Entry />
    </AppContext>,
  );
  expect(button('save').disabled).toBe(false);
  press('save');
  unmount();
  answer();
  await settled();
  expect(store.getState().answer?.problem.code).toBe(what === 'saved' ? undefined : 'trial-changed');
  expect(store.getState().said === '').toBe(what !== 'saved');
  expect(close).not.toHaveBeenCalled();
});

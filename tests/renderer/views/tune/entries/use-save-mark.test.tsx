// @vitest-environment happy-dom
/** A spot that was typed while another window marked the next setting: the person says where it belongs, and until then nothing is saved. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { act } from 'react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../../renderer/app-parts.ts';
import { createActions } from '../../../../../renderer/backend/actions.ts';
import { recordOf } from '../../../../../renderer/state/run-record.ts';
import { createAppStore } from '../../../../../renderer/state/store.ts';
import { useSaveMark } from '../../../../../renderer/views/tune/entries/use-save-mark.tsx';
import type { Client } from '../../../../../shared/ipc/client.ts';
import type { MarkBody } from '../../../../../shared/measurement/mark.ts';
import { problem } from '../../../../../shared/problem.ts';
import { err, ok } from '../../../../../shared/result.ts';
import { live } from '../../../../../shared/words/tune/live.ts';
import { infoOf } from '../../../helpers/records.ts';

beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const spot: MarkBody = { kind: 'smoke', spots: [{ number: 1 }] };
type Asked = { trialId?: string; timeMs?: number };

/** One trial is going on; what is saved is refused where it would come to another trial than it names. */
function open() {
  const store = createAppStore();
  const first = { id: 'trial-1', number: 1, running: true, toMs: undefined };
  store.setState({ runs: { 'run-1': recordOf(infoOf()) }, runId: 'run-1', trials: { 'run-1': [first] } } as never);
  let running = 'trial-1';
  const saved: Asked[] = [];
  const call = vi.fn((_command: string, { trialId, timeMs }: Asked) => {
    if (timeMs === undefined && trialId !== running) return Promise.resolve(err(problem('trial-changed')));
    saved.push({ ...(trialId !== undefined && { trialId }), ...(timeMs !== undefined && { timeMs }) });
    return Promise.resolve(ok({ id: 'm1', timeMs: timeMs ?? 60_000, body: spot }));
  });
  const close = vi.fn();
  function Entry({ isTyped }: { isTyped: boolean }) {
    const { save, question } = useSaveMark(close, { isTyped });
    return (
      <>
        <button type="button" onClick={() => void save(spot, 'Smoke 1')}>
          Save
        </button>
        {question}
      </>
    );
  }
  const parts = { store, actions: createActions({ call } as unknown as Client, store), sounds: { play: vi.fn() } } as unknown as AppParts;
  const at = (isTyped: boolean) => (
    <AppContext value={parts}>
      <Entry isTyped={isTyped} />
    </AppContext>
  );
  const { rerender } = render(at(false));
  return {
    saved,
    close,
    store,
    firstLetter: () => rerender(at(true)),
    anotherSetting: (): void => {
      running = 'trial-2';
      act(() =>
        store.setState({
          trials: {
            'run-1': [
              { ...first, running: false, toMs: 40_000 },
              { id: 'trial-2', number: 2, running: true, toMs: undefined },
            ],
          },
        } as never),
      );
    },
    press: async (name: string) => {
      fireEvent.click(screen.getByRole('button', { name }));
      await act(() => Promise.resolve());
    },
  };
}

it('is saved at the trial that goes on, and the window closes', async () => {
  const { firstLetter, press, saved, close } = open();
  firstLetter();
  await press('Save');
  expect(saved).toEqual([{ trialId: 'trial-1' }]);
  expect(close).toHaveBeenCalledTimes(1);
});

it.each([
  ['the trial it was typed for, within its own time', 1, { trialId: 'trial-1', timeMs: 39_999 }],
  ['the trial that goes on now', 2, { trialId: 'trial-2' }],
])('is asked for where another setting was marked meanwhile, and goes to %s', async (_where, number, expected) => {
  const { firstLetter, anotherSetting, press, saved, close, store } = open();
  firstLetter();
  anotherSetting();
  await press('Save');
  expect(saved).toEqual([]);
  expect(close).not.toHaveBeenCalled();
  // asked here, not alarmed somewhere else
  expect(store.getState().answer).toBeUndefined();
  expect(screen.getByRole('alert').textContent).toContain(live.whichTrial.question(2));
  await press(live.whichTrial.at(number));
  expect(saved).toEqual([expected]);
  expect(close).toHaveBeenCalledTimes(1);
});

it('belongs to the newest trial where nothing had been typed when it began', async () => {
  const { firstLetter, anotherSetting, press, saved } = open();
  anotherSetting();
  firstLetter();
  await press('Save');
  expect(saved).toEqual([{ trialId: 'trial-2' }]);
});

// @vitest-environment happy-dom
/** The far view on a busy machine: its key and Escape lead back also while its script has not come yet. */
import { cleanup, render } from '@testing-library/react';
import { act } from 'react';
import { afterEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createKeys } from '../../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import TuneWorkspace from '../../../../renderer/views/tune/index.tsx';
import { recordOf } from '../../../../renderer/state/run-record.ts';
import { infoOf } from '../../helpers/records.ts';

vi.mock('../../../../renderer/views/tune/FarView.tsx', () => new Promise(() => undefined));
vi.mock('../../../../renderer/views/tune/LiveView.tsx', () => ({ LiveView: () => <p>near</p> }));

afterEach(cleanup);
Object.assign(globalThis, { IS_REACT_ACT_ENVIRONMENT: true });

const key = (name: string) => ({ key: name, ctrl: false, alt: false, repeat: false, focus: 'other' as const, dialogOpen: false });

it.each(['v', 'Escape'])('leads back by %s while the far view is still being fetched', async (name) => {
  const store = createAppStore();
  const keys = createKeys();
  const info = infoOf({ source: { kind: 'simulated', plant: 'training', scale: 'kelvin' } as never });
  store.setState({ wire: { phase: 'open' }, runs: { [info.runId]: recordOf(info) }, runId: info.runId, far: true } as never);
  const parts = { store, keys, buffers: { of: () => ({ nowMs: () => 0 }) }, sounds: {}, actions: {} } as unknown as AppParts;
  await act(async () => {
    render(
      <AppContext value={parts}>
        <TuneWorkspace />
      </AppContext>,
    );
    await Promise.resolve();
  });
  act(() => void keys.press(key(name)));
  expect(store.getState().far).toBe(false);
});

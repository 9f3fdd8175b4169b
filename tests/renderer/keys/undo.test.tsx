// @vitest-environment happy-dom
/** Ctrl+Z takes back the last mark of the run on screen, and nothing where no run is seen. */
import { act, cleanup, render } from '@testing-library/react';
import { afterEach, expect, it, vi } from 'vitest';
import { App } from '../../../renderer/App.tsx';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore, type AppState } from '../../../renderer/state/store.ts';

vi.mock('../../../renderer/views/workspace.ts', () => {
  const load = () => Promise.resolve({ default: () => <p>here</p> });
  return { workspaceModules: { tune: load, bench: load, 'warm-up': load, records: load } };
});
vi.mock('../../../renderer/look/use-theme.ts', () => ({ useTheme: () => () => undefined }));
afterEach(cleanup);

it.each([
  [true, { workspace: 'tune' }],
  [true, { workspace: 'tune', panel: 'lines' }],
  [true, { workspace: 'warm-up' }],
  [false, { workspace: 'records' }],
  [false, { workspace: 'bench' }],
  [false, { workspace: 'tune', panel: 'settings' }],
  [false, { workspace: 'tune', role: 'viewer' }],
] as [boolean, Partial<AppState>][])('%s: %o', async (isUndone, state) => {
  const store = createAppStore();
  store.setState({ wire: { phase: 'open' }, ...state });
  const keys = createKeys();
  const undoMark = vi.fn();
  const parts = {
    store,
    keys,
    buffers: { of: () => undefined },
    sounds: { play: () => undefined },
    speech: { say: () => undefined },
    client: { on: () => () => undefined, call: () => new Promise(() => undefined) },
    actions: { ask: () => new Promise(() => undefined), undoMark },
  } as unknown as AppParts;
  await act(async () => {
    render(
      <AppContext value={parts}>
        <App />
      </AppContext>,
    );
    await Promise.resolve();
  });
  act(() => void keys.press({ key: 'z', ctrl: true, alt: false, repeat: false, focus: 'other', dialogOpen: false }));
  expect(undoMark).toHaveBeenCalledTimes(isUndone ? 1 : 0);
});

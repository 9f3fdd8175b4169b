/** Wires the window's parts over any transport; main.tsx brings the real one, a test a fake one. */
import { StrictMode } from 'react';
import { createRoot, type Root } from 'react-dom/client';
import { createClient } from '../shared/ipc/client.ts';
import type { Transport } from '../shared/ipc/transport.ts';
import { App } from './App.tsx';
import { AppContext, type AppParts } from './app-parts.ts';
import { createActions } from './backend/actions.ts';
import { greet, startLiveFeed } from './backend/live-feed.ts';
import { startVisits } from './backend/visits.ts';
import { createKeys, listenToKeys } from './keys/key-registry.ts';
import { createFrames } from './live/frame.ts';
import { createLineBuffer } from './live/line-buffer.ts';
import { createLiveBuffers } from './live/run-buffers.ts';
import { createSounds } from './sound/sounds.ts';
import { createAppStore } from './state/store.ts';

export type StartedWindow = { parts: AppParts; root: Root };

export function startWindow(element: HTMLElement, transport: Transport): StartedWindow {
  const store = createAppStore();
  const client = createClient(transport);
  const parts: AppParts = {
    client,
    store,
    actions: createActions(client, store),
    visits: startVisits(client, store).visits,
    buffers: createLiveBuffers(),
    lines: createLineBuffer(),
    frames: createFrames(),
    keys: createKeys(() => store.getState().settings.keys),
    // nothing sounds while a trainee is asked
    sounds: createSounds(() => ({ ...store.getState().settings.sound, ...(store.getState().callIt ? { muted: true } : {}) })),
  };
  startLiveFeed(parts);
  listenToKeys(parts.keys, window);
  void greet(parts);
  const root = createRoot(element);
  root.render(
    <StrictMode>
      <AppContext value={parts}>
        <App />
      </AppContext>
    </StrictMode>,
  );
  return { parts, root };
}

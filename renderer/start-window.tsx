/** Wires the window's parts over any transport; main.tsx brings the real one, a test a fake one. */
import { StrictMode } from 'react';
import { createRoot, type Root } from 'react-dom/client';
import { createClient } from '../shared/ipc/client.ts';
import type { Transport } from '../shared/ipc/transport.ts';
import { App } from './App.tsx';
import { AppContext, type AppParts } from './app-parts.ts';
import { createActions } from './backend/actions.ts';
import { greet, startLiveFeed } from './backend/live-feed.ts';
import { visitsLater } from './backend/late-visits.ts';
import { MainPart } from './components/Parts.tsx';
import { createKeys, listenToKeys } from './keys/key-registry.ts';
import { createFrames } from './live/frame.ts';
import { figuresDrawn, firstFigure } from './live/idle.ts';
import { createLineBuffer } from './live/line-buffer.ts';
import { createLiveBuffers } from './live/run-buffers.ts';
import { createSpeech } from './sound/speech.ts';
import { createSounds } from './sound/sounds.ts';
import { createAppStore } from './state/store.ts';

/** After the host's hello; a visit in front waits no longer for a figure that does not come. */
const SOON_MS = 1500;

export type StartedWindow = { parts: AppParts; root: Root };

export function startWindow(element: HTMLElement, transport: Transport): StartedWindow {
  const store = createAppStore();
  const client = createClient(transport, () => import('../shared/ipc/contract.ts'));
  const shown = firstFigure(store, SOON_MS).then(figuresDrawn);
  const parts: AppParts = {
    client,
    store,
    actions: createActions(client, store),
    visits: visitsLater(client, store, shown),
    buffers: createLiveBuffers(),
    lines: createLineBuffer(),
    frames: createFrames(),
    keys: createKeys(
      () => store.getState().settings.keys,
      () => store.getState().settings.foot,
    ),
    speech: createSpeech(() => store.getState().settings.speech && !store.getState().callIt),
    // nothing sounds while a trainee is asked
    sounds: createSounds(() => ({ ...store.getState().settings.sound, ...(store.getState().callIt ? { muted: true } : {}) })),
  };
  startLiveFeed(parts);
  void shown.then(() => client.checkFromNowOn());
  listenToKeys(parts.keys, window);
  // a script that fails outside of any render is written down too
  addEventListener('error', ({ error, message }) => {
    const text = error instanceof Error ? (error.stack ?? error.message) : message;
    void client.call('session.windowFailed', { where: 'script', text: text.slice(0, 8000) });
  });
  addEventListener('unhandledrejection', ({ reason }) => {
    const text = reason instanceof Error ? (reason.stack ?? reason.message) : String(reason);
    void client.call('session.windowFailed', { where: 'promise', text: text.slice(0, 8000) });
  });
  void greet(parts);
  const root = createRoot(element);
  root.render(
    <StrictMode>
      <AppContext value={parts}>
        <MainPart where="window">
          <App />
        </MainPart>
      </AppContext>
    </StrictMode>,
  );
  return { parts, root };
}

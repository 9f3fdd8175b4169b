/** What a component may reach for: the store, the host, the points. Made once in main.tsx, handed down by context. */
import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import type { Client } from '../shared/ipc/client.ts';
import type { Actions } from './backend/actions.ts';
import type { Visits } from './backend/visits.ts';
import type { Keys } from './keys/key-registry.ts';
import type { Frames } from './live/frame.ts';
import type { LineBuffer } from './live/line-buffer.ts';
import type { LiveBuffers } from './live/run-buffers.ts';
import type { Speech } from './sound/speech.ts';
import type { Sounds } from './sound/sounds.ts';
import type { AppState, AppStore } from './state/store.ts';

export type AppParts = {
  client: Client;
  store: AppStore;
  actions: Actions;
  visits: Visits;
  buffers: LiveBuffers;
  lines: LineBuffer;
  frames: Frames;
  keys: Keys;
  sounds: Sounds;
  speech: Speech;
};

export const AppContext = createContext<AppParts | undefined>(undefined);

export function useParts(): AppParts {
  const parts = useContext(AppContext);
  if (parts === undefined) throw new Error('outside of AppContext');
  return parts;
}

/** Select the smallest value that the component shows. */
export const useApp = <T>(select: (state: AppState) => T): T => useStore(useParts().store, select);

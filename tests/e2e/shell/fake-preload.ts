/** Electron as main/preload.ts sees it, in the page of a plain browser: the page's bindings are put there by fake-shell.ts. */
import type * as Electron from 'electron';

type Page = { shellSend(channel: string, message: unknown): void; shellReceive(channel: string, message: unknown): void };
const page = globalThis as unknown as Page & Record<string, unknown>;
const listeners = new Map<string, Set<(event: unknown, message: unknown) => void>>();
page.shellReceive = (channel, message) => listeners.get(channel)?.forEach((listener) => listener({}, message));

const renderer = {
  send: (channel: string, message: unknown): void => page.shellSend(channel, structuredClone(message)),
  on: (channel: string, listener: (event: unknown, message: unknown) => void) => {
    listeners.set(channel, (listeners.get(channel) ?? new Set()).add(listener));
  },
  removeListener: (channel: string, listener: (event: unknown, message: unknown) => void) => {
    listeners.get(channel)?.delete(listener);
  },
} satisfies Record<keyof Pick<Electron.IpcRenderer, 'send' | 'on' | 'removeListener'>, unknown>;
export const ipcRenderer = renderer;

export const contextBridge: Pick<Electron.ContextBridge, 'exposeInMainWorld'> = {
  exposeInMainWorld: (name, api) => void (page[name] = api),
};

/**
 * Runs before the window's own code, in the sandbox, and hands it one Transport. Nothing else of Electron or Node is in the window's reach.
 * It cannot load our files: what it needs is bundled or written out here.
 */
import { contextBridge, ipcRenderer } from 'electron';
import type { Transport } from '../shared/ipc/transport.ts';

/** `WIRE_CHANNEL` of transport/electron.ts; a test holds them together. */
const channel = 'flueside.wire';

const transport: Transport = {
  send: (message) => ipcRenderer.send(channel, message),
  onMessage(listener) {
    // the event is kept back: it would hand the window the sender, and with it the whole channel
    const forward = (_event: unknown, message: unknown): void => listener(message);
    ipcRenderer.on(channel, forward);
    return () => void ipcRenderer.removeListener(channel, forward);
  },
};

contextBridge.exposeInMainWorld('flueside', transport);

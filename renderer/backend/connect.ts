/** The only file that asks "shell or browser?". Everything else knows a Transport. */
import type { Transport } from '../../shared/ipc/transport.ts';
import { connectSocket } from './socket-transport.ts';
import type { Connection } from './connection.ts';

declare global {
  interface Window {
    /** put there by the preload script of the desktop shell */
    flueside?: Transport;
  }
}

export function connect(page: Window): Promise<Connection> {
  if (page.flueside !== undefined) return Promise.resolve({ kind: 'open', transport: page.flueside });
  return connectSocket(page);
}

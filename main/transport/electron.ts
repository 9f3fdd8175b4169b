/** The desktop shell's wire: messages between one window's main frame and the main process. */
import type { Transport } from '../../shared/ipc/transport.ts';
import { problem } from '../../shared/problem.ts';
import { isOwnPage } from '../shell/own-page.ts';
import { MESSAGE_LIMIT_BYTES } from './wire-client.ts';

export const WIRE_CHANNEL = 'flueside.wire';

/** The parts of Electron's objects that the wire needs; electron.ts hands the real ones in. */
/** `parent` is null for the main frame of a window */
export type WireFrame = { readonly url: string; readonly parent: unknown };
export type WireContents = { send(channel: string, message: unknown): void; isDestroyed(): boolean };
export type WireMessage = { readonly sender: unknown; readonly senderFrame: WireFrame | null };
export interface WireHub {
  on(channel: string, listener: (event: WireMessage, message: unknown) => void): unknown;
  removeListener(channel: string, listener: (event: WireMessage, message: unknown) => void): unknown;
}

/**
 * A Transport over Electron's own channel. Only the main frame of this very window, showing our own page, is listened to: a frame inside it,
 * another window, or a page that was somehow navigated elsewhere gets no answer.
 *
 * @returns the transport, and a function that closes it
 */
export function electronTransport(hub: WireHub, contents: WireContents): { transport: Transport; close: () => void } {
  const listeners = new Set<(message: unknown) => void>();
  const send = (message: unknown): void => {
    if (!contents.isDestroyed()) contents.send(WIRE_CHANNEL, message);
  };
  const receive = ({ sender, senderFrame }: WireMessage, message: unknown): void => {
    if (sender !== contents || senderFrame === null || senderFrame.parent !== null || !isOwnPage(senderFrame.url)) return;
    if (sizeOf(message) > MESSAGE_LIMIT_BYTES) {
      const id = (message as { id?: unknown } | null)?.id;
      if (typeof id === 'number') send({ type: 'reply', id, result: { ok: false, error: problem('message-too-big') } });
      return;
    }
    for (const listener of listeners) listener(message);
  };
  hub.on(WIRE_CHANNEL, receive);
  return {
    transport: {
      send,
      onMessage(listener) {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
    },
    close() {
      hub.removeListener(WIRE_CHANNEL, receive);
      listeners.clear();
    },
  };
}

/** As it would be on the other wire. What cannot be written as JSON (cycles, big integers) is no message of ours. */
function sizeOf(message: unknown): number {
  try {
    return JSON.stringify(message)?.length ?? 0;
  } catch {
    return Infinity;
  }
}

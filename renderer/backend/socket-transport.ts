/** Host 2: one WebSocket on loopback. A code from the address is exchanged once for a key that survives a reload. */
import { CODE_FIELD, KEY_SLOT, WIRE_PATH, type Greeting, type Welcome } from '../../shared/ipc/handshake.ts';
import type { Transport } from '../../shared/ipc/transport.ts';
import type { Connection } from './connection.ts';
import { isProblemCode } from '../../shared/problem.ts';
import { problemLine } from '../../shared/words/problems.ts';

export type Page = Pick<Window, 'location' | 'history' | 'sessionStorage'>;

/** Takes the code out of the address at once, so that it is in no screenshot, bookmark or history. */
export function takeCode({ location, history }: Page): string | undefined {
  const code = new URLSearchParams(location.hash.replace(/^#/, '')).get(CODE_FIELD) ?? undefined;
  if (code !== undefined) history.replaceState(null, '', location.pathname + location.search);
  return code;
}

export const greetingOf = (page: Page): Greeting | undefined => {
  const code = takeCode(page);
  if (code !== undefined) return { type: 'code', code };
  const key = page.sessionStorage.getItem(KEY_SLOT);
  return key === null ? undefined : { type: 'key', key };
};

export function connectSocket(page: Page, open: (address: string) => WebSocket = (address) => new WebSocket(address)): Promise<Connection> {
  const greeting = greetingOf(page);
  if (greeting === undefined) return Promise.resolve({ kind: 'refused', reason: '' });
  const { protocol, host } = page.location;
  const socket = open(`${protocol === 'https:' ? 'wss' : 'ws'}://${host}${WIRE_PATH}`);
  const listeners = new Set<(message: unknown) => void>();
  const deliver = (message: unknown): void => listeners.forEach((listener) => listener(message));
  const transport: Transport = {
    send: (message) => socket.send(JSON.stringify(message)),
    onMessage(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };

  return new Promise((resolve) => {
    let welcomed = false;
    socket.onopen = () => socket.send(JSON.stringify(greeting));
    socket.onmessage = ({ data }) => {
      const message = readJson(String(data));
      if (welcomed) return deliver(message);
      const answer = asWelcome(message);
      if (answer === undefined) return;
      if (answer.type === 'refused') {
        page.sessionStorage.removeItem(KEY_SLOT);
        return resolve({ kind: 'refused', reason: problemLine(answer.reason) });
      }
      welcomed = true;
      page.sessionStorage.setItem(KEY_SLOT, answer.key);
      resolve({ kind: 'open', transport });
    };
    socket.onclose = () => {
      if (!welcomed) return resolve({ kind: 'refused', reason: '' });
      deliver({ type: 'event', name: 'wire.closed', payload: { reason: 'socket closed' } });
    };
  });
}

/** By hand: the schemas are fetched later than the first figure. */
function asWelcome(message: unknown): Welcome | undefined {
  const said = message as Partial<Record<'type' | 'key' | 'role' | 'reason', unknown>> | null | undefined;
  if (said?.type === 'welcome' && typeof said.key === 'string') return message as Welcome;
  const reason = said?.reason as { code?: unknown } | null | undefined;
  return said?.type === 'refused' && isProblemCode(reason?.code) ? (message as Welcome) : undefined;
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

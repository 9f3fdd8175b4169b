import type { RawData, WebSocket } from 'ws';
import type { Clock } from '../../shared/clock.ts';
import { boundedJson, MESSAGE_LIMITS } from '../../shared/ipc/bounded-json.ts';
import type { Welcome } from '../../shared/ipc/handshake.ts';
import { Greeting } from '../../shared/ipc/handshake-schemas.ts';
import type { Transport } from '../../shared/ipc/transport.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import type { Access, Grant } from './access.ts';
import { createRateLimit } from './rate-limit.ts';
import { createSendQueue } from './send-queue.ts';
import { transportTexts } from '../../shared/words/host.ts';

/** One message may carry this much, bytes. The socket itself breaks off at twice that, so that most excess is refused in words. */
export const MESSAGE_LIMIT_BYTES = 1024 * 1024;
/** A socket that has not shown a code or key by then is closed. */
const GREETING_MS = 2000;
/** Two of these without an answer and the other end is gone (cable out, lid closed, process stopped). */
export const PING_MS = 10_000;
const RATE = { perSecond: 100, burst: 400 };
/** Refused messages after which a window is shown the door. */
const PATIENCE = 2000;

export type WireClientParts = {
  readonly socket: WebSocket;
  readonly clock: Clock;
  readonly access: Access;
  /** called once the window has proved itself; the returned function is called when it has gone */
  readonly onWelcome: (transport: Transport, grant: Grant) => () => void;
  readonly onClose: () => void;
};

/** Serves one socket: greeting first, then messages, bounded in size, number and silence. */
export function serveWireClient({ socket, clock, access, onWelcome, onClose }: WireClientParts): void {
  const listeners = new Set<(message: unknown) => void>();
  const rate = createRateLimit(RATE);
  const stops: (() => void)[] = [];
  let grant: Grant | undefined;
  let refusedCount = 0;
  let unansweredPings = 0;

  const write = (text: string): void => {
    if (socket.readyState === socket.OPEN) socket.send(text);
  };
  const queue = createSendQueue({ write, bufferedBytes: () => socket.bufferedAmount, giveUp: () => socket.terminate() });
  const say = (answer: Welcome): void => write(JSON.stringify(answer));

  const refuse = (reason: Problem, message?: unknown): void => {
    refusedCount += 1;
    const id = (message as { id?: unknown } | undefined)?.id;
    if (typeof id === 'number') write(JSON.stringify({ type: 'reply', id, result: { ok: false, error: reason } }));
    else say({ type: 'refused', reason });
    if (refusedCount > PATIENCE) socket.close(1008, reason.code);
  };

  const greet = (message: unknown): void => {
    const greeting = Greeting.safeParse(message);
    const answer = greeting.success ? access.greet(greeting.data) : { ok: false as const, error: problem('request-invalid') };
    if (!answer.ok) {
      say({ type: 'refused', reason: answer.error });
      socket.close(1008, answer.error.code);
      return;
    }
    stopWaiting();
    grant = answer.value;
    say({ type: 'welcome', key: grant.key, role: grant.role });
    const transport: Transport = {
      send: (outgoing) => queue.send(outgoing),
      onMessage(listener) {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
    };
    stops.push(
      onWelcome(transport, grant),
      clock.every(100, () => queue.flush()),
    );
  };

  const receive = (data: RawData, isBinary: boolean): void => {
    if (socket.readyState !== socket.OPEN) return;
    const bytes = asBuffer(data);
    const message = isBinary || bytes.length > MESSAGE_LIMIT_BYTES ? undefined : parseJson(bytes);
    if (grant === undefined) return greet(message);
    if (!rate.take(clock.nowMs())) return refuse(problem('too-fast'), message);
    if (bytes.length > MESSAGE_LIMIT_BYTES) return refuse(problem('message-too-big'));
    if (typeof message !== 'object' || message === null) return refuse(problem('request-invalid'));
    for (const listener of listeners) listener(message);
  };

  const stopWaiting = clock.after(GREETING_MS, () => {
    say({ type: 'refused', reason: problem('link-used', transportTexts.nothingShown) });
    socket.close(1008, 'no code');
    // a peer that does not answer the close either is cut off
    stops.push(clock.after(GREETING_MS, () => socket.terminate()));
  });
  stops.push(
    stopWaiting,
    clock.every(PING_MS, () => {
      if (unansweredPings >= 2) return socket.terminate();
      unansweredPings += 1;
      if (socket.readyState === socket.OPEN) socket.ping();
    }),
  );

  socket.on('pong', () => (unansweredPings = 0));
  socket.on('message', receive);
  // ws closes by itself after an error (too big, bad frame); 'close' follows
  socket.on('error', () => undefined);
  socket.on('close', () => {
    for (const stop of stops.splice(0)) stop();
    onClose();
  });
}

function asBuffer(data: RawData): Buffer {
  if (Buffer.isBuffer(data)) return data;
  return Array.isArray(data) ? Buffer.concat(data) : Buffer.from(data);
}

function parseJson(bytes: Buffer): unknown {
  try {
    return boundedJson(bytes.toString('utf8'), MESSAGE_LIMITS);
  } catch {
    return undefined;
  }
}

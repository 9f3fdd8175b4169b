import type { Transport } from '../../../shared/ipc/transport.ts';

export type MemoryPair = {
  readonly host: Transport;
  readonly window: Transport;
  /** everything that the host sent, in order */
  readonly sent: unknown[];
  /** cuts the wire: the window gets its last event, as every adapter delivers it */
  close(reason?: string): void;
};

/** Two ends of one wire without a process between. Messages are cloned as a real wire does and arrive later, never inside `send`. */
export function memoryPair(): MemoryPair {
  const sent: unknown[] = [];
  const toHost = new Set<(message: unknown) => void>();
  const toWindow = new Set<(message: unknown) => void>();
  let open = true;

  const deliver = (listeners: Set<(message: unknown) => void>, message: unknown): void => {
    const copy: unknown = structuredClone(message);
    queueMicrotask(() => {
      for (const listener of [...listeners]) listener(copy);
    });
  };
  const end = (
    own: Set<(message: unknown) => void>,
    other: Set<(message: unknown) => void>,
    note: (message: unknown) => void,
  ): Transport => ({
    send(message) {
      if (!open) return;
      note(message);
      deliver(other, message);
    },
    onMessage(listener) {
      own.add(listener);
      return () => own.delete(listener);
    },
  });

  return {
    host: end(toHost, toWindow, (message) => sent.push(message)),
    window: end(toWindow, toHost, () => undefined),
    sent,
    close(reason = 'closed by the test') {
      if (!open) return;
      open = false;
      deliver(toWindow, { type: 'event', name: 'wire.closed', payload: { reason } });
    },
  };
}

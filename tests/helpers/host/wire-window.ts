/** A window without a screen: the wire of host 2 as a browser's page uses it, with every event noted. For journeys that need no picture. */
import { WebSocket } from 'ws';
import { createClient, type Client } from '../../../shared/ipc/client.ts';
import * as contract from '../../../shared/ipc/contract.ts';
import type { EventName, Payload } from '../../../shared/ipc/contract.ts';
import { WIRE_PATH, type Greeting } from '../../../shared/ipc/handshake.ts';

export type WireWindow = {
  readonly client: Client;
  /** shows the same person again, after a reload or in a second window */
  readonly key: string;
  close(): Promise<void>;
  /** @returns the first payload from now on, or the last one before, that fits */
  waitFor<K extends EventName>(name: K, fits: (payload: Payload<K>) => boolean, withinMs: number): Promise<Payload<K>>;
};

/** @param link what the host printed; or its address with the key of an earlier window */
export async function openWireWindow(link: string, key?: string): Promise<WireWindow> {
  const { host, hash, origin } = new URL(link);
  const socket = new WebSocket(`ws://${host}${WIRE_PATH}`, { headers: { Origin: origin } });
  await new Promise((resolve, reject) => socket.once('open', resolve).once('error', reject));
  const greeting: Greeting = key === undefined ? { type: 'code', code: hash.replace('#code=', '') } : { type: 'key', key };
  const welcome = new Promise<{ type: string; key: string }>((resolve) =>
    socket.once('message', (data: Buffer) => resolve(JSON.parse(data.toString()) as { type: string; key: string })),
  );
  socket.send(JSON.stringify(greeting));
  const welcomed = await welcome;
  if (welcomed.type !== 'welcome') throw new Error(`refused: ${JSON.stringify(welcomed)}`);
  const client = createClient(
    {
      send: (message) => socket.send(JSON.stringify(message)),
      onMessage(listener) {
        const take = (data: Buffer): void => listener(JSON.parse(data.toString()));
        socket.on('message', take);
        return () => socket.off('message', take);
      },
    },
    contract,
  );
  const last = new Map<string, unknown>();
  for (const name of ['bench.changed', 'run.changed', 'problem.raised'] as const)
    client.on(name, (payload) => void last.set(name, payload));
  await client.call('session.hello', {});
  return {
    client,
    key: welcomed.key,
    close: () =>
      new Promise((resolve) => {
        socket.once('close', () => resolve());
        socket.close();
      }),
    waitFor: (name, fits, withinMs) =>
      new Promise((resolve, reject) => {
        const known = last.get(name) as Payload<typeof name> | undefined;
        if (known !== undefined && fits(known)) return resolve(known);
        const timer = setTimeout(() => {
          stop();
          reject(
            new Error(`${name} did not come within ${withinMs} ms; the last one was ${JSON.stringify(last.get(name))?.slice(0, 2000)}`),
          );
        }, withinMs);
        const stop = client.on(name, (payload) => {
          if (!fits(payload)) return;
          clearTimeout(timer);
          stop();
          resolve(payload);
        });
      }),
  };
}

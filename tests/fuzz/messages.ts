/**
 * Messages that nobody sane would send, to a whole host with its records and runs: from a window that may do everything. Each is answered or passed
 * over; the host is alive afterwards and its records open.
 */
import fc from 'fast-check';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '../../main/app.ts';
import { boundedJson, MESSAGE_LIMITS } from '../../shared/ipc/bounded-json.ts';
import { createClient } from '../../shared/ipc/client.ts';
import * as contract from '../../shared/ipc/contract.ts';
import { commands } from '../../shared/ipc/contract.ts';
import { ReplyMessage } from '../../shared/ipc/message.ts';
import { createFakeClock, settle } from '../helpers/host/fake-clock.ts';
import { memoryPair } from '../helpers/host/memory-transport.ts';
import { mutated, seeded } from './files.ts';

export type MessageFuzz = { messages: number; answered: number; thrown: string[]; isAlive: boolean };

/** As `[[[[ ... ]]]]` and `{"a":{"a": ... }}`; the depths at which schemas, writers and readers run out of stack. */
const nested = (depth: number, isList: boolean): unknown => {
  let value: unknown = 1;
  for (let level = 0; level < depth; level++) value = isList ? [value] : { a: value };
  return value;
};
const hostile = fc.oneof(
  fc.integer({ min: 10, max: 5000 }).map((depth) => nested(depth, true)),
  fc.integer({ min: 10, max: 5000 }).map((depth) => nested(depth, false)),
  fc.constantFrom(1e308, -1e308, 1e300, 5e-324, Number.MAX_SAFE_INTEGER, '', '\0', '../../x', '__proto__', null),
  fc.integer({ min: 1, max: 30_000 }).map((count) => Array.from({ length: count }, () => ({}))),
);
/** Near misses find more than noise does: inputs of the right keys with wrong values. */
const keys = [
  'id',
  'runId',
  'visitId',
  'changes',
  'patch',
  'recipe',
  'upload',
  'copy',
  'name',
  'kind',
  'body',
  'appliance',
  'source',
  'mark',
  'ids',
];
const input = fc.oneof(
  { weight: 3, arbitrary: fc.jsonValue() },
  { weight: 3, arbitrary: fc.dictionary(fc.constantFrom(...keys), fc.oneof(fc.jsonValue(), hostile), { maxKeys: 4 }) },
  { weight: 1, arbitrary: hostile },
);
const message = fc.oneof(
  { weight: 1, arbitrary: fc.oneof(fc.jsonValue(), hostile) },
  {
    weight: 6,
    arbitrary: fc.record({
      type: fc.constant('call'),
      id: fc.nat(),
      name: fc.constantFrom(...Object.keys(commands), 'toString', '__proto__'),
      input,
    }),
  },
);

/** Ours cannot even write the deepest ones down; whoever attacks can. */
function textOf(message: unknown): string {
  try {
    return JSON.stringify(message) ?? '';
  } catch {
    return `{"type":"call","id":7,"name":"document.save","input":{"kind":"gas","body":${'['.repeat(5000)}${']'.repeat(5000)}}}`;
  }
}

function sendAsIs(wire: ReturnType<typeof memoryPair>, message: unknown): void {
  try {
    wire.window.send(message);
  } catch {
    // too deep to be cloned: no wire carries it
  }
}

export async function fuzzMessages(count: number, seed: number): Promise<MessageFuzz> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-fuzz-host-'));
  const thrown: string[] = [];
  const note = (cause: unknown): void => void thrown.push(cause instanceof Error ? (cause.stack ?? cause.message) : String(cause));
  process.on('uncaughtException', note);
  process.on('unhandledRejection', note);
  const app = createApp({
    clock: createFakeClock(),
    dataFolder: folder,
    version: 'fuzz',
    host: 'memory',
    platform: 'linux',
    listPorts: () => Promise.resolve([]),
    openPort: () => Promise.reject(new Error('no ports here')),
  });
  try {
    const wire = memoryPair();
    app.attach(wire.host, { clientId: 'window', key: 'key', grant: 'operator' });
    const client = createClient(wire.window, contract);
    const random = seeded(seed);
    let answered = 0;
    for (let at = 0; at < count; at += 100) {
      for (const one of fc.sample(message, { numRuns: 100, seed: seed + at })) {
        // as text, as it travels; every fifth with bytes turned
        const text = textOf(one);
        const arrived = boundedJson(random() < 0.2 ? mutated(Buffer.from(text), random).toString('utf8') : text, MESSAGE_LIMITS);
        wire.window.send(arrived);
        // what the desktop's own wire brings is never text: it comes as it is
        if (random() < 0.3) sendAsIs(wire, one);
      }
      await settle();
      await new Promise((resolve) => setImmediate(resolve));
      answered += wire.sent.splice(0).filter((sent) => ReplyMessage.safeParse(sent).success).length;
    }
    const hello = await client.call('session.hello', {});
    const list = await client.call('visit.list', {});
    return { messages: count, answered, thrown, isAlive: hello.ok && list.ok };
  } finally {
    await app.close('by-person');
    process.off('uncaughtException', note);
    process.off('unhandledRejection', note);
    rmSync(folder, { recursive: true, force: true });
  }
}

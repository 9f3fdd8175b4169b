/** What a window takes as it comes, before it has fetched the schemas, is what they would have made of it: nothing filled in, nothing dropped. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { createApp } from '../../../main/app.ts';
import { createClient, firstAnswers } from '../../../shared/ipc/client.ts';
import * as contract from '../../../shared/ipc/contract.ts';
import type { CommandName, EventName } from '../../../shared/ipc/contract.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { memoryPair } from '../../helpers/host/memory-transport.ts';

type Sent = { type: string; id: number; name: string; payload: unknown; result: { ok: boolean; value: unknown } };

/** as it is when it has travelled */
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value ?? null));

it('first answers and events of a run, of its marks and of settings', async () => {
  const dataFolder = mkdtempSync(join(tmpdir(), 'flueside-first-'));
  const clock = createFakeClock();
  const app = createApp({
    clock,
    dataFolder,
    version: '0.0.0',
    host: 'memory',
    platform: 'linux',
    listPorts: () => Promise.resolve([]),
    openPort: () => Promise.reject(new Error('no ports here')),
  });
  onTestFinished(async () => {
    await app.close('by-person');
    rmSync(dataFolder, { recursive: true, force: true });
  });
  const wire = memoryPair();
  const asked: CommandName[] = [];
  app.attach(wire.host, { clientId: 'one', key: 'one', grant: 'operator' });
  const client = createClient(
    { ...wire.window, send: (message) => (asked.push((message as Sent).name as CommandName), wire.window.send(message)) },
    contract,
  );
  await client.call('session.hello', {});
  const run = await client.call('run.start', { source: { kind: 'simulated' } });
  if (!run.ok) throw new Error(run.error.code);
  const { runId } = run.value;
  for (let second = 0; second < 90; second++) await clock.advance(1000);
  await client.call('run.mark', {
    runId,
    body: { kind: 'adjustment', setting: { stage: '1', positions: [{ name: 'shutter', value: 5 }] } },
  });
  await client.call('settings.change', { patch: { units: 'metric' } });
  await clock.advance(5000);
  await client.call('session.hello', {});
  await client.call('source.list', {});
  await client.call('run.history', { runId, fromMs: 0, toMs: 95_000, buckets: 1500 });

  const seen = new Set<string>();
  for (const message of wire.sent as Sent[]) {
    const name = message.type === 'reply' ? asked[message.id - 1] : message.name;
    if (name === undefined || (message.type === 'reply' && !firstAnswers.has(name as CommandName))) continue;
    const value = plain(message.type === 'reply' ? message.result.value : message.payload);
    const schema = message.type === 'reply' ? contract.commands[name as CommandName].output : contract.events[name as EventName];
    expect(schema.parse(value), name).toEqual(value);
    seen.add(name);
  }
  expect([...firstAnswers, 'live.batch', 'run.changed', 'settings.changed'].filter((name) => !seen.has(name))).toEqual([]);
});

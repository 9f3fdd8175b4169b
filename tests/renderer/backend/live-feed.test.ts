import { describe, expect, it } from 'vitest';
import { createClient } from '../../../shared/ipc/client.ts';
import * as contract from '../../../shared/ipc/contract.ts';
import { greet, startLiveFeed } from '../../../renderer/backend/live-feed.ts';
import { createFrames } from '../../../renderer/live/frame.ts';
import { createLineBuffer } from '../../../renderer/live/line-buffer.ts';
import { createLiveBuffers } from '../../../renderer/live/run-buffers.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { createFakeBackend } from '../helpers/fake-backend.ts';
import type { Scene } from '../helpers/fake-run.ts';

async function openFeed(scene: Scene) {
  const backend = createFakeBackend(scene);
  const store = createAppStore();
  const waiting: (() => void)[] = [];
  const parts = {
    client: createClient(backend.transport, contract),
    store,
    buffers: createLiveBuffers(),
    lines: createLineBuffer(),
    frames: createFrames(() => undefined),
    later: (run: () => void) => void waiting.push(run),
  };
  startLiveFeed(parts);
  await greet(parts);
  let changes = 0;
  store.subscribe(() => (changes += 1));
  return { backend, store, parts, changes: () => changes, pass: () => waiting.splice(0).forEach((run) => run()) };
}

describe('live feed', () => {
  it('greets, chooses the run under way and fills the buffers', async () => {
    const { store, parts } = await openFeed('live');
    expect(store.getState().wire.phase).toBe('open');
    expect(store.getState().runId).toBe('run-1');
    expect(parts.buffers.of('run-1').series('o2').count).toBeGreaterThan(1000);
  });
  it('gives every batch to the buffers, but the store only what a person can read', async () => {
    const { backend, parts, changes, pass } = await openFeed('live');
    pass();
    pass();
    const before = { version: parts.buffers.of('run-1').version(), changes: changes() };
    for (let step = 0; step < 20; step++) backend.tick(100);
    expect(parts.buffers.of('run-1').version() - before.version).toBe(20);
    expect(changes() - before.changes).toBe(1);
    pass();
    expect(changes() - before.changes).toBe(2);
  });
  it('never puts samples into the store', async () => {
    const { store } = await openFeed('live');
    expect(JSON.stringify(store.getState().runs)).not.toContain('"samples"');
  });
  it('shows a run that begins while the window is open', async () => {
    const { store, parts } = await openFeed('empty');
    expect(store.getState().runId).toBeUndefined();
    const started = await parts.client.call('run.start', { source: { kind: 'simulated' } });
    if (!started.ok) throw new Error(started.error.code);
    store.getState().runChanged(started.value);
    expect(store.getState().runId).toBe('run-1');
  });
  it('says that the wire was cut', async () => {
    const { backend, store } = await openFeed('live');
    backend.cut();
    expect(store.getState().wire).toMatchObject({ phase: 'closed' });
  });
});

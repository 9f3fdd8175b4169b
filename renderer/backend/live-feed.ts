/** The only listener of the host's events: samples go to the buffers, everything else to the store. */
import type { Client } from '../../shared/ipc/client.ts';
import type { LiveBatch } from '../../shared/ipc/run-documents.ts';
import type { LineBuffer } from '../live/line-buffer.ts';
import type { LiveBuffers } from '../live/run-buffers.ts';
import type { Frames } from '../live/frame.ts';
import type { AppStore } from '../state/store.ts';

export type FeedParts = {
  client: Client;
  store: AppStore;
  buffers: LiveBuffers;
  lines: LineBuffer;
  frames: Frames;
  /** calls back after some time; a test drives it by hand */
  later?: (run: () => void, ms: number) => void;
};

/** Figures change four times a second at most; the chart takes every batch. */
const FACE_MS = 250;
const HISTORY_BUCKETS = 1500;
const YOUNG_MS = 3000;

export function startLiveFeed({
  client,
  store,
  buffers,
  lines,
  frames,
  later = (run, ms) => void setTimeout(run, ms),
}: FeedParts): () => void {
  let waiting: LiveBatch[] = [];
  let resting = false;
  const asked = new Set<string>();
  const showNow = (): void => {
    if (waiting.length === 0) {
      resting = false;
      return;
    }
    const batches = waiting;
    waiting = [];
    store.getState().batchesCame(batches);
    frames.request();
    resting = true;
    later(showNow, FACE_MS);
  };

  const stops = [
    client.on('live.batch', (batch) => {
      buffers.of(batch.runId).take(batch);
      frames.request();
      waiting.push(batch);
      if (!resting) showNow();
    }),
    client.on('run.changed', (info) => {
      const isNew = store.getState().runs[info.runId] === undefined;
      store.getState().runChanged(info);
      if (isNew) store.getState().runChosen(info.runId);
      // a run that goes on after a crash brings its past, whoever learned of it first
      if (info.timeMs > YOUNG_MS && buffers.of(info.runId).version() === 0 && !asked.has(info.runId)) {
        asked.add(info.runId);
        void fetchPast({ client, store, buffers, frames }, info.runId, info.timeMs);
      }
      frames.request();
    }),
    client.on('sources.changed', ({ ports }) => store.getState().portsChanged(ports)),
    client.on('lines.batch', ({ runId, lines: news, droppedCount }) => lines.add(runId, news, droppedCount)),
    client.on('export.progress', (progress) => store.getState().exportProgressed(progress)),
    client.on('session.changed', ({ role, otherWindows }) => store.getState().roleChanged(role, otherWindows)),
    client.on('settings.changed', (settings) => store.getState().settingsChanged(settings)),
    client.on('alarms.changed', ({ alarms }) => store.getState().alarmsChanged(alarms)),
    client.on('problem.raised', (raised) => store.getState().problemRaised(raised)),
    client.on('problem.cleared', ({ key }) => store.getState().problemCleared(key)),
    client.on('wire.closed', ({ reason }) => store.getState().wireClosed(reason)),
  ];
  return () => stops.forEach((stop) => stop());
}

type PastParts = Pick<FeedParts, 'client' | 'store' | 'buffers' | 'frames'>;

/** What was captured before this window saw the run; live batches wait for it, so that points stay in time order. */
export async function fetchPast({ client, store, buffers, frames }: PastParts, runId: string, timeMs: number): Promise<void> {
  buffers.of(runId).awaitHistory();
  const history = await client.call('run.history', { runId, fromMs: 0, toMs: Math.max(1, timeMs), buckets: HISTORY_BUCKETS });
  if (!history.ok) return buffers.of(runId).historyFailed();
  buffers.of(runId).takeHistory(history.value);
  store.getState().historyCame(runId, history.value);
  frames.request();
}

/** Says hello and fetches what was captured before this window opened. */
export async function greet({ client, store, buffers, frames }: Pick<FeedParts, 'client' | 'store' | 'buffers' | 'frames'>): Promise<void> {
  const hello = await client.call('session.hello', {});
  if (!hello.ok) return store.getState().wireClosed(hello.error.code);
  const { runs, interrupted, problems, alarms } = hello.value;
  store.getState().welcomed(hello.value);
  store.getState().runsWelcomed(runs, interrupted);
  store.getState().problemsWelcomed(problems);
  store.getState().alarmsChanged(alarms);
  const list = client.call('source.list', {});
  for (const { runId, timeMs } of runs) await fetchPast({ client, store, buffers, frames }, runId, timeMs);
  const sources = await list;
  if (sources.ok) store.getState().portsChanged(sources.value.ports);
}

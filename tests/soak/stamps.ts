/**
 * How true the time of a line stays while the same process makes a backup, is asked for a restore, exports a day and visits, takes visits in,
 * opens a stored day, erases, and makes reports.
 * The lines come from another thread that writes its own time into each of them; the difference to the stamp, less the smallest one, is how late
 * the line was stamped. A stretch without any work comes first: that much is the machine's own.
 */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { createApp } from '../../main/app.ts';
import type { SerialPortHandle } from '../../main/source/serial-port.ts';
import { openRecords } from '../../main/store/open.ts';
import { createVisits } from '../../main/store/visits.ts';
import { WORK_FOLDER } from '../../main/store/work-folder.ts';
import { systemClock } from '../../main/system-clock.ts';
import { createClient } from '../../shared/ipc/client.ts';
import * as contract from '../../shared/ipc/contract.ts';
import { LineRecipe } from '../../shared/measurement/recipe.ts';
import { SerialSettings } from '../../shared/measurement/run.ts';
import { ok } from '../../shared/result.ts';
import { writeDayRun } from '../helpers/day-run.ts';
import { memoryPair } from '../helpers/host/memory-transport.ts';
import { smallVisit, START } from '../shared/report/small-visit.ts';

export type StampFigures = {
  lines: number;
  missing: number;
  /** worst lateness of a stamp without any work, and during each work; ms */
  idleMs: number;
  worstMs: Record<string, number>;
  /** lines that the instrument sent during each work, and how many of them were stamped while it was still under way */
  sent: Record<string, number>;
  stampedMeanwhile: Record<string, number>;
  works: Record<string, string>;
};

const EVERY_MS = 20;
const INSTRUMENT = `
const { parentPort } = require('node:worker_threads');
const wait = new Int32Array(new SharedArrayBuffer(4));
let next = performance.timeOrigin + performance.now();
for (let n = 0; ; n++) {
  next += ${EVERY_MS};
  const now = performance.timeOrigin + performance.now();
  if (next > now) Atomics.wait(wait, 0, 0, next - now);
  parentPort.postMessage(n + ',' + (performance.timeOrigin + performance.now()).toFixed(3) + ',5.1\\r\\n');
}`;

const recipe = LineRecipe.parse({
  format: 'flueside-recipe',
  version: 1,
  name: 'timed',
  shape: { kind: 'columns', delimiter: ',' },
  fields: [{ channel: 'o2', at: 2, unit: '%' }],
});

function openInstrument(): SerialPortHandle {
  const worker = new Worker(INSTRUMENT, { eval: true });
  worker.unref();
  let onClose: ((why: 'closed', detail: string) => void) | undefined;
  return {
    onBytes: (listener) => void worker.on('message', (text: string) => listener(Buffer.from(text, 'latin1'))),
    onClose: (listener) => (onClose = listener),
    write: () => Promise.resolve(ok(undefined)),
    async close() {
      await worker.terminate();
      onClose?.('closed', '');
    },
  };
}

export async function soakStamps({
  dayLines,
  visits,
  idleMs,
}: {
  dayLines: number;
  visits: number;
  idleMs: number;
}): Promise<StampFigures> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-stamps-'));
  mkdirSync(join(folder, 'runs'), { recursive: true });
  writeDayRun(folder, 'run-1', dayLines);
  const opened = await openRecords({ folder, wallMs: START });
  if (!opened.ok) throw new Error(opened.error.code);
  const book = createVisits(opened.value.db, () => undefined);
  for (let n = 1; n <= visits; n++) book.adopt(smallVisit({ id: `visit-${n}`, number: n }), START);
  opened.value.close();

  const port = openInstrument();
  const app = createApp({
    clock: systemClock,
    dataFolder: folder,
    version: 'soak',
    host: 'memory',
    platform: process.platform,
    listPorts: () => Promise.resolve([]),
    openPort: () => Promise.resolve(ok(port)),
    // what was exported before comes back
    takeUpload: (name) => ({ path: join(folder, WORK_FOLDER, name) }),
  });
  try {
    const wire = memoryPair();
    app.attach(wire.host, { clientId: 'window', key: 'key', grant: 'operator' });
    const client = createClient(wire.window, contract);
    await client.call('session.hello', {});
    const started = await client.call('run.start', {
      source: { kind: 'serial', path: 'thread', settings: SerialSettings.parse({}) },
      recipe,
    });
    if (!started.ok) throw new Error(started.error.code);
    const { runId } = started.value;
    await client.call('run.compareDisplay', { runId, agrees: true });

    const said: Record<string, string> = {};
    const spans: { name: string; from: number; to: number }[] = [];
    const epoch = (): number => performance.timeOrigin + performance.now();
    const during = async (name: string, work: () => Promise<{ ok: boolean; error?: { code: string } }>): Promise<void> => {
      const from = epoch();
      const done = await work();
      spans.push({ name, from, to: epoch() });
      said[name] = `${done.ok ? 'done' : (done.error?.code ?? '')} in ${Math.round(epoch() - from)} ms`;
      await systemClock.sleep(100);
    };
    await systemClock.sleep(300);
    await during('nothing', async () => (await systemClock.sleep(idleMs), { ok: true }));
    await during('backup', () => client.call('backup.make', {}));
    const backup = readdirSync(folder).find((name) => name.startsWith('flueside-backup-')) ?? '';
    await during('restore', () => client.call('backup.restore', { copy: backup }));
    await during('export of a day as CSV', () => client.call('run.export', { runId: 'run-1', form: 'csv' }));
    await during('export of a day as JSON', () => client.call('run.export', { runId: 'run-1', form: 'json' }));
    await during('report as HTML', () => client.call('report.make', { visitId: 'visit-1', paper: 'letter', form: 'html' }));
    await during('report as JSON', () => client.call('report.make', { visitId: 'visit-1', paper: 'letter', form: 'json' }));
    await during('export of visits', () =>
      client.call('visit.export', { ids: Array.from({ length: Math.min(visits, 100) }, (_, n) => `visit-${n + 1}`) }),
    );
    await during('opening a stored day', () =>
      client.call('run.history', { runId: 'run-1', fromMs: 0, toMs: dayLines * 100, buckets: 1000 }),
    );
    const made = readdirSync(join(folder, WORK_FOLDER)).find((name) => name.endsWith('.zip')) ?? '';
    await during('import of visits', () => client.call('visit.import', { upload: made }));
    await during('removal of a visit', () => client.call('visit.remove', { id: `visit-${visits}` }));
    await systemClock.sleep(200);
    await client.call('run.end', { runId });

    const path = join(folder, 'runs', `${runId}.run`);
    const lines = readFileSync(path, 'latin1')
      .split('\n')
      .flatMap((text) => {
        const found = /^(\d+)\tline\t(\d+),([\d.]+),/.exec(text);
        return found === null ? [] : [{ stampMs: Number(found[1]), number: Number(found[2]), trueMs: Number(found[3]) }];
      });
    const least = Math.min(...lines.map(({ stampMs, trueMs }) => stampMs - trueMs));
    const worstIn = ({ from, to }: { from: number; to: number }): number =>
      Math.round(
        Math.max(
          0,
          ...lines.flatMap(({ stampMs, trueMs }) => (trueMs >= from - EVERY_MS && trueMs <= to ? [stampMs - trueMs - least] : [])),
        ),
      );
    const sentIn = ({ from, to }: { from: number; to: number }) => lines.filter(({ trueMs }) => trueMs >= from && trueMs <= to);
    const perWork = <T>(figure: (span: { from: number; to: number }) => T): Record<string, T> =>
      Object.fromEntries(spans.slice(1).map((span) => [span.name, figure(span)]));
    const numbers = lines.map(({ number }) => number);
    return {
      lines: lines.length,
      missing: (numbers.at(-1) ?? 0) - (numbers[0] ?? 0) + 1 - numbers.length,
      idleMs: worstIn(spans[0] ?? { from: 0, to: 0 }),
      worstMs: perWork(worstIn),
      sent: perWork((span) => sentIn(span).length),
      stampedMeanwhile: perWork((span) => sentIn(span).filter(({ stampMs }) => stampMs - least <= span.to).length),
      works: said,
    };
  } finally {
    await app.close('by-person');
    if (existsSync(folder)) rmSync(folder, { recursive: true, force: true });
  }
}

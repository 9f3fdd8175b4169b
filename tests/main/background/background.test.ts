import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createBackground, inThisThread, type Background } from '../../../main/background/background.ts';
import type { ExportAsk } from '../../../main/background/jobs.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { writeDayRun } from '../../helpers/day-run.ts';
import { buildThreadProgram } from '../../helpers/host/thread-program.ts';
import { smallVisit } from '../../shared/report/small-visit.ts';
import { createAskStored } from '../../../main/runs/stored/ask-stored.ts';

const LINES = 3_000;
/** long enough to be stopped in the middle */
const LONG = 40_000;
const settings = Settings.parse({});
let folder: string;
let built: { program: string; folder: string };
let thread: Background;
let run: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-background-'));
  mkdirSync(join(folder, 'runs'));
  run = writeDayRun(folder, 'run-1', LINES);
  built = await buildThreadProgram();
  thread = createBackground(built.program);
});
afterAll(async () => {
  await thread.close();
  rmSync(folder, { recursive: true, force: true });
  rmSync(built.folder, { recursive: true, force: true });
});

const exported = (form: ExportAsk['form'], target: string): ExportAsk => ({
  form,
  path: run,
  isReplay: false,
  settings,
  foldSettings: {},
  target: join(folder, target),
});
/** share of the time in which the loop of this thread was at work */
async function loopUse(work: () => Promise<unknown>): Promise<number> {
  const before = performance.eventLoopUtilization();
  await work();
  return performance.eventLoopUtilization(before).active;
}

describe('work in the background thread', { timeout: 120_000 }, () => {
  it('gives what the same work gives in this thread, to the last byte', async () => {
    const made: Record<string, string[]> = {};
    for (const [name, background] of Object.entries({ here: inThisThread, thread })) {
      const texts: string[] = [];
      for (const form of ['csv', 'json', 'text'] as const) {
        expect(await background.run('exportRun', exported(form, `${name}.${form}`))).toMatchObject({ ok: true });
        texts.push(readFileSync(join(folder, `${name}.${form}`), 'latin1'));
      }
      const report = await background.run('makeReport', {
        dataFolder: folder,
        runIds: ['run-1', 'not there'],
        foldSettings: {},
        rest: { visit: smallVisit(), appVersion: '1' },
        form: 'html',
        paper: 'letter',
        csv: 'comma',
        fonts: { sans: undefined, mono: undefined },
      });
      texts.push(report.text);
      const stored = createAskStored(background, join(folder, 'runs'), () => ({}));
      texts.push(
        JSON.stringify([
          await stored.history('run-1', { fromMs: 0, toMs: LINES * 100, buckets: 500 }),
          await stored.lines('run-1', 20),
          await stored.logged('run-1', 20),
          await stored.recipes('run-1'),
          await stored.history('not-there', { fromMs: 0, toMs: 1, buckets: 5 }),
        ]),
      );
      texts.push(JSON.stringify(await background.run('measureRun', { path: run, runId: 'run-1' })));
      made[name] = texts;
    }
    expect(made['thread']).toEqual(made['here']);
    expect(made['here']?.every((text) => text.length > 100)).toBe(true);
  });

  it('is fed piece by piece from this thread, to the last piece', async () => {
    const visits = ['a', 'b', 'c'].map((id) => smallVisit({ id, applianceId: `appliance-${id}`, runs: [] }));
    const answers = await Promise.all(
      [inThisThread, thread].map((one) =>
        one.run('visitLinks', {}, { feed: visits.map((visit) => ({ ok: true, value: JSON.stringify(visit) })) }),
      ),
    );
    expect(answers[1]).toEqual(answers[0]);
    expect(answers[1]?.ok && answers[1].value.applianceIds).toEqual(['appliance-a', 'appliance-b', 'appliance-c']);
  });

  it('leaves the loop of this thread free', async () => {
    const here = await loopUse(() => inThisThread.run('exportRun', exported('json', 'one')));
    const there = await loopUse(() => thread.run('exportRun', exported('json', 'two')));
    expect([there < here / 5, here, there]).toEqual([true, here, there]);
  });

  it('says how far it is, and stops when it is told to', async () => {
    const shares: number[] = [];
    await thread.run('exportRun', exported('csv', 'told'), { reached: (share) => shares.push(share) });
    expect(shares.at(-1)).toBe(1);
    const abort = new AbortController();
    const long = { ...exported('json', 'stopped'), path: writeDayRun(folder, 'run-2', LONG) };
    const stopped = thread.run('exportRun', long, { signal: abort.signal, reached: () => abort.abort() });
    await expect(stopped).rejects.toThrow();
    expect(readFileSync(join(folder, 'stopped'), 'utf8')).not.toContain('"counters"');
  });

  it('fails with the code that the disk gave', async () => {
    await expect(thread.run('exportRun', exported('csv', join('no-such-folder', 'file')))).rejects.toMatchObject({ code: 'ENOENT' });
  });

  it('fails when its thread ends in the middle, and the next work finds another one', async () => {
    const program = join(built.folder, 'ends.cjs');
    const flag = join(built.folder, 'ended-once');
    const text = readFileSync(built.program, 'utf8');
    writeFileSync(
      program,
      `const fs = require('node:fs'); if (!fs.existsSync(${JSON.stringify(flag)})) { fs.writeFileSync(${JSON.stringify(flag)}, ''); require('node:worker_threads').parentPort.once('message', () => process.exit(3)); }\n${text}`,
    );
    const background = createBackground(program);
    await expect(background.run('measureRun', { path: run, runId: 'run-1' })).rejects.toThrow('ended');
    expect(await background.run('measureRun', { path: run, runId: 'run-1' })).toMatchObject({ lines: LINES });
    await background.close();
    await expect(background.run('measureRun', { path: run, runId: 'run-1' })).rejects.toThrow('closed');
  });

  it('fails when the program cannot be read or does not start, and keeps nobody waiting', async () => {
    const broken = join(built.folder, 'broken.cjs');
    writeFileSync(broken, 'throw new Error("no thread here");');
    for (const program of [join(built.folder, 'missing.cjs'), broken]) {
      const background = createBackground(program);
      await expect(background.run('measureRun', { path: run, runId: 'run-1' })).rejects.toThrow();
      await background.close();
    }
  });

  describe('ends for want of work', () => {
    const counted = (name: string): { program: string; starts: () => number } => {
      const [program, file] = [join(built.folder, `${name}.cjs`), join(built.folder, `${name}.starts`)];
      writeFileSync(file, '');
      const note = `require('node:fs').appendFileSync(${JSON.stringify(file)}, 's');`;
      writeFileSync(program, `${note}\n${readFileSync(built.program, 'utf8')}`);
      return { program, starts: () => readFileSync(file, 'utf8').length };
    };
    const measure = (background: Background): Promise<unknown> => background.run('measureRun', { path: run, runId: 'run-1' });
    const until = async (isSo: () => boolean): Promise<void> => {
      while (!isSo()) await new Promise((done) => setTimeout(done, 5));
    };

    it('soon where it has nothing at hand, later where it has read a run', async () => {
      const { program, starts } = counted('bare');
      const background = createBackground(program, { idleMs: 60_000, bareMs: 20 });
      await measure(background);
      await new Promise((done) => setTimeout(done, 100));
      await measure(background);
      expect(starts()).toBe(2);
      await background.run('exportRun', exported('csv', 'at-hand'));
      const before = starts();
      await new Promise((done) => setTimeout(done, 100));
      await measure(background);
      expect(starts()).toBe(before);
      await background.close();
    });

    it('and work that comes while it ends finds another one', async () => {
      const { program, starts } = counted('race');
      const background = createBackground(program, { bareMs: 0 });
      for (let round = 1; round <= 8; round++) {
        await measure(background);
        // its timer is due; whether it has ended by then is chance
        await new Promise((done) => setTimeout(done, 1));
        expect(await measure(background)).toMatchObject({ lines: LINES });
      }
      await until(() => starts() > 1);
      await background.close();
    });
  });
});

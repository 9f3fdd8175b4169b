import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { ExportProgress } from '../../../shared/ipc/run-commands.ts';
import { createExportDesk } from '../../../main/runs/export-desk.ts';
import { openRunFile, type RunFile } from '../../../main/runs/run-file.ts';
import { writeDayRun } from '../../helpers/day-run.ts';
import { until } from '../../helpers/fake-clock.ts';

const settings = Settings.parse({});
let folder: string;
let exportsFolder: string;
let file: RunFile;
let told: ExportProgress[];
let nextId = 0;
const desk = () => createExportDesk(exportsFolder, { newId: () => `file-${nextId++}`, told: (progress) => told.push(progress) });
const parts = () => ({ file, isReplay: false, settings, foldSettings: {} });
const job = { jobId: 'job-1', clientId: 'window-1' };

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-exports-'));
  exportsFolder = join(folder, 'exports.part');
  told = [];
  const opened = await openRunFile(writeDayRun(folder, 'run-1', 40_000));
  if (!opened.ok) throw new Error(opened.error.code);
  file = opened.value;
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe('exports', () => {
  it('are whole files with every sample, and say how far they are', async () => {
    const made = await desk().make(job, 'json', parts());
    if (!made.ok) throw new Error(made.error.code);
    const content = JSON.parse(readFileSync(made.value, 'utf8')) as { samples: unknown[]; readings: unknown[] };
    expect(content.samples).toHaveLength(40_000);
    expect(content.readings.length).toBeGreaterThan(0);
    expect(told.length).toBeGreaterThan(0);
    expect(told.every(({ jobId, share }) => jobId === 'job-1' && share > 0 && share <= 1)).toBe(true);
    expect(readdirSync(exportsFolder)).toHaveLength(1);
  });

  it('stop when they are told to, or when their window goes, and leave nothing', async () => {
    for (const stop of [
      (one: ReturnType<typeof desk>) => one.stop('job-1'),
      (one: ReturnType<typeof desk>) => one.clientLeft('window-1'),
    ]) {
      const one = desk();
      const making = one.make(job, 'json', parts());
      await until(() => existsSync(exportsFolder) && readdirSync(exportsFolder).some((name) => name.endsWith('.part')));
      one.stop('another');
      one.clientLeft('another window');
      stop(one);
      const made = await making;
      expect(made.ok ? 'made' : made.error.code).toBe('export-stopped');
      expect(readdirSync(exportsFolder)).toEqual([]);
    }
  });

  it('say in words that the disk refused, and leave nothing under a name that can be fetched', async () => {
    mkdirSync(folder, { recursive: true });
    const one = desk();
    await until(() => !existsSync(exportsFolder));
    await new Promise((resolve) => setTimeout(resolve, 20)); // the clearing at the start is through
    writeFileSync(exportsFolder, 'a file where the folder belongs');
    const made = await one.make(job, 'csv', parts());
    expect(made.ok ? 'made' : made.error.code).toBe('disk-failed');
  });

  it('that were fetched go with a later one, but not while somebody may still be fetching them', async () => {
    let clockMs = 0;
    const one = createExportDesk(exportsFolder, { newId: () => `file-${nextId++}`, told: () => undefined, nowMs: () => clockMs });
    const make = async (): Promise<string> => {
      const made = await one.make(job, 'text', parts());
      if (!made.ok) throw new Error(made.error.code);
      return made.value;
    };
    const first = await make();
    one.fetched(first);
    clockMs += 60_000;
    const second = await make(); // never fetched: it waits
    expect(existsSync(first)).toBe(true);
    clockMs += 600_000;
    await make();
    expect([existsSync(first), existsSync(second)]).toEqual([false, true]);
  });

  it('of a program that was killed are gone at the next start', async () => {
    mkdirSync(exportsFolder);
    writeFileSync(join(exportsFolder, 'old'), 'was never fetched');
    writeFileSync(join(exportsFolder, 'older.part'), 'half');
    const one = desk();
    await until(() => !existsSync(exportsFolder));
    const made = await one.make(job, 'text', parts());
    expect(made.ok && readFileSync(made.value, 'latin1').split('\r\n')).toHaveLength(40_000 + 2);
    await one.close();
    expect(existsSync(exportsFolder)).toBe(false);
  });
});

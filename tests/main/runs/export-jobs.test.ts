import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { ExportProgress } from '../../../shared/ipc/run-documents.ts';
import { createExportJobs } from '../../../main/runs/stored/export-jobs.ts';
import type { ExportForm } from '../../../main/runs/stored/run-export.ts';
import { tidyDataFolder } from '../../../main/store/backup/restore.ts';
import { WORK_FOLDER, workPath } from '../../../main/store/work-folder.ts';
import { writeDayRun } from '../../helpers/day-run.ts';
import { until } from '../../helpers/host/fake-clock.ts';

const settings = Settings.parse({});
let folder: string;
let exportsFolder: string;
let path: string;
let told: ExportProgress[];
let nextId = 0;
const exportJobs = () => createExportJobs(folder, { newId: () => `file-${nextId++}`, told: (progress) => told.push(progress) });
const parts = (form: ExportForm) => ({ form, path, isReplay: false, settings, foldSettings: {} });
const job = { jobId: 'job-1', clientId: 'window-1' };

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-exports-'));
  exportsFolder = join(folder, WORK_FOLDER);
  told = [];
  path = writeDayRun(folder, 'run-1', 40_000);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe('exports', () => {
  it('are whole files with every sample, and say how far they are', async () => {
    const made = await exportJobs().make(job, parts('json'));
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
      (one: ReturnType<typeof exportJobs>) => one.stop('job-1'),
      (one: ReturnType<typeof exportJobs>) => one.clientLeft('window-1'),
    ]) {
      const one = exportJobs();
      const making = one.make(job, parts('json'));
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
    const one = exportJobs();
    writeFileSync(exportsFolder, 'a file where the folder belongs');
    const made = await one.make(job, parts('csv'));
    expect(made.ok ? 'made' : made.error.code).toBe('disk-failed');
  });

  it('that were fetched go with a later one, but not while somebody may still be fetching them', async () => {
    let clockMs = 0;
    const one = createExportJobs(folder, { newId: () => `file-${nextId++}`, told: () => undefined, nowMs: () => clockMs });
    const make = async (): Promise<string> => {
      const made = await one.make(job, parts('text'));
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

  it('of a program that was killed are gone at the next start, and those of this one at its end', async () => {
    for (const ending of ['', '.part']) writeFileSync(workPath(folder, 'export', 'old-one', ending), 'was never fetched');
    tidyDataFolder(folder);
    expect(existsSync(exportsFolder)).toBe(false);
    const one = exportJobs();
    const made = await one.make(job, parts('text'));
    expect(made.ok && readFileSync(made.value, 'latin1').split('\r\n')).toHaveLength(40_000 + 2);
    await one.close();
    expect(readdirSync(exportsFolder)).toEqual([]);
  });
});

/** A stored run as the report shows it: its file read through the chain, with the hash of the file as it stands. */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import type { FoldSettings } from '../../shared/pipeline/run-fold.ts';
import { gatherRun, type RunGatherer } from '../../shared/report/gather-run.ts';
import type { ReportRun } from '../../shared/report/report-input.ts';
import { createPauses } from '../pauses.ts';
import type { KeptResults } from '../runs/stored/kept-results.ts';
import { openRunFile, readRunHeader, type FilePlace } from '../runs/file/run-file.ts';
import { storedRunPath } from '../runs/file/run-path.ts';

/** How far a file was read. A run only grows, so the next look goes on from there. */
type Reading = { readonly gatherer: RunGatherer; readonly key: string; place: FilePlace | undefined };

/** Reads runs for reports; a few stay in memory, so that a preview of the visit at hand reads only what came since the last one. */
export interface ReportRuns {
  /** @returns undefined when there is no such file, or none that can be read */
  load(runId: string, settings: FoldSettings): Promise<ReportRun | undefined>;
}

/** In the order that is asked for; without those that cannot be read. */
export async function loadRuns(runs: ReportRuns, runIds: readonly string[], settings: FoldSettings): Promise<ReportRun[]> {
  const found: ReportRun[] = [];
  for (const runId of runIds) {
    const run = await runs.load(runId, settings);
    if (run !== undefined) found.push(run);
  }
  return found;
}

const KEPT = 3;

const KIND = 'report';

export function createReportRuns(dataFolder: string, results?: KeptResults): ReportRuns {
  const runsFolder = join(dataFolder, 'runs');
  const kept = new Map<string, Promise<Reading | undefined>>();
  return {
    async load(runId, settings) {
      const path = storedRunPath(runsFolder, runId);
      if (path === undefined) return undefined;
      // one after the other: two looks at once must not read the same lines twice
      const before = kept.get(runId);
      const stamp = before === undefined ? await results?.stampOf(path) : undefined;
      const found = stamp === undefined ? undefined : await results?.find(runId, path, KIND, settings);
      if (found !== undefined) return found.facts as ReportRun;
      const next = (async () => goOn(path, settings, await before?.catch(() => undefined)))();
      kept.delete(runId);
      kept.set(runId, next);
      const [oldest] = kept.keys();
      if (kept.size > KEPT && oldest !== undefined) kept.delete(oldest);
      try {
        const reading = await next;
        if (reading === undefined) kept.delete(runId);
        const run = reading?.gatherer.finish(await hashOf(path));
        if (run !== undefined && stamp !== undefined) await results?.keep(runId, path, KIND, settings, { facts: run }, stamp);
        return run;
      } catch {
        kept.delete(runId);
        return undefined;
      }
    },
  };
}

/** @returns `before`, read on; a new reading when the file or the settings are not those of `before` */
async function goOn(path: string, settings: FoldSettings, before: Reading | undefined): Promise<Reading | undefined> {
  const header = await readRunHeader(path);
  if (!header.ok) return undefined;
  const key = JSON.stringify([header.value, settings]);
  const reading = before?.key === key ? before : { gatherer: gatherRun(header.value, settings), key, place: undefined };
  const file = await openRunFile(path);
  if (!file.ok) return undefined;
  const pauses = createPauses();
  for await (const { entries, end } of file.value.groups(reading.place)) {
    for (const entry of entries) {
      reading.gatherer.push(entry);
      if (pauses.isDue()) await pauses.take();
    }
    reading.place = end;
  }
  return reading;
}

async function hashOf(path: string): Promise<string | undefined> {
  const hash = createHash('sha256');
  try {
    for await (const chunk of createReadStream(path) as AsyncIterable<Uint8Array>) hash.update(chunk);
    return hash.digest('hex');
  } catch {
    return undefined;
  }
}

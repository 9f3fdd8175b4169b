/**
 * Exports under way: written under a name of their own beside the records, told how far they are, stopped on request, and given a name that
 * can be fetched only when they are whole. What a killed program left half done is removed at the next start.
 */
import { rename, rm } from 'node:fs/promises';
import type { ExportProgress } from '../../../shared/ipc/run-documents.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { inThisThread, type Background } from '../../background/background.ts';
import type { ExportAsk } from '../../background/jobs.ts';
import { removeQuietly, workPath } from '../../store/work-folder.ts';
import { createTimeLeft } from './time-left.ts';
import { runsTexts } from '../../../shared/words/host.ts';
import { defined } from '../../../shared/defined.ts';

export interface ExportJobs {
  /** @returns the whole file */
  make(job: ExportJob, wanted: Omit<ExportAsk, 'target'>): Promise<Result<string, Problem>>;
  stop(jobId: string): void;
  /** nobody is there any more to take what this window asked for */
  clientLeft(clientId: string): void;
  /** somebody has begun to fetch this file; it goes with a later export, when the fetching is long over */
  fetched(path: string): void;
  /** removes a file that will not be fetched */
  discard(path: string): void;
  /** stops what is under way and removes what was fetched or not */
  close(): Promise<void>;
}
export type ExportJob = { readonly jobId: string; readonly clientId: string };

/** short ones are done before anybody could read that they are under way */
const QUIET_MS = 400;
const TOLD_EVERY_MS = 250;
/** a disk that is slow, a browser that asks where to */
const FETCHING_MS = 10 * 60_000;

/** What a program before this one left half done goes at the start; whatever else lies in the data folder stays. */
export function createExportJobs(
  dataFolder: string,
  parts: { newId: () => string; told: (progress: ExportProgress) => void; background?: Background; nowMs?: () => number },
): ExportJobs {
  const { background = inThisThread, nowMs = () => performance.now() } = parts;
  const fetchedAt = new Map<string, number>();
  const stops = new Map<string, { clientId: string; abort: AbortController }>();
  const own = new Set<string>();
  const clear = (): void => own.forEach(removeQuietly);
  return {
    async make({ jobId, clientId }, wanted) {
      if (stops.has(jobId)) return err(problem('request-invalid', runsTexts.exportUnderWay));
      const abort = new AbortController();
      stops.set(jobId, { clientId, abort });
      let whole = '';
      const left = createTimeLeft();
      left.begin();
      let toldMs = nowMs() + QUIET_MS - TOLD_EVERY_MS;
      const reached = (share: number): void => {
        left.reached(share);
        if (nowMs() - toldMs < TOLD_EVERY_MS) return;
        toldMs = nowMs();
        const leftMs = left.leftMs();
        parts.told({ jobId, share: left.share, ...defined({ leftMs }) });
      };
      try {
        for (const [path, atMs] of fetchedAt) {
          if (nowMs() - atMs < FETCHING_MS) continue;
          fetchedAt.delete(path);
          await rm(path, { force: true }).catch(() => undefined);
        }
        whole = workPath(dataFolder, 'export', parts.newId());
        own.add(whole);
        const made = await background.run('exportRun', { ...wanted, target: `${whole}.part` }, { reached, signal: abort.signal });
        if (!made.ok) return made;
        await rename(`${whole}.part`, whole);
        return ok(whole);
      } catch (cause) {
        if (whole !== '') await rm(`${whole}.part`, { force: true }).catch(() => undefined);
        if (abort.signal.aborted) return err(problem('export-stopped'));
        const { code } = cause as NodeJS.ErrnoException;
        return err(problem(code === 'ENOSPC' ? 'disk-full' : 'disk-failed', code ?? String(cause)));
      } finally {
        stops.delete(jobId);
      }
    },
    stop: (jobId) => stops.get(jobId)?.abort.abort(),
    clientLeft(left) {
      for (const { clientId, abort } of stops.values()) if (clientId === left) abort.abort();
    },
    fetched(path) {
      if (own.has(path)) fetchedAt.set(path, nowMs());
    },
    discard(path) {
      if (own.delete(path)) void rm(path, { force: true }).catch(() => undefined);
    },
    close() {
      for (const { abort } of stops.values()) abort.abort();
      clear();
      return Promise.resolve();
    },
  };
}

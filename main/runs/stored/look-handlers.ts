/** Commands that only look: the trend, the lines, and files to take along. */
import { problem } from '../../../shared/problem.ts';
import { defined } from '../../../shared/defined.ts';
import { isoWithZone } from '../../../shared/format/date.ts';
import { err, ok } from '../../../shared/result.ts';
import type { OpenRuns, RunHandlers } from '../open-runs.ts';
import type { createDownloads, Download } from './downloads.ts';
import type { ExportJobs } from './export-jobs.ts';
import { linesWithPlaces } from '../live/line-report.ts';
import { exportKinds } from './run-export.ts';
import { openRunFile } from '../file/run-file.ts';

export type LookHandlers = Pick<RunHandlers, 'run.history' | 'run.lines' | 'run.export' | 'run.stopExport'>;

export function lookHandlers(
  { parts, folder, stored, entries, foldSettings }: OpenRuns,
  exports: ExportJobs,
  downloads: ReturnType<typeof createDownloads>,
): LookHandlers {
  return {
    async 'run.history'({ runId, fromMs, toMs, buckets, partly }) {
      const entry = entries.get(runId);
      if (entry !== undefined) {
        const { trace, fold } = entry.run;
        return ok({ ...trace.history(fold, fromMs, toMs, buckets), ...defined({ last: fold.lastSample }) });
      }
      return stored.history(runId, { fromMs, toMs, buckets, partly });
    },

    async 'run.lines'({ runId, count, watch: isWatched }, { clientId }) {
      const entry = entries.get(runId);
      if (entry === undefined) {
        const lines = await stored.lines(runId, count);
        return lines.ok ? ok({ lines: lines.value }) : lines;
      }
      if (isWatched) entry.watchers.add(clientId);
      else entry.watchers.delete(clientId);
      entry.run.watchLines(entry.watchers.size > 0);
      return ok({ lines: linesWithPlaces(entry.run.fold.lastLines(count), entry.run.fold.recipe) });
    },

    async 'run.export'({ runId, form, jobId = parts.newId() }, { clientId }) {
      const entry = entries.get(runId);
      await entry?.run.writer?.flush();
      const info = entry?.run.source.info;
      // a replay has no file of its own
      const fileId = info?.kind === 'replay' ? info.runId : runId;
      const path = folder.pathOf(fileId);
      if (path === undefined) return err(problem('run-not-found'));
      const file = await openRunFile(path);
      if (!file.ok) return file.error.code === 'file-not-found' ? err(problem('run-not-found')) : file;
      const baseName = `flueside-${isoWithZone(file.value.header.startWallMs, 0).slice(0, 16).replace(/[:T]/g, '-')}-${fileId.slice(-6)}`;
      const offer = (download: Download) => ok({ fileName: download.fileName, download: downloads.offer(download) });
      if (form === 'run') return offer({ fileName: `${baseName}.run`, mime: 'application/octet-stream', filePath: path });
      const made = await exports.make(
        { jobId, clientId },
        {
          form,
          path,
          isReplay: info?.kind === 'replay',
          settings: parts.settings(),
          foldSettings: foldSettings(),
        },
      );
      if (!made.ok) return made;
      const { ending, mime } = exportKinds[form];
      return offer({ fileName: `${baseName}.${ending}`, mime, filePath: made.value });
    },

    'run.stopExport'({ jobId }) {
      exports.stop(jobId);
      return Promise.resolve(ok({}));
    },
  };
}

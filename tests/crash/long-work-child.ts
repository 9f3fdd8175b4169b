/** The part that is killed in the middle of a long export or of the first opening of a long run. Says how far it is on standard output. */
import { v7 as newId } from 'uuid';
import type { Caller } from '../../shared/ipc/contract.ts';
import type { ExportProgress } from '../../shared/ipc/run-documents.ts';
import { Settings } from '../../shared/ipc/settings.ts';
import { createRunService } from '../../main/runs/run-service.ts';
import { tidyDataFolder } from '../../main/store/backup/restore.ts';
import { systemClock } from '../../main/system-clock.ts';

const [, , folder = '', work = '', runId = ''] = process.argv;
const caller: Caller = { clientId: 'crash', role: 'operator' };
const say = (text: string): void => void process.stdout.write(`${text}\n`);

// as every start of the host does, under its lock
tidyDataFolder(folder);
const runService = createRunService({
  clock: systemClock,
  dataFolder: folder,
  appVersion: 'crash test',
  settings: () => Settings.parse({}),
  listPorts: () => Promise.resolve([]),
  openPort: () => Promise.reject(new Error('no ports here')),
  publish(name, payload) {
    if (name === 'export.progress') say(`at ${(payload as unknown as ExportProgress).share}`);
  },
  newId,
});
if (work === 'open') {
  for (;;) {
    const seen = await runService.handlers['run.history']({ runId, fromMs: 0, toMs: 6_000_000, buckets: 1000, partly: true }, caller);
    if (!seen.ok) say(`problem ${seen.error.code}`);
    else if (seen.value.progress === undefined) {
      say(`done ${JSON.stringify({ points: seen.value.series[0]?.timeMs.length, readings: seen.value.readings.length })}`);
      break;
    } else say(`at ${seen.value.progress.stage === 'curves' ? 0 : seen.value.progress.share}`);
  }
} else {
  const made = await runService.handlers['run.export']({ runId, form: 'json', jobId: 'job' }, caller);
  say(made.ok ? `done ${runService.takeDownload(made.value.download)?.filePath}` : `problem ${made.error.code}`);
}
process.exit(0);

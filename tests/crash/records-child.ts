/** The part that is killed while it restores, makes backups, takes visits in or exports them. Says on standard output what was acknowledged. */
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { v7 as newId } from 'uuid';
import type { Caller } from '../../shared/ipc/contract.ts';
import { Settings } from '../../shared/ipc/settings.ts';
import { createReportService } from '../../main/report/report-service.ts';
import { createRecords } from '../../main/store/records.ts';
import { workPath } from '../../main/store/work-folder.ts';
import { systemClock } from '../../main/system-clock.ts';

const [, , folder = '', work = '', once = ''] = process.argv;
const caller: Caller = { clientId: 'crash', role: 'operator' };
const say = (text: string): void => void process.stdout.write(`${text}\n`);
const uploads = new Map<string, string>();
const downloads: string[] = [];

const parts = {
  clock: systemClock,
  dataFolder: folder,
  appVersion: 'crash test',
  settings: () => Settings.parse({}),
  newId,
  takeUpload(token: string) {
    const path = uploads.get(token);
    return path === undefined ? undefined : { path };
  },
  offerDownload: ({ filePath }: { filePath?: string }) => (downloads.push(filePath ?? ''), 'token'),
};
const records = createRecords({ ...parts, publish: () => undefined, hashRun: () => Promise.resolve(undefined) });
const reports = createReportService({ ...parts, records, recordsChanged: () => undefined });
for (const found of await records.problems()) say(`problem ${JSON.stringify(found)}`);

const works: Record<string, (n: number) => Promise<{ ok: boolean; error?: unknown }>> = {
  restore: (n) => records.handlers['backup.restore']({ copy: `flueside-backup-2026-01-0${(n % 2) + 1}.zip` }, caller),
  async backup(n) {
    const saved = await records.handlers['appliance.save']({ appliance: { format: 1, name: `Boiler ${n}`, kind: 'other' } }, caller);
    if (saved.ok) say(`saved ${saved.value.id}`);
    return records.handlers['backup.make']({}, caller);
  },
  import() {
    const path = workPath(folder, 'upload', newId());
    copyFileSync(join(folder, '..', 'package.zip'), path);
    uploads.set('upload', path);
    return reports.handlers['visit.import']({ upload: 'upload' }, caller);
  },
  async export() {
    const list = await records.handlers['visit.list']({ search: '', limit: 50, offset: 0 }, caller);
    return reports.handlers['visit.export']({ ids: list.ok ? list.value.visits.map(({ id }) => id) : [] }, caller);
  },
};
say('ready');
for (let n = 0; ; n++) {
  say(`begin ${n}`);
  const done = await (works[work] as (n: number) => Promise<{ ok: boolean; error?: unknown }>)(n);
  say(done.ok ? `done ${n}` : `problem ${JSON.stringify(done.error)}`);
  if (once === 'once') break;
  // a backup bears the second in its name
  if (work === 'backup') await systemClock.sleep(1000 - (Date.now() % 1000));
}
records.close();
process.exit(0);

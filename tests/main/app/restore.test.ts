import { existsSync, mkdirSync, readdirSync, readlinkSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import * as files from '../../../main/store/files.ts';
import { openApp, openWindow, toldTo } from './app-fixture.ts';

const technician = (name: string) => ({ patch: { technician: { name, licence: '' } } });

/** An app with a backup in its data folder, made when the technician was A. Sample and there was one visit. */
async function withBackup() {
  const opened = openApp();
  const window = openWindow(opened.app);
  await window.client.call('session.hello', {});
  await window.client.call('settings.change', technician('A. Sample'));
  await window.client.call('visit.create', { kind: 'service' });
  const made = await window.client.call('backup.make', {});
  if (!made.ok) throw new Error(made.error.code);
  await window.client.call('settings.change', technician('B. Sample'));
  await window.client.call('visit.create', { kind: 'service' });
  return { ...opened, window, client: window.client, copy: made.value.fileName };
}
function openFiles(): string[] {
  return readdirSync('/proc/self/fd').flatMap((fd) => {
    try {
      return [readlinkSync(`/proc/self/fd/${fd}`)];
    } catch {
      return [];
    }
  });
}
const visitsIn = async ({ client }: Awaited<ReturnType<typeof withBackup>>): Promise<number> => {
  const list = await client.call('visit.list', {});
  return list.ok ? list.value.total : -1;
};

describe('a restore', () => {
  it('by the name of a backup in the data folder brings records and settings back, and every window hears of it', async () => {
    const here = await withBackup();
    // derived from a run that is about to be moved away
    mkdirSync(join(here.folder, '.flueside-kept'));
    writeFileSync(join(here.folder, '.flueside-kept', 'run-1.read'), 'x');
    const done = await here.client.call('backup.restore', { copy: here.copy });
    expect(done.ok).toBe(true);
    expect(readdirSync(here.folder)).not.toContain('.flueside-kept');
    expect(await visitsIn(here)).toBe(1);
    const hello = await here.client.call('session.hello', {});
    expect(hello.ok && hello.value.settings.technician.name).toBe('A. Sample');
    expect(toldTo(here.window, 'settings.changed').at(-1)).toMatchObject({ technician: { name: 'A. Sample' } });
    expect(toldTo(here.window, 'records.changed').at(-1)).toEqual({ what: 'all' });
    // what was here is listed, and can be looked for
    const copies = await here.client.call('copies.list', {});
    expect(copies.ok && copies.value.copies.map(({ kind }) => kind).sort()).toEqual(['backup', 'before-restore']);
  });

  it.skipIf(!existsSync('/proc/self/fd'))('holds no file of the records open while files are moved: Windows would refuse', async () => {
    const here = await withBackup();
    const held: string[] = [];
    let moves = 0;
    vi.spyOn(files, 'renamePatiently').mockImplementation((from, to) => {
      moves += 1;
      held.push(...openFiles().filter((path) => path.startsWith(join(here.folder, 'records'))));
      renameSync(from, to);
    });
    const done = await here.client.call('backup.restore', { copy: here.copy });
    vi.restoreAllMocks();
    expect([done.ok, moves > 2, held]).toEqual([true, true, []]);
    // and the check sees what is held
    expect(openFiles().some((path) => path === join(here.folder, 'records.db'))).toBe(true);
  });

  it('is refused while a run is captured, and nothing moves', async () => {
    const here = await withBackup();
    here.runService.capturing = true;
    const before = readdirSync(here.folder).sort();
    const refused = await here.client.call('backup.restore', { copy: here.copy });
    expect(refused).toMatchObject({ ok: false, error: { code: 'restore-in-capture' } });
    expect(readdirSync(here.folder).sort()).toEqual(before);
    expect(await visitsIn(here)).toBe(2);
  });

  it('lets no run and no other restore begin meanwhile', async () => {
    const here = await withBackup();
    const restoring = here.client.call('backup.restore', { copy: here.copy });
    const [second, run] = await Promise.all([
      here.client.call('backup.restore', { copy: here.copy }),
      here.client.call('run.start', { source: { kind: 'typed' } }),
    ]);
    expect(second).toMatchObject({ ok: false, error: { code: 'restore-under-way' } });
    expect(run).toMatchObject({ ok: false, error: { code: 'restore-under-way' } });
    expect((await restoring).ok).toBe(true);
    expect(here.runService.called.some(({ name }) => name === 'run.start')).toBe(false);
  });

  it.each(['records.db', '../x.zip', 'flueside-backup-2020-01-01T00-00-00.zip'])('takes no %s for a backup', async (copy) => {
    const here = await withBackup();
    expect(await here.client.call('backup.restore', { copy })).toMatchObject({ ok: false, error: { code: 'file-not-found' } });
    expect(await visitsIn(here)).toBe(2);
  });
});

/** Photos of a visit: on the disk before the visit names them, sealed with it, moved with it, gone with it. */
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { copyPhotos, photosGoing, reportPhotos } from '../../../main/photos/photo-files.ts';
import { createReportService } from '../../../main/report/report-service.ts';
import { reportText } from '../../../main/report/report-text.ts';
import { inThisThread } from '../../../main/background/background.ts';
import { reportFonts } from '../../../main/report/fonts.ts';
import { createRecords, type Records } from '../../../main/store/records.ts';
import { visitHash } from '../../../main/store/visits.ts';
import { PHOTO } from '../../../shared/geometry/photo.ts';
import type { Caller, Handlers, Input, Output } from '../../../shared/ipc/contract.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Result } from '../../../shared/result.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { leftOff } from '../../helpers/visits/left-off.ts';
import { jpegBytes, pngBytes } from './photo-bytes.ts';

const caller: Caller = { clientId: 'window', role: 'operator' };
let base: string;
let ids = 0;
const opened: { close: () => void }[] = [];

/** One data folder with what serves it. */
type Computer = ReturnType<typeof openComputer>;
function openComputer(name: string) {
  const dataFolder = join(base, name);
  mkdirSync(dataFolder, { recursive: true });
  const uploads = new Map<string, string>();
  const downloads: { filePath?: string | undefined }[] = [];
  const clock = createFakeClock();
  const newId = (): string => `id-${String((ids += 1)).padStart(6, '0')}`;
  const settings = () => Settings.parse({ technician: { name: 'Q. Technician' } });
  const takeUpload = (token: string) => {
    const path = uploads.get(token);
    uploads.delete(token);
    return path === undefined ? undefined : { path };
  };
  const offerDownload = (download: { filePath?: string | undefined }): string => String(downloads.push(download) - 1);
  const shared = { clock, dataFolder, appVersion: '1', settings, newId, takeUpload, offerDownload };
  const open = (): Records => createRecords({ ...shared, publish: () => undefined, hashRun: () => Promise.resolve('abc') });
  let records = open();
  const reports = createReportService({ ...shared, records, background: inThisThread, recordsChanged: () => undefined });
  const one = {
    folder: dataFolder,
    photos: () => (existsSync(join(dataFolder, 'photos')) ? readdirSync(join(dataFolder, 'photos')).sort() : []),
    upload(bytes: Uint8Array | string): string {
      const token = newId();
      const path = join(base, token);
      writeFileSync(path, bytes);
      uploads.set(token, path);
      return token;
    },
    async try<K extends keyof Handlers>(command: K, input: Input<K>): Promise<Result<Output<K>, Problem>> {
      const handlers = { ...records.handlers, ...reports.handlers } as unknown as Handlers;
      return (handlers[command] as (input: Input<K>, caller: Caller) => Promise<Result<Output<K>, Problem>>)(input, caller);
    },
    async call<K extends keyof Handlers>(command: K, input: Input<K>): Promise<Output<K>> {
      const done = await one.try(command, input);
      if (!done.ok) throw new Error(`${command}: ${done.error.code} ${done.error.detail ?? ''}`);
      return done.value;
    },
    downloaded: (token: string): string => downloads[Number(token)]?.filePath ?? '',
    attach: (id: string, bytes: Uint8Array, name = 'front.jpg') => one.call('photo.attach', { id, upload: one.upload(bytes), name }),
    /** as after a kill: nothing was closed, everything is opened anew */
    async startAgain(): Promise<void> {
      records.close();
      records = open();
      await records.problems();
    },
    close: () => records.close(),
  };
  opened.push(one);
  return one;
}
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), 'flueside-photos-'));
});
afterEach(() => {
  for (const one of opened.splice(0)) one.close();
  rmSync(base, { recursive: true, force: true });
});

const begun = async (computer: Computer): Promise<string> => (await computer.call('visit.create', { kind: 'service' })).visit.id;
const filesOf = ({ setUp }: Visit) => setUp.geometry?.photoFiles ?? [];
const codeOf = (result: Result<unknown, Problem>): string => (result.ok ? 'ok' : result.error.code);
const sign = async (computer: Computer, id: string): Promise<Visit> => {
  await computer.call('visit.edit', { id, changes: [{ path: ['notLeftRunning'], after: leftOff }] });
  return (await computer.call('visit.sign', { id, name: 'Q. Technician' })).visit;
};

describe('photos of a visit', () => {
  it('are saved as they are, named by their hash, and read back', async () => {
    const here = openComputer('a');
    const id = await begun(here);
    const { visit } = await here.attach(id, jpegBytes());
    const [photo] = filesOf(visit);
    expect(photo).toMatchObject({ form: 'jpeg', width: 1600, height: 1200, bytes: jpegBytes().length, name: 'front.jpg' });
    expect(here.photos()).toEqual([`${id}-${photo?.sha256.slice(0, 32)}.jpg`]);
    const { url } = await here.call('photo.get', { id, sha256: photo?.sha256 ?? '' });
    expect(url).toBe(`data:image/jpeg;base64,${Buffer.from(jpegBytes()).toString('base64')}`);
    // the same one twice is one
    expect(filesOf((await here.attach(id, jpegBytes())).visit)).toHaveLength(1);
    expect(filesOf((await here.attach(id, pngBytes(), 'side.png')).visit)).toHaveLength(2);
    // and the upload is gone in any case
    expect(readdirSync(base).filter((name) => name.startsWith('id-'))).toEqual([]);
  });

  it('are judged by their bytes, bounded in size and number, and refused without a trace', async () => {
    const here = openComputer('a');
    const id = await begun(here);
    const refused = async (bytes: Uint8Array | string): Promise<string> =>
      codeOf(await here.try('photo.attach', { id, upload: here.upload(bytes), name: 'front.jpg' }));
    expect(await refused('<svg xmlns="http://www.w3.org/2000/svg"/>')).toBe('photo-foreign');
    expect(await refused(jpegBytes().slice(0, -2))).toBe('photo-foreign');
    expect(await refused('')).toBe('photo-foreign');
    expect(await refused(jpegBytes({ width: 9000 }))).toBe('photo-too-big');
    expect(await refused(Uint8Array.from([...jpegBytes(), ...new Uint8Array(PHOTO.mostBytes)]))).toBe('photo-too-big');
    expect(codeOf(await here.try('photo.attach', { id, upload: 'gone', name: 'x' }))).toBe('file-not-found');
    expect(codeOf(await here.try('photo.attach', { id: 'nobody', upload: here.upload(jpegBytes()), name: 'x' }))).toBe('not-found');
    for (let n = 0; n < PHOTO.most; n++) await here.attach(id, jpegBytes({ filler: `photo ${n}` }));
    expect(await refused(jpegBytes({ filler: 'one more' }))).toBe('photo-too-many');
    expect(here.photos()).toHaveLength(PHOTO.most);
  });

  it('are sealed: a signed visit takes none more, loses none, and its hash covers them', async () => {
    const here = openComputer('a');
    const id = await begun(here);
    const { visit } = await here.attach(id, jpegBytes());
    const sha256 = filesOf(visit)[0]?.sha256 ?? '';
    const signed = await sign(here, id);
    const without = { ...signed, setUp: { ...signed.setUp, geometry: {} } };
    expect(visitHash(without)).not.toBe(visitHash(signed));
    expect(codeOf(await here.try('photo.remove', { id, sha256 }))).toBe('visit-signed');
    expect(codeOf(await here.try('photo.attach', { id, upload: here.upload(pngBytes()), name: 'x' }))).toBe('visit-signed');
    expect(here.photos()).toHaveLength(1);
    // a file that is no longer what was attached is not shown as if it were, and a lost one is said
    const path = join(here.folder, 'photos', here.photos()[0] ?? '');
    writeFileSync(path, jpegBytes({ filler: 'y'.repeat(200) }));
    expect(await here.call('photo.get', { id, sha256 })).toEqual({ why: 'altered' });
    rmSync(path);
    expect(await here.call('photo.get', { id, sha256 })).toEqual({ why: 'missing' });
  });

  it('survive a kill: written and not yet named goes, named stays, half a removal is finished or taken back', async () => {
    const here = openComputer('a');
    const [id, other, leaving] = [await begun(here), await begun(here), await begun(here)];
    const { visit } = await here.attach(id, jpegBytes());
    await here.attach(other, pngBytes());
    const kept = (await here.attach(leaving, pngBytes(50, 50))).visit;
    // killed after the file and before the visit; in the middle of the file; before the row of a removed visit was gone
    copyPhotos(here.folder, id, { ...visit, id: other });
    writeFileSync(join(here.folder, 'photos', `${id}-${'0'.repeat(32)}.jpg.part`), 'half');
    photosGoing(here.folder, kept);
    // somebody else's, and of records that were set aside
    writeFileSync(join(here.folder, 'photos', 'letter.txt'), 'not ours');
    writeFileSync(join(here.folder, 'photos', `elsewhere-${'0'.repeat(32)}.jpg`), jpegBytes());
    expect(here.photos()).toHaveLength(7);
    await here.startAgain();
    const name = (of: Visit): string => `${of.id}-${filesOf(of)[0]?.sha256.slice(0, 32)}`;
    const { visit: second } = await here.call('visit.get', { id: other });
    expect(here.photos()).toEqual(
      [`${name(visit)}.jpg`, `${name(second)}.png`, `${name(kept)}.png`, `elsewhere-${'0'.repeat(32)}.jpg`, 'letter.txt'].sort(),
    );
    // and once more with the row gone
    const going = photosGoing(here.folder, kept);
    await here.call('visit.remove', { id: leaving });
    expect(going).toBeDefined();
    await here.startAgain();
    expect(here.photos().some((one) => one.includes(leaving))).toBe(false);
  });

  it('are gone from the disk when they are taken out, and when their visit is removed', async () => {
    const here = openComputer('a');
    const id = await begun(here);
    const { visit } = await here.attach(id, jpegBytes());
    await here.attach(id, pngBytes());
    const left = await here.call('photo.remove', { id, sha256: filesOf(visit)[0]?.sha256 ?? '' });
    expect(filesOf(left.visit)).toHaveLength(1);
    expect(here.photos()).toHaveLength(1);
    await here.call('visit.remove', { id });
    expect(here.photos()).toEqual([]);
  });

  it('come back with a backup, and with it alone', async () => {
    const here = openComputer('a');
    const id = await begun(here);
    const { visit } = await here.attach(id, jpegBytes());
    const { fileName } = await here.call('backup.make', {});
    const sha256 = filesOf(visit)[0]?.sha256 ?? '';
    await here.call('photo.remove', { id, sha256 });
    expect(here.photos()).toEqual([]);
    await here.call('backup.restore', { copy: fileName });
    expect(filesOf((await here.call('visit.get', { id })).visit)).toHaveLength(1);
    expect((await here.call('photo.get', { id, sha256 })).url).toContain('data:image/jpeg');
  });

  it('go with a package to another computer, also with a copy of the visit', async () => {
    const [here, there] = [openComputer('a'), openComputer('b')];
    const id = await begun(here);
    const { visit } = await here.attach(id, jpegBytes());
    const sha256 = filesOf(visit)[0]?.sha256 ?? '';
    const moved = async (): Promise<void> => {
      const { download } = await here.call('visit.export', { ids: [id] });
      await there.call('visit.import', { upload: there.upload(readFileSync(here.downloaded(download))) });
    };
    await moved();
    expect((await there.call('photo.get', { id, sha256 })).url).toContain('data:image/jpeg');
    // changed here since: kept there as a copy under another id, with its photo
    await here.call('visit.edit', { id, changes: [{ path: ['airTypedC'], after: 20 }] });
    await moved();
    const { visits } = await there.call('visit.list', { search: '', limit: 10, offset: 0 });
    const copy = visits.find((one) => one.id !== id)?.id ?? '';
    expect((await there.call('photo.get', { id: copy, sha256 })).url).toContain('data:image/jpeg');
    await there.call('visit.remove', { id });
    expect((await there.call('photo.get', { id: copy, sha256 })).url).toContain('data:image/jpeg');
  });

  it('stand in the technical record within the page, and are said where they are not here', async () => {
    const here = openComputer('a');
    const id = await begun(here);
    await here.attach(id, jpegBytes());
    const { visit } = await here.attach(id, pngBytes(), 'side.png');
    const page = (): string =>
      reportText({ visit, runs: [], appVersion: '1', photos: reportPhotos(here.folder, visit) }, 'html', {
        paper: 'a4',
        csv: 'comma',
        fonts: reportFonts(),
      }).text;
    expect(page().match(/<img [^>]*src="data:image\/(jpeg|png);base64,/g)).toHaveLength(2);
    rmSync(join(here.folder, 'photos'), { recursive: true });
    expect(page()).not.toContain('data:image');
    expect(page()).toContain('side.png: this photo is not on this computer.');
  });

  it('are in the record that a window asks for, which is made in the background', async () => {
    const here = openComputer('a');
    const id = await begun(here);
    const { visit } = await here.attach(id, jpegBytes());
    const { text } = await inThisThread.run('makeReport', {
      dataFolder: here.folder,
      runIds: [],
      foldSettings: {},
      rest: { visit, appVersion: '1' },
      form: 'html',
      paper: 'a4',
      csv: 'comma',
      fonts: reportFonts(),
    });
    expect(text.match(/<img [^>]*src="data:image\/jpeg;base64,/g)).toHaveLength(1);
  });
});

import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync, mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { tidyDataFolder } from '../../../main/store/backup/restore.ts';
import { WORK_FOLDER, workPath } from '../../../main/store/work-folder.ts';
import { createUploads } from '../../../main/transport/uploads.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-upload-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const work = () => join(folder, WORK_FOLDER);
const filesIn = () => (existsSync(work()) ? readdirSync(work()) : []);

it('keeps a file under a name of its own and gives it out once', async () => {
  const uploads = createUploads(folder, createFakeClock());
  const done = await uploads.receive(Readable.from([Buffer.from('abc'), Buffer.from('def')]), '../../evil.run');
  if (!done.ok) throw new Error('refused');
  expect(done.value).toMatchObject({ bytes: 6, fileName: '../../evil.run' });
  const file = uploads.take(done.value.upload);
  expect(file?.path.startsWith(folder)).toBe(true);
  expect(readFileSync(file?.path ?? '', 'utf8')).toBe('abcdef');
  expect(uploads.take(done.value.upload)).toBeUndefined();
});

it('refuses what is bigger than the limit and leaves nothing behind', async () => {
  const uploads = createUploads(folder, createFakeClock(), { file: 10, backup: 20 });
  const refused = await uploads.receive(Readable.from([Buffer.alloc(6), Buffer.alloc(6)]), 'a');
  expect(refused).toMatchObject({ ok: false, error: { code: 'file-too-big' } });
  expect(filesIn()).toEqual([]);
  // a backup has a limit of its own
  expect(await uploads.receive(Readable.from([Buffer.alloc(6), Buffer.alloc(6)]), 'a', 'backup')).toMatchObject({ ok: true });
});

it('leaves nothing behind when the sender breaks off', async () => {
  const uploads = createUploads(folder, createFakeClock());
  const broken = new Readable({ read() {} });
  const receiving = uploads.receive(broken, 'a');
  broken.push('half');
  broken.destroy(new Error('the window was closed'));
  expect((await receiving).ok).toBe(false);
  expect(filesIn()).toEqual([]);
});

it('leaves nothing behind when the sender is gone before the file is open', async () => {
  const uploads = createUploads(folder, createFakeClock());
  for (let count = 0; count < 50; count += 1) {
    const gone = new Readable({ read() {} });
    gone.destroy(new Error('the window was closed'));
    expect((await uploads.receive(gone, 'a')).ok).toBe(false);
  }
  expect(filesIn()).toEqual([]);
});

it('forgets a file that nobody asked for within ten minutes', async () => {
  const clock = createFakeClock();
  const uploads = createUploads(folder, clock);
  const done = await uploads.receive(Readable.from(['abc']), 'a');
  await clock.advance(10 * 60_000);
  expect(done.ok && uploads.take(done.value.upload)).toBeUndefined();
  expect(filesIn()).toEqual([]);
});

it('keeps a bounded number of files', async () => {
  const uploads = createUploads(folder, createFakeClock());
  for (let count = 0; count < 20; count += 1) await uploads.receive(Readable.from(['abc']), 'a');
  expect(filesIn().length).toBeLessThanOrEqual(9);
});

it('clears what is its own at the start, and nothing else: the folder may be anybody\u2019s', () => {
  const theirs = ['uploads/photo.jpg', 'exports.part/letter.txt', `${WORK_FOLDER}/mine.txt`, `${WORK_FOLDER}/upload-.txt`];
  for (const name of theirs) {
    mkdirSync(join(folder, name, '..'), { recursive: true });
    writeFileSync(join(folder, name), 'x');
  }
  const left = workPath(folder, 'upload', 'a'.repeat(32));
  writeFileSync(left, 'x');
  createUploads(folder, createFakeClock());
  tidyDataFolder(folder);
  expect(existsSync(left)).toBe(false);
  for (const name of theirs) expect(existsSync(join(folder, name))).toBe(true);
});

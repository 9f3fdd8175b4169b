/** What a folder as office says when something is wrong. */
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { problemOfFolder } from '../../../main/office/folder/files.ts';
import { openFolderOffice } from '../../../main/office/folder/folder-office.ts';
import { initFolderOffice, OFFICE_FILE } from '../../../main/office/folder/marker.ts';
import { applianceItem, boiler, signedVisit, visitItem } from '../../helpers/visits/office-items.ts';
import { wallMs, value, codeOf, hashes, newFolder, openFolder, removeFolders } from './office-parts.ts';

removeFolders();

describe('a folder that is not as it should be', () => {
  it('says that there is no office, that the share is gone, or that the office is newer', async () => {
    const folder = newFolder();
    const office = openFolderOffice(folder, { wallMs });
    expect(codeOf(await office.about())).toBe('office-none');
    expect(codeOf(await openFolderOffice(join(folder, 'gone'), { wallMs }).about())).toBe('office-unreachable');
    writeFileSync(join(folder, OFFICE_FILE), '{"format":"flueside-office","version":99,"id":"x","name":"y"}');
    expect(codeOf(await office.about())).toBe('office-newer');
    expect(codeOf(await office.put([applianceItem('a-1', boiler())]))).toBe('office-newer');
    expect(codeOf(await initFolderOffice(folder, 'Workshop'))).toBe('office-newer');
    writeFileSync(join(folder, OFFICE_FILE), 'not ours');
    expect(codeOf(await office.about())).toBe('office-none');
  });

  it('leaves out what is not ours or was changed, names it, and sets it aside when it is checked', async () => {
    const folder = newFolder();
    value(await initFolderOffice(folder, 'Workshop'));
    const office = openFolderOffice(folder, { wallMs });
    value(
      await office.put([
        visitItem(signedVisit('v-1', { applianceId: 'a-1' })),
        visitItem(signedVisit('v-2', { n: 2, applianceId: 'a-1' })),
      ]),
    );
    const place = join(folder, 'appliances', 'a-1');
    const [changed = '', left = ''] = readdirSync(place).sort();
    const before = readFileSync(join(place, changed), 'utf8');
    writeFileSync(join(place, changed), before.replace('note 1', 'note 7'));
    writeFileSync(join(place, 'holiday.jpg'), 'beach');
    const { items, wrong } = value(await office.ofAppliance('a-1', 9));
    expect(items.map(({ id }) => id)).toEqual(['v-2']);
    expect(wrong.map(({ why }) => why).sort()).toEqual(['foreign', 'hash']);
    expect(value(await office.next({ isKnown: () => false })).items).toHaveLength(1);
    const checked = value(await office.check());
    expect(checked).toMatchObject({ items: 1 });
    expect(checked.wrong.map(({ why }) => why).sort()).toEqual(['foreign', 'hash']);
    expect(readdirSync(place)).toEqual([left]);
    expect(readdirSync(join(folder, 'set-aside'))).toHaveLength(2);
    expect(value(await office.check()).wrong).toEqual([]);
    // whoever has it sends it again
    expect(value(await office.put([visitItem(signedVisit('v-1', { applianceId: 'a-1' }))]))).toEqual({ added: 1, same: 0 });
  });

  it('goes on beside files where only folders belong, and a folder named like an item', async () => {
    const folder = newFolder();
    value(await initFolderOffice(folder, 'Workshop'));
    const office = openFolderOffice(folder, { wallMs });
    const item = visitItem(signedVisit('v-1', { applianceId: 'a-1' }));
    const card = visitItem(signedVisit('v-2', { n: 2 }));
    value(await office.put([item, card]));
    // what a system, and what a person, leaves in a shared folder
    for (const name of ['.DS_Store', 'notes.txt']) for (const top of ['appliances', 'other']) writeFileSync(join(folder, top, name), 'x');
    mkdirSync(join(folder, 'appliances', 'a-1', `visit.v-9.${'0'.repeat(32)}.json`));
    const page = value(await office.next({ isKnown: () => false }));
    expect(hashes(page.items)).toEqual(hashes([item, card]));
    const wrong = ['appliances/a-1/visit.v-9.' + '0'.repeat(32) + '.json', 'appliances/notes.txt', 'other/notes.txt'];
    expect(page.wrong.map(({ name }) => name).sort()).toEqual(wrong);
    expect(value(await office.count()).items).toMatchObject({ visit: 3 });
    expect(value(await office.search({ words: '', limit: 9 }))).toEqual([]);
    const checked = value(await office.check());
    expect(checked.wrong.map(({ name, why, isSetAside }) => `${name} ${why} ${String(isSetAside)}`).sort()).toEqual(
      wrong.map((name) => `${name} foreign true`),
    );
    expect(readdirSync(join(folder, 'appliances')).sort()).toEqual(['.DS_Store', 'a-1']);
  });

  it('brings what lies behind more than one answer of items that it cannot use', async () => {
    const folder = newFolder();
    value(await initFolderOffice(folder, 'Workshop'));
    const office = openFolderOffice(folder, { wallMs });
    const items = Array.from({ length: 450 }, (_unused, n) =>
      visitItem(signedVisit(`v-${String(n).padStart(3, '0')}`, { n: n + 1, applianceId: 'a-1' })),
    );
    value(await office.put(items));
    const place = join(folder, 'appliances', 'a-1');
    // of a newer program: left as they are
    for (const name of readdirSync(place).sort().slice(0, 420)) writeFileSync(join(place, name), 'of a newer program');
    const seen = new Set<string>();
    let pages = 0;
    for (let cursor: string | undefined; pages < 9;) {
      const page = value(await office.next({ cursor, isKnown: ({ hash }) => [...seen].some((one) => one.startsWith(hash)) }));
      for (const { hash } of page.items) seen.add(hash);
      pages += 1;
      if (!page.hasMore) break;
      ({ cursor } = page);
    }
    expect([seen.size, pages]).toEqual([30, 3]);
    // another session begins anew, wherever the one before it ended
    const again = openFolderOffice(folder, { wallMs });
    const { cursor } = value(await office.next({ isKnown: () => false }));
    expect(value(await again.next({ cursor, isKnown: () => false })).wrong).toHaveLength(200);
  });

  it('says a visit that no longer gives the hash it was signed with, under whatever name', async () => {
    const folder = newFolder();
    value(await initFolderOffice(folder, 'Workshop'));
    const office = openFolderOffice(folder, { wallMs });
    const visit = signedVisit('v-1', { applianceId: 'a-1' });
    value(await office.put([visitItem({ ...visit, notes: [{ wallMs: visit.startedWallMs, text: 'rewritten' }] })]));
    expect(value(await office.next({ isKnown: () => false }))).toMatchObject({ items: [], wrong: [{ why: 'hash' }] });
    expect(value(await office.check())).toMatchObject({ items: 0, wrong: [{ why: 'hash', isSetAside: true }] });
  });

  it('is not started over a file of the same name: that file is moved aside', async () => {
    const folder = newFolder();
    writeFileSync(join(folder, OFFICE_FILE), 'somebody’s own');
    expect(value(await initFolderOffice(folder, 'Workshop')).isNew).toBe(true);
    const [moved = ''] = readdirSync(join(folder, 'set-aside'));
    expect(readFileSync(join(folder, 'set-aside', moved), 'utf8')).toBe('somebody’s own');
  });

  it('writes nothing where the share was, and calls nothing sent that went elsewhere', async () => {
    const folder = newFolder();
    value(await initFolderOffice(folder, 'Workshop'));
    const item = visitItem(signedVisit('v-1', { applianceId: 'a-1' }));
    // the share goes after the office was seen: its folder is gone, or is an empty one of this computer
    const seen = openFolderOffice(folder, { wallMs });
    value(await seen.about());
    rmSync(folder, { recursive: true });
    expect(codeOf(await seen.put([item]))).toBe('office-unreachable');
    expect(existsSync(folder)).toBe(false);
    mkdirSync(folder);
    value(await initFolderOffice(folder, 'Workshop'));
    value(await seen.about());
    rmSync(join(folder, OFFICE_FILE));
    expect(codeOf(await seen.put([item]))).toBe('office-none');
  });

  it('an id that is too long for a file name does not hold up the others', async () => {
    const office = await openFolder();
    expect(codeOf(await office.put([applianceItem('Ä'.repeat(40), boiler())]))).toBe('office-item-wrong');
  });

  it('puts a whole item in the place of half of one', async () => {
    const folder = newFolder();
    value(await initFolderOffice(folder, 'Workshop'));
    const office = openFolderOffice(folder, { wallMs });
    const item = visitItem(signedVisit('v-1', { applianceId: 'a-1' }));
    value(await office.put([item]));
    const place = join(folder, 'appliances', 'a-1');
    const [name = ''] = readdirSync(place);
    writeFileSync(join(place, name), item.text.slice(0, 200));
    expect(value(await office.put([item]))).toEqual({ added: 1, same: 0 });
    expect(readFileSync(join(place, name), 'utf8')).toBe(item.text);
  });

  // root may write anywhere
  it.skipIf(process.getuid?.() === 0 || process.platform === 'win32')('says that it cannot be written', async () => {
    const folder = newFolder();
    value(await initFolderOffice(folder, 'Workshop'));
    chmodSync(folder, 0o500);
    expect(codeOf(await openFolderOffice(folder, { wallMs }).put([applianceItem('a-1', boiler())]))).toBe('office-read-only');
    chmodSync(folder, 0o700);
  });
  it.each([
    ['ENOSPC', 'office-full'],
    ['EDQUOT', 'office-full'],
    ['EROFS', 'office-read-only'],
    ['EACCES', 'office-read-only'],
    ['ENOTDIR', 'office-unreachable'],
    ['EIO', 'office-unreachable'],
    ['ESTALE', 'office-unreachable'],
  ])('%s is %s', (code, said) => expect(problemOfFolder(Object.assign(new Error('no'), { code }), 'F').code).toBe(said));

  it('says when its clock is a day off', async () => {
    const folder = newFolder();
    value(await initFolderOffice(folder, 'Workshop'));
    const dayBehind = Date.now() - 86_400_000;
    const { clockAheadMs = 0 } = value(await openFolderOffice(folder, { wallMs: () => dayBehind }).about());
    expect(Math.round(clockAheadMs / 3_600_000)).toBe(24);
  });

  it('takes ids that are no file names', async () => {
    const folder = newFolder();
    value(await initFolderOffice(folder, 'Workshop'));
    const office = openFolderOffice(folder, { wallMs });
    const id = '../Con: <ÄB> %2e';
    value(await office.put([applianceItem(id, boiler()), applianceItem(id.toLowerCase(), boiler())]));
    expect(value(await office.ofAppliance(id, 1)).items.map((one) => one.id)).toEqual([id]);
    expect(readdirSync(folder).sort()).toEqual(['appliances', OFFICE_FILE].sort());
    mkdirSync(join(folder, 'appliances', 'empty'));
    expect(value(await office.search({ words: 'cellar', limit: 9 }))).toHaveLength(2);
  });
});

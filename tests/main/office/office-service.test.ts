/** The office beside the work: two laptops and a shared folder, with a clock of the test's own. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Office, Wish } from '../../../main/office/office.ts';
import { pull } from '../../../main/office/sync.ts';
import { keychainSecrets } from '../../../main/office/secrets.ts';
import type { StoreTables } from '../../../main/store/tables.ts';
import type { Settings } from '../../../shared/ipc/settings.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { boiler, MAY_3, signedVisit } from '../../helpers/visits/office-items.ts';
import { caller, value, root, laptop, folderChoice, inAFreshFolder } from './two-laptops.ts';

inAFreshFolder();

describe('without an office', () => {
  it('nothing leaves this computer: no timer, no connection, no file, whatever is signed', async () => {
    const one = await laptop('a', {});
    value(one.tables.visits.adopt(signedVisit('v-1', { applianceId: 'a-1' }), MAY_3));
    one.service.recordsChanged();
    one.service.applianceChosen('a-1');
    one.service.settingsChanged();
    for (const answer of [
      await one.service.handlers['office.sync']({}, caller),
      await one.service.handlers['office.fetch']({ applianceId: 'a-1' }, caller),
      await one.service.handlers['office.search']({ words: '', limit: 5 }, caller),
      await one.service.handlers['office.test']({}, caller),
    ])
      expect(answer).toEqual(err(problem('office-off')));
    expect(one.planned()).toBe(0);
    expect(value(await one.service.handlers['office.state']({}, caller))).toMatchObject({ kind: 'none', phase: 'off', queued: 0 });
    expect(readdirSync(join(root, 'office'))).toEqual(['flueside-office.json']);
  });
});

describe('an office that is chosen while the app runs', () => {
  it('is opened at once, is left alone by other settings, and is closed when it is taken away', async () => {
    const one = await laptop('a', {});
    const set = (change: Partial<Settings>): void => {
      one.settings = { ...one.settings, ...change };
      one.service.settingsChanged();
    };
    const phase = async (): Promise<string> => value(await one.service.handlers['office.state']({}, caller)).phase;
    set({ office: { ...one.settings.office, ...folderChoice() } });
    await expect.poll(phase).toBe('ready');
    set({ theme: one.settings.theme === 'dark' ? 'light' : 'dark' });
    expect(await phase()).toBe('ready');
    expect(one.opens).toBe(1);
    set({ office: { ...one.settings.office, kind: 'none' } });
    expect(await phase()).toBe('off');
  });
});

describe('two laptops and a shared folder', () => {
  it('what one signs is at the other when the appliance is chosen, and no sooner', async () => {
    const [a, b] = [await laptop('a', folderChoice()), await laptop('b', folderChoice())];
    value(a.tables.appliances.save('a-1', boiler({ owner: 'Ann', figuresCardId: 'card-1' }), MAY_3));
    value(a.tables.visits.adopt(signedVisit('v-1', { applianceId: 'a-1' }), MAY_3));
    value(a.tables.visits.create({ id: 'open', kind: 'service', startedWallMs: MAY_3, zoneMinutes: 0, unitPreset: 'us', adjusters: [] }));
    await a.tick();
    expect(value(await a.service.handlers['office.state']({}, caller))).toMatchObject({ phase: 'ready', queued: 0 });
    await b.tick();
    expect(value(b.tables.visits.list()).total).toBe(0);
    expect(value(await b.service.handlers['office.search']({ words: 'ann', limit: 5 }, caller)).found).toMatchObject([
      { applianceId: 'a-1', isHere: false, visits: 1 },
    ]);
    const got = value(await b.service.handlers['office.fetch']({ applianceId: 'a-1' }, caller));
    expect(got).toMatchObject({ visits: 2, isHere: true, lastVisitWallMs: signedVisit('v-1').startedWallMs });
    expect(value(b.tables.visits.get('v-1')).visit.signature).toEqual(signedVisit('v-1', { applianceId: 'a-1' }).signature);
    expect(value(b.tables.appliances.get('a-1')).appliance.owner).toBe('Ann');
    // what is not signed goes nowhere
    expect(b.tables.visits.get('open').ok).toBe(false);
    expect(b.changed).toContain('came');
    // what came goes not back as something new
    await b.tick();
    expect(readdirSync(join(root, 'office', 'appliances', 'a-1'))).toHaveLength(2);
    // a second time brings nothing
    expect(value(await b.service.handlers['office.fetch']({ applianceId: 'a-1' }, caller)).visits).toBe(0);
  });

  it('says a field that both changed, and takes the answer of a person to both', async () => {
    const [a, b] = [await laptop('a', folderChoice()), await laptop('b', { ...folderChoice(), takesAll: true })];
    a.settings = { ...a.settings, office: { ...a.settings.office, takesAll: true } };
    value(a.tables.appliances.save('a-1', boiler({ owner: 'Ann' }), 1));
    await a.tick();
    await b.tick();
    value(a.tables.appliances.save('a-1', boiler({ owner: 'Bea' }), 10, { by: 'a' }));
    value(b.tables.appliances.save('a-1', boiler({ owner: 'Cem' }), 20, { by: 'b' }));
    for (const one of [a, b, a, b]) await one.tick();
    const conflicts = value(await b.service.handlers['office.conflicts']({}, caller)).conflicts;
    expect(conflicts).toMatchObject([
      { kind: 'appliance', name: 'Boiler in the cellar', field: 'owner', here: 'Cem', there: 'Bea', taken: 'here', canTake: true },
    ]);
    value(await b.service.handlers['office.settle']({ key: conflicts[0]?.key ?? '', take: 'there' }, caller));
    for (const one of [b, a]) await one.tick();
    expect([a, b].map(({ tables }) => value(tables.appliances.get('a-1')).appliance.owner)).toEqual(['Bea', 'Bea']);
    expect(value(await b.service.handlers['office.conflicts']({}, caller)).conflicts).toEqual([]);
  });

  it('a person who was removed at one is gone at the other, but not from what is signed', async () => {
    const [a, b] = [await laptop('a', { ...folderChoice(), takesAll: true }), await laptop('b', folderChoice())];
    value(b.tables.appliances.save('a-1', boiler({ owner: 'Zebedee Quill', place: 'Elm Lane 8' }), 1));
    value(b.tables.visits.adopt({ ...signedVisit('v-1', { applianceId: 'a-1' }) }, MAY_3));
    await b.tick();
    await a.tick();
    expect(value(a.tables.appliances.get('a-1')).appliance.owner).toBe('Zebedee Quill');
    const { takePersonOut } = await import('../../../main/store/take-person-out.ts');
    value(
      a.tables.office.inOneStep(() =>
        takePersonOut({ ...a.tables, curves: a.tables.documents.curve as never }, 'a-1', { wallMs: 500, by: 'a' }),
      ),
    );
    await a.tick();
    // removals come without being asked for
    await b.tick();
    expect(value(b.tables.appliances.get('a-1')).appliance).toMatchObject({ pseudonymised: true, name: 'Unit a-1' });
    const texts = readdirSync(join(root, 'office', 'appliances', 'a-1')).map((name) =>
      readFileSync(join(root, 'office', 'appliances', 'a-1', name), 'utf8'),
    );
    expect(texts.filter((text) => /Zebedee|Elm/.test(text))).toEqual([]);
    expect(value(b.tables.visits.get('v-1')).altered).toBeUndefined();
    expect(texts.some((text) => text.includes('"kind":"visit"'))).toBe(true);
  });

  it('what two laptops had typed of a person goes with the removal, decided or not', async () => {
    const [a, b] = [await laptop('a', { ...folderChoice(), takesAll: true }), await laptop('b', { ...folderChoice(), takesAll: true })];
    value(a.tables.appliances.save('a-1', boiler({ owner: 'Ann' }), 1));
    for (const one of [a, b]) await one.tick();
    value(a.tables.appliances.save('a-1', boiler({ owner: 'Yolanda Able' }), 10, { by: 'a' }));
    value(b.tables.appliances.save('a-1', boiler({ owner: 'Xaver Baker' }), 20, { by: 'b' }));
    for (const one of [a, b, a]) await one.tick();
    expect(a.tables.office.conflicts().concat(b.tables.office.conflicts())).toHaveLength(2);
    const { takePersonOut } = await import('../../../main/store/take-person-out.ts');
    value(
      a.tables.office.inOneStep(() =>
        takePersonOut({ ...a.tables, curves: a.tables.documents.curve as never }, 'a-1', { wallMs: 500, by: 'a' }),
      ),
    );
    for (const one of [a, b]) await one.tick();
    expect(a.tables.office.conflicts().concat(b.tables.office.conflicts())).toEqual([]);
  });

  it('after an update of the program everything is looked through once more', async () => {
    const a = await laptop('a', { ...folderChoice(), takesAll: true });
    const wishes: (string | undefined)[] = [];
    const page = { items: [], wrong: [], cursor: '900', hasMore: false };
    const office = { next: ({ cursor }: Wish) => (wishes.push(cursor), Promise.resolve(ok(page))) } as unknown as Office;
    const parts = { wallMs: () => 0, changed: () => undefined };
    const store = {
      use: <T>(work: (tables: StoreTables) => Result<T, Problem>) => Promise.resolve(work(a.tables)),
      erase: undefined as never,
    };
    // as the program before this one left it: behind items of a newer one, which it could not read
    a.tables.office.setMark('cursor', '500');
    for (let n = 0; n < 2; n++) value(await pull(store, office, parts));
    expect(wishes).toEqual([undefined, '900']);
  });
});

describe('the password', () => {
  it('is read back from the keychain for the same user only, and never lies on the disk as it is', () => {
    const turn = (text: string): string => [...text].reverse().join('');
    const keychain = {
      isAvailable: () => true,
      encrypt: (text: string) => Buffer.from(turn(text)),
      decrypt: (bytes: Uint8Array) => turn(Buffer.from(bytes).toString()),
    };
    const secrets = keychainSecrets(root, keychain);
    expect(secrets.save('ann@office', 'horse battery')).toBe(true);
    expect(secrets.read('ann@office')).toBe('horse battery');
    expect(secrets.read('bob@office')).toBeUndefined();
    for (const name of readdirSync(root).filter((one) => one.endsWith('.json')))
      expect(readFileSync(join(root, name), 'utf8')).not.toContain('horse');
    secrets.forget();
    expect(secrets.read('ann@office')).toBeUndefined();
    expect(keychainSecrets(root, { ...keychain, isAvailable: () => false }).save('ann@office', 'x')).toBe(false);
  });
});

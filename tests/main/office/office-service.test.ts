/** The office beside the work: two laptops and a shared folder, with a clock of the test's own. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { initFolderOffice } from '../../../main/office/folder/marker.ts';
import { createOfficeService, type OfficeService } from '../../../main/office/office-service.ts';
import type { Office, Wish } from '../../../main/office/office.ts';
import { pull, push } from '../../../main/office/sync.ts';
import { openOffice } from '../../../main/office/open-office.ts';
import { keychainSecrets, noSecrets } from '../../../main/office/secrets.ts';
import { openRecords, type OpenRecords } from '../../../main/store/open.ts';
import { storeTables, type StoreTables } from '../../../main/store/tables.ts';
import { OfficeChoice, type OfficeState } from '../../../shared/ipc/office-commands.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { editVisit } from '../../../shared/tuning/visit/visit.ts';
import type { Caller } from '../../../shared/ipc/contract.ts';
import { boiler, MAY_3, signedVisit } from '../../helpers/visits/office-items.ts';

const caller: Caller = { clientId: 'x', role: 'operator' };
const value = <T>(result: Result<T, Problem>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
};

type Laptop = {
  tables: StoreTables;
  service: OfficeService;
  states: OfficeState[];
  settings: Settings;
  tick: () => Promise<void>;
  planned: () => number;
  opens: number;
  changed: string[];
  opened: OpenRecords;
};
let root: string;
const laptops: Laptop[] = [];

async function laptop(name: string, choice: Partial<OfficeChoice>): Promise<Laptop> {
  const opened = value(await openRecords({ folder: join(root, name), wallMs: MAY_3 }));
  const tables = storeTables(opened);
  const timers = new Set<() => void>();
  const one: Laptop = {
    opened,
    tables,
    states: [],
    changed: [],
    opens: 0,
    settings: Settings.parse({ office: OfficeChoice.parse(choice), technician: { name } }),
    planned: () => timers.size,
    /** what is planned happens now, and is over when this returns */
    async tick() {
      const due = [...timers];
      timers.clear();
      due.forEach((run) => run());
      // what is under way is what is asked for
      await one.service.handlers['office.sync']({}, caller);
    },
    service: undefined as never,
  };
  one.service = createOfficeService({
    clock: {
      nowMs: () => 0,
      wallMs: () => Date.now(),
      zoneMinutes: () => 0,
      sleep: () => Promise.resolve(),
      every: () => () => undefined,
      after(_ms, run) {
        timers.add(run);
        return () => timers.delete(run);
      },
    },
    settings: () => one.settings,
    records: { use: (work) => Promise.resolve(work(tables)), erase: (work) => Promise.resolve(work(tables)) },
    publish: (state) => void one.states.push(state),
    recordsChanged: (what) => void one.changed.push(what),
    visitsCame: () => void one.changed.push('came'),
    secrets: noSecrets,
    open: (asked, parts) => {
      one.opens += 1;
      return openOffice(asked, parts);
    },
  });
  laptops.push(one);
  return one;
}
const folderChoice = (): Partial<OfficeChoice> => ({ kind: 'folder', folder: join(root, 'office') });

beforeEach(async () => {
  root = mkdtempSync(join(tmpdir(), 'flueside-office-service-'));
  value(await initFolderOffice(join(root, 'office'), 'Workshop'));
});
afterEach(async () => {
  for (const { service, opened } of laptops.splice(0)) {
    await service.close();
    opened.close();
  }
  rmSync(root, { recursive: true, force: true });
});

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

  it('corrections of both come together', async () => {
    const [a, b] = [await laptop('a', { ...folderChoice(), takesAll: true }), await laptop('b', { ...folderChoice(), takesAll: true })];
    value(a.tables.visits.adopt(signedVisit('v-1', { applianceId: 'a-1' }), MAY_3));
    await a.tick();
    await b.tick();
    const correct = ({ tables }: Laptop, path: string, after: string | number, wallMs: number): unknown =>
      value(tables.visits.change('v-1', wallMs, (visit) => editVisit(visit, { wallMs, by: 'x', path: [path], after, reason: 'mistyped' })));
    correct(a, 'annualFuelGal', 300, 10);
    correct(b, 'fuelId', 'b5', 5);
    for (const one of [a, b, a, b]) await one.tick();
    const edits = [a, b].map(({ tables }) => value(tables.visits.get('v-1')).visit.edits.map(({ path }) => path[0]));
    expect(edits).toEqual([
      ['fuelId', 'annualFuelGal'],
      ['fuelId', 'annualFuelGal'],
    ]);
  });

  it('an instrument goes on from the last state, and two that were changed apart are put before a person', async () => {
    const [a, b] = [await laptop('a', { ...folderChoice(), takesAll: true }), await laptop('b', { ...folderChoice(), takesAll: true })];
    const save = ({ tables }: Laptop, notes: string): unknown =>
      value(tables.documents.instrument.save('i-1', { format: 1, name: 'Analyser 4', cells: [], notes }, { wallMs: 1 }));
    const notes = (): unknown[] =>
      [a, b].map(({ tables }) => (value(tables.documents.instrument.get('i-1')).body as { notes: string }).notes);
    const round = async (): Promise<void> => {
      for (const one of [a, b, a, b]) await one.tick();
    };
    save(a, 'new');
    await round();
    save(b, 'filter changed');
    await round();
    expect(notes()).toEqual(['filter changed', 'filter changed']);
    save(a, 'cell changed');
    save(b, 'hose changed');
    await round();
    expect(notes()).toEqual(['cell changed', 'hose changed']);
    const [conflict] = value(await a.service.handlers['office.conflicts']({}, caller)).conflicts;
    expect(conflict).toMatchObject({ kind: 'instrument', canTake: true });
    value(await a.service.handlers['office.settle']({ key: conflict?.key ?? '', take: 'there' }, caller));
    await round();
    expect(notes()).toEqual(['hose changed', 'hose changed']);
  });

  it('an instrument that was sent without an answer, and changed again, is no question to anybody', async () => {
    const [a, b] = [await laptop('a', folderChoice()), await laptop('b', { ...folderChoice(), takesAll: true })];
    const plain = value(await openOffice(a.settings.office, { wallMs: () => 0, password: () => undefined }));
    const store = {
      use: <T>(work: (tables: StoreTables) => Result<T, Problem>) => Promise.resolve(work(a.tables)),
      erase: undefined as never,
    };
    const save = (notes: string): void =>
      void value(a.tables.documents.instrument.save('i-1', { format: 1, name: 'Analyser', cells: [], notes }, { wallMs: 1 }));
    const send = (office: Office) => push(store, office, () => 0);
    const deaf: Office = { ...plain, put: async (items) => (await plain.put(items), err(problem('office-unreachable'))) };
    save('first');
    value(await send(plain));
    save('second');
    // it arrives, and nobody says so; the same again gives the same item
    for (let n = 0; n < 2; n++) expect((await send(deaf)).ok).toBe(false);
    expect(readdirSync(join(root, 'office', 'other', 'instrument'))).toHaveLength(2);
    await b.tick();
    save('third');
    for (const one of [a, b, a]) await one.tick();
    expect(value(b.tables.documents.instrument.get('i-1')).body).toMatchObject({ notes: 'third' });
    expect(a.tables.office.conflicts().concat(b.tables.office.conflicts())).toEqual([]);
  });

  it('the office away is said, and what waits is sent when it is back', async () => {
    const a = await laptop('a', { kind: 'folder', folder: join(root, 'later') });
    value(a.tables.visits.adopt(signedVisit('v-1', { applianceId: 'a-1' }), MAY_3));
    await a.tick();
    expect(a.states.at(-1)).toMatchObject({ phase: 'waiting', queued: 1, problem: { code: 'office-unreachable' } });
    value(await initFolderOffice(join(root, 'later'), 'Workshop'));
    await a.tick();
    expect(a.states.at(-1)).toMatchObject({ phase: 'ready', queued: 0 });
  });

  it('another office at the same place gets everything anew, and what a person has to decide stays', async () => {
    const a = await laptop('a', folderChoice());
    a.tables.office.addConflict({ key: 'appliance|a-1|owner', kind: 'appliance', id: 'a-1', foundMs: 1, hash: undefined, body: '{}' });
    value(a.tables.visits.adopt(signedVisit('v-1', { applianceId: 'a-1' }), MAY_3));
    await a.tick();
    rmSync(join(root, 'office'), { recursive: true });
    value(await initFolderOffice(join(root, 'office'), 'Workshop'));
    await a.tick();
    expect(existsSync(join(root, 'office', 'appliances', 'a-1'))).toBe(true);
    expect(a.tables.office.conflicts()).toHaveLength(1);
  });

  it('a signed visit whose hash does not hold is refused', async () => {
    const [a, b] = [await laptop('a', folderChoice()), await laptop('b', { ...folderChoice(), takesAll: true })];
    const visit = signedVisit('v-1', { applianceId: 'a-1' });
    value(a.tables.visits.adopt(visit, MAY_3));
    await a.tick();
    const place = join(root, 'office', 'appliances', 'a-1');
    const [name = ''] = readdirSync(place);
    const { hashOf } = await import('../../../main/office/office.ts');
    const text = readFileSync(join(place, name), 'utf8').replace('note 1', 'note 7');
    // forged with a fitting name: the visit's own hash still tells
    rmSync(join(place, name));
    writeFileSync(join(place, `visit.v-1.${hashOf(text).slice(0, 32)}.json`), text);
    await b.tick();
    expect(value(b.tables.visits.list()).total).toBe(0);
    expect(b.states.at(-1)).toMatchObject({ wrong: 1 });
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

/** What is taken out or deleted is gone: from what the window is told, from the search, and from every byte of the data folder. */
import { leftOff } from '../../helpers/visits/left-off.ts';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Caller, Input, Output } from '../../../shared/ipc/contract.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Result } from '../../../shared/result.ts';
import { createRecords, type Records, type StoreHandlers } from '../../../main/store/records.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { filesWith } from '../../helpers/files-with.ts';

const caller: Caller = { clientId: 'window', role: 'operator' };
let folder: string;
let records: Records;
let ids = 0;

const open = (): Records =>
  createRecords({
    clock: createFakeClock(),
    dataFolder: folder,
    appVersion: '1',
    settings: () => Settings.parse({ technician: { name: 'Q. Technician' } }),
    newId: () => `id-${String((ids += 1)).padStart(6, '0')}`,
    publish: () => undefined,
    hashRun: () => Promise.resolve('abc'),
    takeUpload: () => undefined,
    offerDownload: ({ fileName }) => fileName,
  });
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-privacy-'));
  records = open();
});
afterEach(() => {
  records.close();
  rmSync(folder, { recursive: true, force: true });
});

async function call<K extends keyof StoreHandlers>(name: K, input: Input<K>): Promise<Output<K>> {
  const result = await (records.handlers[name] as (input: Input<K>, caller: Caller) => Promise<Result<Output<K>, Problem>>)(input, caller);
  if (!result.ok) throw new Error(result.error.code);
  return result.value;
}
const page = { search: '', limit: 500, offset: 0 };

const person = {
  name: 'House of Zebedee Quillfeather',
  owner: 'Zebedee Quillfeather',
  place: '7 Marzipan Lane, Umbrellaford',
  contact: 'zq@umbrellaford.test',
  notes: 'key with Quillfeather junior',
};
const WORDS = ['zebedee', 'quillfeather', 'marzipan', 'umbrellaford'];

/** Visits of several appliances, edited over and over: rows grow, move between pages and leave pieces behind. */
async function busyYears(applianceId: string, others: readonly string[]): Promise<string[]> {
  const mine: string[] = [];
  for (let n = 0; n < 40; n++) {
    const belongs = n % 4 === 0;
    const { visit } = await call('visit.create', {
      kind: 'service',
      applianceId: belongs ? applianceId : (others[n % others.length] ?? ''),
    });
    if (belongs) mine.push(visit.id);
    const who = belongs ? `${person.owner} of 7 Marzipan Lane said the flame smells. ` : 'Nothing to say here. ';
    for (const times of [1, 9, 40, 3])
      await call('visit.edit', {
        id: visit.id,
        changes: [{ path: ['notes', 0], after: { wallMs: n, text: who.repeat((times * (1 + (n % 3))) % 30) + who } }],
      });
    await call('visit.edit', { id: visit.id, changes: [{ path: ['airTypedC'], after: 18 + n / 10 }] });
  }
  return mine;
}

async function unitWithYears(): Promise<{ id: string; visits: string[] }> {
  const { id } = await call('appliance.save', {
    appliance: { format: 1, kind: 'furnace', maker: 'Invented Works', serial: 'SN-77', nextDue: '2027-01-31', ...person, consent: true },
  });
  const others: string[] = [];
  for (const name of ['Boiler north', 'Boiler south', 'Furnace'])
    others.push((await call('appliance.save', { appliance: { format: 1, name, kind: 'furnace' } })).id);
  return { id, visits: await busyYears(id, others) };
}

describe('a person who is taken out', () => {
  it('is in no byte of the data folder, in no list and in no search; the machine and its figures stay', async () => {
    const { id, visits } = await unitWithYears();
    expect((await call('visit.list', { ...page, search: 'quillfeather' })).total).toBe(visits.length);
    expect(filesWith(folder, WORDS)).not.toEqual([]);

    expect(await call('appliance.remove', { id, how: 'pseudonymise' })).toEqual({ stillIn: [] });

    expect(filesWith(folder, WORDS)).toEqual([]);
    for (const search of WORDS) {
      expect((await call('visit.list', { ...page, search })).total).toBe(0);
      expect((await call('appliance.list', { ...page, search })).total).toBe(0);
    }
    expect(JSON.stringify(await call('visit.list', page)).toLowerCase()).not.toContain('quillfeather');
    const { stored } = await call('appliance.get', { id });
    expect(stored.appliance).toEqual({
      format: 1,
      name: `Unit ${id.slice(-6)}`,
      kind: 'furnace',
      maker: 'Invented Works',
      serial: 'SN-77',
      nextDue: '2027-01-31',
      pseudonymised: true,
    });
    const { visit } = await call('visit.get', { id: visits[0] ?? '' });
    expect(visit.airTypedC).toBe(18);
    expect(visit.notes[0]?.text).toContain('said the flame smells');
    expect((await call('visit.list', { ...page, search: stored.appliance.name })).total).toBe(visits.length);
    records.close();
    expect(filesWith(folder, WORDS)).toEqual([]);
    records = open();
  });

  it('is in no change of the appliance either, nor who was there before; that it was done stays, by whom and when', async () => {
    const machine = { format: 1 as const, kind: 'furnace' as const, maker: 'Invented Works' };
    const { id } = await call('appliance.save', { appliance: { ...machine, ...person, consent: true } });
    const { visit } = await call('visit.create', { kind: 'service', applianceId: id });
    // an owner from before, and a place that was spelt wrongly at first, stand in the text of a visit
    await call('visit.edit', {
      id: visit.id,
      changes: [{ path: ['notes', 0], after: { wallMs: 1, text: 'Zebedee Quillfeather of 7 Marzipan Lane moved out' } }],
    });
    await call('appliance.save', {
      id,
      appliance: {
        ...machine,
        name: 'House of Ottoline Fernsby',
        owner: 'Ottoline Fernsby',
        place: 'Xylograph Yard',
        maker: 'Works, told by Ottoline Fernsby',
        consent: false,
      },
    });
    await call('appliance.save', { id, appliance: { ...machine, name: 'Furnace' } });
    const all = [...WORDS, 'ottoline', 'fernsby', 'xylograph'];
    expect(new Set(filesWith(folder, [...all]).map((found) => found.split(': ')[1]))).toEqual(new Set(all));
    const { edits: before } = await call('appliance.get', { id });

    expect(await call('appliance.remove', { id, how: 'pseudonymise' })).toEqual({ stillIn: [] });

    expect(filesWith(folder, [...all])).toEqual([]);
    const { stored, edits, visits } = await call('appliance.get', { id });
    expect(JSON.stringify([stored, visits]).toLowerCase()).not.toMatch(new RegExp(all.join('|')));
    expect(stored.appliance).toEqual({ ...machine, name: `Unit ${id.slice(-6)}`, pseudonymised: true });
    expect(edits.map(({ path, wallMs, by }) => ({ path, wallMs, by }))).toEqual([
      ...before.map(({ path, wallMs, by }) => ({ path, wallMs, by })),
      { path: ['pseudonymised'], wallMs: expect.any(Number) as number, by: 'Q. Technician' },
    ]);
    const pseudonym = stored.appliance.name;
    expect(edits.filter((edit) => edit.before !== undefined || edit.after !== undefined)).toMatchObject([
      { path: ['maker'], before: 'Invented Works', after: `Works, told by ${pseudonym}` },
      { path: ['maker'], before: `Works, told by ${pseudonym}`, after: 'Invented Works' },
      { path: ['pseudonymised'], after: true },
    ]);
    expect((await call('visit.get', { id: visit.id })).visit.notes[0]?.text).toBe(`${pseudonym} of ${pseudonym} moved out`);
  });

  it('is taken out again when it was typed in again', async () => {
    const { id } = await call('appliance.save', { appliance: { format: 1, kind: 'furnace', name: 'Furnace' } });
    await call('appliance.remove', { id, how: 'pseudonymise' });
    const { stored } = await call('appliance.get', { id });
    await call('appliance.save', { id, appliance: { ...stored.appliance, notes: 'ask Zebedee Quillfeather' } });
    await call('appliance.save', { id, appliance: stored.appliance });
    expect(filesWith(folder, WORDS)).not.toEqual([]);
    await call('appliance.remove', { id, how: 'pseudonymise' });
    expect(filesWith(folder, WORDS)).toEqual([]);
    expect((await call('appliance.get', { id })).edits.map(({ path }) => path[0])).toEqual([
      'pseudonymised',
      'notes',
      'notes',
      'pseudonymised',
    ]);
  });

  it('stays in what was signed, and it is said in which visits', async () => {
    const { id } = await call('appliance.save', { appliance: { format: 1, kind: 'furnace', ...person } });
    const { visit } = await call('visit.create', { kind: 'service', applianceId: id });
    await call('visit.edit', { id: visit.id, changes: [{ path: ['notes', 0], after: { wallMs: 1, text: 'told Zebedee  quillfeather' } }] });
    const off = { path: ['notLeftRunning'], after: leftOff };
    await call('visit.edit', { id: visit.id, changes: [off] });
    await call('visit.sign', { id: visit.id, name: 'A. Sample' });
    const plain = await call('visit.create', { kind: 'service', applianceId: id });
    // nobody by name: too short to tell who
    await call('visit.edit', { id: plain.visit.id, changes: [{ ...off, after: { ...leftOff, ownerTold: 'me' } }] });
    await call('visit.sign', { id: plain.visit.id, name: 'A. Sample' });
    const before = (await call('visit.get', { id: visit.id })).visit;
    expect(await call('appliance.remove', { id, how: 'pseudonymise' })).toEqual({ stillIn: [visit.number] });
    expect((await call('visit.get', { id: visit.id })).visit).toEqual(before);
    const [listed] = (await call('visit.list', { ...page, search: String(plain.visit.number) })).visits;
    expect(listed?.applianceName).toBe(`Unit ${id.slice(-6)}`);
  });

  it('leaves nothing that was derived from a run: it is made anew from the run when it is looked at', async () => {
    const { id } = await call('appliance.save', { appliance: { format: 1, kind: 'furnace', ...person } });
    await call('visit.create', { kind: 'service', applianceId: id });
    const kept = join(folder, '.flueside-kept');
    const keep = (): void => {
      mkdirSync(kept, { recursive: true });
      for (const name of ['run-1.read', 'run-1.report']) writeFileSync(join(kept, name), `a mark: ${person.owner}`);
    };
    keep();
    await call('appliance.remove', { id, how: 'pseudonymise' });
    expect(filesWith(folder, WORDS)).toEqual([]);
    expect(existsSync(kept)).toBe(false);
    keep();
    const { visits } = await call('visit.list', page);
    await call('visit.remove', { id: visits[0]?.id ?? '' });
    expect(existsSync(kept)).toBe(false);
  });

  it('takes the occupant of an unsigned visit along, and leaves the technician', async () => {
    const { id } = await call('appliance.save', { appliance: { format: 1, kind: 'furnace', ...person } });
    const { visit } = await call('visit.create', { kind: 'service', applianceId: id });
    await call('visit.edit', {
      id: visit.id,
      changes: [
        {
          path: ['people'],
          after: [
            { role: 'technician', name: 'A. Sample' },
            { role: 'occupant', name: 'Ottoline Fernsby' },
          ],
        },
        { path: ['notes', 0], after: { wallMs: 1, text: 'Ottoline Fernsby let me in; her boiler is a Boiler' } },
      ],
    });
    await call('appliance.remove', { id, how: 'pseudonymise' });
    expect(filesWith(folder, ['ottoline', 'fernsby'])).toEqual([]);
    const { visit: now } = await call('visit.get', { id: visit.id });
    expect(now.people).toEqual([{ role: 'technician', name: 'A. Sample' }]);
  });
});

describe('what is deleted', () => {
  it('is in no byte of the data folder: a visit', async () => {
    const { visits } = await unitWithYears();
    const gone = visits[3] ?? '';
    await call('visit.edit', { id: gone, changes: [{ path: ['notes', 1], after: { wallMs: 1, text: 'Xylograph in the cellar' } }] });
    expect(filesWith(folder, ['xylograph'])).not.toEqual([]);
    await call('visit.remove', { id: gone });
    expect(filesWith(folder, ['xylograph', gone])).toEqual([]);
    expect((await call('visit.list', page)).total).toBe(39);
  });

  it('is in no byte of the data folder: an appliance', async () => {
    await unitWithYears();
    const { id } = await call('appliance.save', { appliance: { format: 1, name: 'Xylograph works', kind: 'other' } });
    await call('appliance.remove', { id, how: 'delete' });
    expect(filesWith(folder, ['xylograph', id])).toEqual([]);
  });

  it('is made up for when the program was killed in between', async () => {
    const { id } = await unitWithYears();
    records.close();
    const { openRecords } = await import('../../../main/store/open.ts');
    const opened = await openRecords({ folder, wallMs: 0 });
    if (!opened.ok) throw new Error(opened.error.code);
    opened.value.eraser.begin();
    opened.value.db.run('DELETE FROM visit WHERE appliance_id = ?', id);
    opened.value.db.run('DELETE FROM appliance WHERE id = ?', id);
    // as a kill leaves it: nothing was written anew, the journal was not taken in
    const files = ['records.db', 'records.db-wal'].map((name): [string, Buffer] => [join(folder, name), readFileSync(join(folder, name))]);
    opened.value.db.close();
    for (const [path, bytes] of files) writeFileSync(path, bytes);
    expect(filesWith(folder, WORDS)).not.toEqual([]);
    records = open();
    expect((await call('visit.list', page)).total).toBe(30);
    expect(filesWith(folder, WORDS)).toEqual([]);
    expect(readdirSync(folder)).not.toContain('records.erase-due');
  });

  it('changes the name of an appliance in lists and search at once', async () => {
    const saved = await call('appliance.save', { appliance: { format: 1, name: 'Boiler north', kind: 'furnace' } });
    await call('visit.create', { kind: 'service', applianceId: saved.id });
    await call('appliance.save', { id: saved.id, revision: saved.revision, appliance: { ...saved.appliance, name: 'Boiler east' } });
    expect((await call('visit.list', { ...page, search: 'north' })).total).toBe(0);
    expect((await call('visit.list', { ...page, search: 'east' })).visits[0]?.applianceName).toBe('Boiler east');
  });
});

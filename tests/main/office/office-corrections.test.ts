/** What two laptops changed apart, and the office that goes away or is another. */
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { initFolderOffice } from '../../../main/office/folder/marker.ts';
import type { Office } from '../../../main/office/office.ts';
import { push } from '../../../main/office/sync.ts';
import { openOffice } from '../../../main/office/open-office.ts';
import type { StoreTables } from '../../../main/store/tables.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, type Result } from '../../../shared/result.ts';
import { editVisit } from '../../../shared/tuning/visit/visit.ts';
import { MAY_3, signedVisit } from '../../helpers/visits/office-items.ts';
import { caller, value, type Laptop, root, laptop, folderChoice, inAFreshFolder } from './two-laptops.ts';

inAFreshFolder();

describe('two laptops that changed the same', () => {
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

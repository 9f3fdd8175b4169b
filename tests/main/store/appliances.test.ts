/** The changes of an appliance: kept when it is saved, whoever saves, and told only where they are asked for. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createAppliances, type Appliances } from '../../../main/store/appliances.ts';
import { openRecords, type OpenRecords } from '../../../main/store/open.ts';
import { createVisits } from '../../../main/store/visits.ts';
import { newVisit } from '../../../shared/tuning/visit/visit.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Result } from '../../../shared/result.ts';
import type { Appliance } from '../../../shared/tuning/visit/appliance.ts';

let folder: string;
let opened: OpenRecords;
let appliances: Appliances;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-appliances-'));
  const records = await openRecords({ folder, wallMs: 1 });
  if (!records.ok) throw new Error(records.error.code);
  opened = records.value;
  appliances = createAppliances(opened.db);
});
afterEach(() => {
  opened.close();
  rmSync(folder, { recursive: true, force: true });
});

const good = <T>(result: Result<T, Problem>): T => {
  if (!result.ok) throw new Error(result.error.code);
  return result.value;
};
const boiler: Appliance = { format: 1, name: 'Boiler', kind: 'boiler-water', maker: 'Invented' };
const save = (appliance: Appliance, wallMs: number, by = 'A. Sample') => good(appliances.save('unit-1', appliance, wallMs, { by }));
const edits = () => good(appliances.edits('unit-1'));

describe('the changes of an appliance', () => {
  it('grow with each save that changes something; creating it and saving it as it was are none', () => {
    save(boiler, 1);
    expect(edits()).toEqual([]);
    save({ ...boiler, maker: 'Other', nextDue: '2027-01-31' }, 2);
    save({ ...boiler, maker: 'Other', nextDue: '2027-01-31' }, 3);
    save({ ...boiler, maker: 'Other' }, 4, 'B. Sample');
    const first = { wallMs: 2, by: 'A. Sample' };
    expect(edits()).toEqual([
      { ...first, path: ['maker'], before: 'Invented', after: 'Other' },
      { ...first, path: ['nextDue'], after: '2027-01-31' },
      { wallMs: 4, by: 'B. Sample', path: ['nextDue'], before: '2027-01-31' },
    ]);
    expect(good(appliances.get('unit-1')).revision).toBe(4);
  });

  it('are none where a save is refused', () => {
    save(boiler, 1);
    expect(appliances.save('unit-1', { ...boiler, maker: 'Other' }, 2, { by: 'A. Sample', revision: 7 })).toMatchObject({ ok: false });
    expect(appliances.save('unit-1', { ...boiler, name: '' }, 2, { by: 'A. Sample' })).toMatchObject({ ok: false });
    expect(edits()).toEqual([]);
    expect(appliances.edits('nobody')).toMatchObject({ ok: false, error: { code: 'not-found' } });
  });

  it('begin with an appliance that an earlier version wrote', () => {
    const body = JSON.stringify({ revision: 3, appliance: boiler });
    opened.db.run("INSERT INTO appliance (id, changed_ms, search, body) VALUES ('unit-1', 1, 'boiler', ?)", body);
    expect(edits()).toEqual([]);
    expect(good(appliances.get('unit-1'))).toMatchObject({ revision: 3, appliance: boiler });
    save({ ...boiler, maker: 'Other' }, 2);
    expect(edits()).toHaveLength(1);
  });

  it('stay where one of them, or the appliance itself, cannot be read', () => {
    const odd = { later: 'a change of a newer version' };
    const known = { wallMs: 1, by: 'A. Sample', path: ['maker'], after: 'Invented' };
    const store = (appliance: unknown): void =>
      opened.db.run(
        "INSERT OR REPLACE INTO appliance (id, changed_ms, search, body) VALUES ('unit-1', 1, '', ?)",
        JSON.stringify({ revision: 3, appliance, edits: [odd, known] }),
      );
    const body = (): unknown => JSON.parse(String(opened.db.one('SELECT body FROM appliance')?.['body']));
    store(boiler);
    expect(edits()).toEqual([known]);
    save({ ...boiler, maker: 'Other' }, 2);
    expect(edits()).toHaveLength(2);
    expect(body()).toMatchObject({ edits: [odd, known, { path: ['maker'], before: 'Invented', after: 'Other' }] });
    store('damaged');
    save(boiler, 2);
    expect(body()).toMatchObject({ appliance: boiler, edits: [odd, known] });
  });

  it('are in no list and in no appliance that is read: they name earlier owners', () => {
    save({ ...boiler, owner: 'Zebedee' }, 1);
    const saved = save({ ...boiler, owner: 'Ottoline' }, 2);
    expect(JSON.stringify(edits())).toContain('Zebedee');
    expect(JSON.stringify([saved, appliances.get('unit-1'), appliances.list({})])).not.toContain('Zebedee');
    // nor does the search find who is no longer there
    expect(good(appliances.list({ search: 'zebedee' })).total).toBe(0);
    expect(good(appliances.list({ search: 'ottoline' })).total).toBe(1);
  });
});

it('one body that holds no JSON leaves the list as it is without it, sorted by what is due too', () => {
  save({ ...boiler, nextDue: '2020-01-01' }, 1);
  opened.db.run("INSERT INTO appliance (id, changed_ms, search, body) VALUES ('bad', 2, 'bad', '{half')");
  const { appliances: rows, overdue } = good(appliances.list({ sort: 'due', today: '2026-01-01' }));
  expect([rows.map(({ id }) => id), overdue]).toEqual([['unit-1'], 1]);
});

it('an appliance is listed with the day of its last visit, by the clock at that visit', () => {
  save(boiler, 1);
  expect(good(appliances.get('unit-1')).lastVisitZoneMinutes).toBeUndefined();
  const visits = createVisits(opened.db, () => undefined);
  for (const [number, startedWallMs, zoneMinutes] of [
    [1, 1000, -300],
    [2, 5000, 600],
    [3, 3000, 0],
  ] as const) {
    const visit = newVisit({ id: `v-${number}`, number, kind: 'service', startedWallMs, zoneMinutes, unitPreset: 'us', adjusters: [] });
    good(visits.adopt({ ...visit, applianceId: 'unit-1' }, 1));
  }
  expect(good(appliances.list({})).appliances[0]).toMatchObject({ visits: 3, lastVisitWallMs: 5000, lastVisitZoneMinutes: 600 });
});

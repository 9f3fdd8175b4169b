/** Signed is signed: the store refuses, whoever asks and by whichever way. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Database } from '../../../main/store/database.ts';
import { createVisits, visitHash, type Visits } from '../../../main/store/visits.ts';
import { openRecords } from '../../../main/store/open.ts';
import { ok } from '../../../shared/result.ts';
import { editVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';
import { codeOf, value } from '../../helpers/ports/run-service.ts';
import { signVisit } from '../../../shared/tuning/visit/sign-visit.ts';

let folder: string;
let db: Database;
let visits: Visits;
let close: () => void;
let signed: Visit;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-signed-'));
  const opened = value(await openRecords({ folder, wallMs: 1 }));
  ({ db, close } = opened);
  visits = createVisits(db, () => undefined);
  const parts = { id: 'v', kind: 'service', startedWallMs: 1, zoneMinutes: 0, unitPreset: 'metric', adjusters: [] } as const;
  const { visit } = value(visits.create({ ...parts, adjusters: [] }));
  // nothing was tested here, so it is left off
  const leftOff = { ...visit, endedWallMs: 3, notLeftRunning: { leftOff: true, redTagged: true, ownerTold: 'B. Sample', wallMs: 2 } };
  const edited = value(editVisit(leftOff, { wallMs: 2, by: 'A', path: ['airTypedC'], after: 20 }));
  const result = signVisit(edited, { name: 'A. Sample', wallMs: 3, hash: visitHash(edited) });
  if (!result.ok) throw new Error(result.error.key);
  signed = value(visits.change('v', 3, () => ok(result.value))).visit;
});
afterEach(() => {
  close();
  rmSync(folder, { recursive: true, force: true });
});

describe('a signed visit', () => {
  const correction = (visit: Visit) => editVisit(visit, { wallMs: 9, by: 'A', path: ['airTypedC'], after: 21, reason: 'typed wrongly' });
  it('takes a correction behind the ones that are there', () => {
    const { visit } = value(visits.change('v', 9, correction));
    expect(visit.airTypedC).toBe(20);
    expect(visit.edits).toHaveLength(2);
    expect(value(visits.get('v')).altered).toBeUndefined();
  });
  it.each<[string, (visit: Visit) => Visit]>([
    ['a figure', (visit) => ({ ...visit, airTypedC: 99 })],
    ['its name', (visit) => ({ ...visit, signature: { ...visit.signature!, name: 'B' } })],
    ['its signature taken away', ({ signature: _gone, ...rest }) => rest],
    ['its number', (visit) => ({ ...visit, number: 77 })],
    ['an edit from before it was signed', (visit) => ({ ...visit, edits: [] })],
    ['a photo of another run', (visit) => ({ ...visit, runs: [{ id: 'r', startWallMs: 1, source: 'port' as const }] })],
  ])('is not changed by %s', (_what, change) => {
    expect(codeOf(visits.change('v', 9, (visit) => ok(change(visit))))).toBe('visit-signed');
    expect(value(visits.get('v')).visit).toEqual(signed);
  });
  it('loses no correction either', () => {
    value(visits.change('v', 9, correction));
    expect(codeOf(visits.change('v', 10, (visit) => ok({ ...visit, edits: visit.edits.slice(0, 1) })))).toBe('visit-signed');
  });
  it('is neither removed nor written over by one that is taken in', () => {
    expect(codeOf(visits.remove('v'))).toBe('visit-signed');
    expect(codeOf(visits.adopt({ ...signed, airTypedC: 5 }, 9))).toBe('visit-signed');
    expect(value(visits.get('v')).visit).toEqual(signed);
  });
  it('is told apart when the file was altered behind the back of the store', () => {
    db.run('UPDATE visit SET body = ? WHERE id = ?', JSON.stringify({ ...signed, airTypedC: 99 }), 'v');
    expect(value(visits.get('v')).altered).toBe(true);
  });
});

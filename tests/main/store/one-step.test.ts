/** What belongs together is kept together: a refusal in the middle takes back what was done before it and is told; a bug stays a bug. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openDatabase, type Database } from '../../../main/store/database.ts';
import { inOneStep, inSlices } from '../../../main/store/one-step.ts';
import { problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';

let folder: string;
let db: Database;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-one-step-'));
  db = openDatabase(join(folder, 'records.db'));
  db.exec('CREATE TABLE kept (x)');
});
afterEach(() => {
  db.close();
  rmSync(folder, { recursive: true, force: true });
});
const add = (x: number): void => db.exec(`INSERT INTO kept VALUES (${x})`);
const count = (): unknown => db.one('SELECT count(*) AS n FROM kept')?.['n'];
const refused = problem('changed-elsewhere', 'another window was first');

describe.each([
  ['in one go', (work: Parameters<typeof inOneStep>[1]) => Promise.resolve().then(() => inOneStep(db, work))],
  ['in slices', (work: Parameters<typeof inOneStep>[1]) => inSlices(db, () => Promise.resolve().then(work))],
])('work on the records %s', (_, run) => {
  it('keeps what was done, with its answer', async () => {
    expect(await run(() => (add(1), add(2), ok('done')))).toEqual(ok('done'));
    expect(count()).toBe(2);
  });

  it('takes back what was done before a refusal, and says why', async () => {
    expect(await run(() => (add(1), err(refused)))).toEqual(err(refused));
    expect(count()).toBe(0);
  });

  it('lets a bug fly, and takes back what was done before it', async () => {
    await expect(
      run(() => {
        add(1);
        throw new RangeError('nobody expected this');
      }),
    ).rejects.toThrow('nobody expected this');
    expect(count()).toBe(0);
  });
});

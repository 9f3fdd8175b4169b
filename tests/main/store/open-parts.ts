/** A records file in a folder of its own. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach } from 'vitest';
import type { Database } from '../../../main/store/database.ts';
import { openRecords, RECORDS_FILE } from '../../../main/store/open.ts';

export const wallMs = Date.UTC(2026, 10, 25, 9, 30);
export let folder: string;
export const path = () => join(folder, RECORDS_FILE);
export async function openOrThrow() {
  const opened = await openRecords({ folder, wallMs });
  if (!opened.ok) throw new Error(opened.error.code);
  return opened.value;
}
export function addVisit(db: Database, id: string, number: number) {
  db.run('INSERT INTO visit VALUES (?, ?, NULL, ?, 0, 0, 1, ?, ?, ?)', id, number, 'open', '', '{}', '{}');
}

export function inAFreshFolder(): void {
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'flueside-store-'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));
}

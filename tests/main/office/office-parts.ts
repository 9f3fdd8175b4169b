/** Offices in folders of their own. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { openFolderOffice } from '../../../main/office/folder/folder-office.ts';
import { initFolderOffice } from '../../../main/office/folder/marker.ts';
import type { Office, StoredItem } from '../../../main/office/office.ts';

export const NOW = Date.UTC(2026, 10, 2);
export const wallMs = (): number => NOW;
export const value = <T>(result: { ok: true; value: T } | { ok: false; error: unknown }): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
};
export const codeOf = (result: { ok: boolean; error?: { code: string } }): string | undefined =>
  result.ok ? undefined : result.error?.code;
export const hashes = (items: readonly StoredItem[]): string[] => items.map(({ hash }) => hash).sort();
const folders: string[] = [];
export const newFolder = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-office-'));
  folders.push(folder);
  return folder;
};
export const openFolder = async (): Promise<Office> => {
  const folder = newFolder();
  value(await initFolderOffice(folder, 'Workshop'));
  return openFolderOffice(folder, { wallMs });
};

/** To be called once in a file: its folders are gone when it is over. */
export function removeFolders(): void {
  afterAll(() => {
    for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
  });
}

/** Laptops with an office service each, and a clock of the test’s own. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach } from 'vitest';
import { initFolderOffice } from '../../../main/office/folder/marker.ts';
import { createOfficeService, type OfficeService } from '../../../main/office/office-service.ts';
import { openOffice } from '../../../main/office/open-office.ts';
import { noSecrets } from '../../../main/office/secrets.ts';
import { openRecords, type OpenRecords } from '../../../main/store/open.ts';
import { storeTables, type StoreTables } from '../../../main/store/tables.ts';
import { OfficeChoice, type OfficeState } from '../../../shared/ipc/office-commands.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Result } from '../../../shared/result.ts';
import type { Caller } from '../../../shared/ipc/contract.ts';
import { MAY_3 } from '../../helpers/visits/office-items.ts';

export const caller: Caller = { clientId: 'x', role: 'operator' };
export const value = <T>(result: Result<T, Problem>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
};
export type Laptop = {
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
export let root: string;
const laptops: Laptop[] = [];
export async function laptop(name: string, choice: Partial<OfficeChoice>): Promise<Laptop> {
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
export const folderChoice = (): Partial<OfficeChoice> => ({ kind: 'folder', folder: join(root, 'office') });

export function inAFreshFolder(): void {
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
}

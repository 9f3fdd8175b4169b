/** Another kind, burner or plate entered later changes nothing of what a signed visit says of the machine, nor of what it had to prove. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { gatherRecords } from '../../../main/report/gather-report.ts';
import { createRecords, type Records } from '../../../main/store/records.ts';
import { visitHash } from '../../../main/store/visits.ts';
import type { Caller, Input } from '../../../shared/ipc/contract.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { judgeVisit } from '../../../shared/tuning/advice/safe.ts';
import { withCorrections } from '../../../shared/tuning/visit/visit.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { value } from '../../helpers/ports/run-service.ts';
import { leftOff } from '../../helpers/visits/left-off.ts';

const caller: Caller = { clientId: 'window', role: 'operator' };
let folder: string;
let records: Records;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-machine-'));
  let n = 0;
  records = createRecords({
    clock: createFakeClock(),
    dataFolder: folder,
    appVersion: '1',
    settings: () => Settings.parse({}),
    newId: () => `id-${++n}`,
    publish: () => undefined,
    hashRun: () => Promise.resolve(undefined),
    takeUpload: () => undefined,
    offerDownload: ({ fileName }) => fileName,
  });
});
afterEach(() => {
  records.close();
  rmSync(folder, { recursive: true, force: true });
});

const steam = {
  format: 1 as const,
  name: 'cellar',
  kind: 'boiler-steam' as const,
  owner: 'B. Sample',
  burner: { model: 'First' },
  year: 1998,
  nextDue: '2027-10-01',
};

it('a signed visit keeps the machine as it stood that day, and the owner as known now', async () => {
  const { handlers } = records;
  const boiler = value(await handlers['appliance.save']({ appliance: steam }, caller));
  const { visit } = value(await handlers['visit.create']({ kind: 'service', applianceId: boiler.id }, caller));
  const edit = async (path: string[], after: Input<'visit.edit'>['changes'][number]['after'], reason?: string) =>
    value(await handlers['visit.edit']({ id: visit.id, changes: [{ path, after }], ...(reason !== undefined && { reason }) }, caller));
  await edit(['notLeftRunning'], leftOff);
  const { visit: signed } = value(await handlers['visit.sign']({ id: visit.id, name: 'A. Technician' }, caller));
  expect(signed.applianceSigned).toEqual({ kind: 'boiler-steam', burner: { model: 'First' }, year: 1998, nextDue: '2027-10-01' });
  expect(signed.signature?.hash).toBe(visitHash(signed));

  const later = {
    format: 1 as const,
    name: 'cellar left',
    nextDue: '2030-01-01',
    kind: 'furnace' as const,
    owner: 'C. Sample',
    burner: { model: 'Second' },
  };
  value(await handlers['appliance.save']({ id: boiler.id, revision: boiler.revision, appliance: later }, caller));
  const shown = async () => {
    const stored = value(await handlers['visit.get']({ id: visit.id }, caller));
    const sources = {
      appliance: async (id: string) => value(await handlers['appliance.get']({ id }, caller)).stored.appliance,
      document: () => Promise.resolve(undefined),
      documentsOf: () => Promise.resolve([]),
      documents: () => Promise.resolve([]),
    };
    return gatherRecords(stored.visit, sources, '1');
  };
  const paper = await shown();
  expect(paper.appliance).toEqual({
    format: 1,
    name: 'cellar left',
    owner: 'C. Sample',
    kind: 'boiler-steam',
    burner: { model: 'First' },
    year: 1998,
    nextDue: '2027-10-01',
  });
  expect(paper.signatureHolds).toBe(true);
  // what a steam boiler has to prove is open still, whoever says what it is now
  const open = (kind: 'furnace' | 'boiler-steam') =>
    judgeVisit(paper.visit, { appliance: { kind } }).unsafe.flatMap((one) => (one.key === 'safety-open' ? one.tests : []));
  expect(open('furnace')).toEqual(open('boiler-steam'));
  expect(open('furnace')).toContain('low-water');

  // said on purpose to have been another one: that one as it is known now
  const other = value(await handlers['appliance.save']({ appliance: { ...later, name: 'attic' } }, caller));
  const { visit: corrected } = await edit(['applianceId'], other.id, 'it was the one in the attic');
  expect(withCorrections(corrected)).not.toHaveProperty('applianceSigned');
  expect((await shown()).appliance).toMatchObject({ burner: { model: 'Second' } });
  const refused = await handlers['visit.edit'](
    { id: visit.id, changes: [{ path: ['applianceSigned', 'kind'], after: 'furnace' }], reason: 'made up' },
    caller,
  );
  expect(refused.ok).toBe(false);
});

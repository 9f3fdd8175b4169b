/** A data folder that holds one full visit: records, appliance and the run's file. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createAppliances } from '../../../main/store/appliances.ts';
import { openRecords } from '../../../main/store/open.ts';
import { createVisits, visitHash } from '../../../main/store/visits.ts';
import { encodeEntry, encodeHeader } from '../../../shared/measurement/run-format.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import type { FullVisit } from './full-visit.ts';
import { signVisit } from '../../../shared/tuning/visit/sign-visit.ts';

export async function keepVisit(
  folder: string,
  full: FullVisit,
  { sign = false, more = [] }: { sign?: boolean; more?: readonly Visit[] } = {},
): Promise<Visit> {
  mkdirSync(join(folder, 'runs'), { recursive: true });
  const text = encodeHeader(full.header) + full.entries.map(encodeEntry).join('');
  writeFileSync(join(folder, 'runs', `${full.header.runId}.run`), text, 'latin1');
  const opened = await openRecords({ folder, wallMs: full.visit.startedWallMs });
  if (!opened.ok) throw new Error(opened.error.code);
  const { db } = opened.value;
  const appliances = createAppliances(db);
  const kept = appliances.save(full.visit.applianceId ?? 'appliance-1', full.appliance, full.visit.startedWallMs);
  if (!kept.ok) throw new Error(kept.error.code);
  db.run(
    'INSERT INTO document (kind, id, parent_id, changed_ms, revision, search, body) VALUES (?, ?, ?, ?, ?, ?, ?)',
    'instrument',
    full.visit.instrumentId ?? 'instrument-1',
    null,
    0,
    1,
    '',
    JSON.stringify(full.instrument),
  );
  const signed = sign
    ? signVisit(full.visit, { name: 'A. Sample', wallMs: full.visit.endedWallMs ?? 0, hash: visitHash(full.visit) })
    : undefined;
  const visit = signed?.ok === true ? signed.value : full.visit;
  const adopted = createVisits(db, (id) => appliances.nameOf(id)).adopt(visit, visit.startedWallMs);
  const visits = createVisits(db, (id) => appliances.nameOf(id));
  for (const other of more) visits.adopt(other, other.startedWallMs);
  opened.value.close();
  if (!adopted.ok) throw new Error(adopted.error.code);
  return adopted.value.visit;
}

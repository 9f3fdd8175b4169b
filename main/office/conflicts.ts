/** What two laptops did to the same thing, as a person sees it, and the person's answer. */
import { z } from 'zod';
import type { OfficeConflict } from '../../shared/ipc/office-commands.ts';
import { itemKinds } from '../../shared/office/item.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { Appliance } from '../../shared/tuning/visit/appliance.ts';
import { setAt, type Json } from '../../shared/tuning/visit/at-path.ts';
import { parseJson } from '../store/documents.ts';
import type { ConflictRow } from '../store/office-table.ts';
import type { StoreTables } from '../store/tables.ts';
import { hashOf } from './office.ts';

const Body = z.object({
  field: z.string(),
  here: z.string(),
  there: z.string(),
  taken: z.enum(['here', 'there', 'none']),
  /** of a document: the other one, whole */
  text: z.string().optional(),
  /** of a field: both values as they are */
  values: z.object({ here: z.json().optional(), there: z.json().optional() }).optional(),
});
export type ConflictBody = z.infer<typeof Body>;

const canTake = ({ kind }: ConflictRow): boolean => kind === 'appliance' || kind === 'instrument' || kind === 'figures-card';

/** What a person knows it by. A visit's line says its number. */
function nameOf(tables: StoreTables, { kind, id }: ConflictRow): string {
  if (kind === 'appliance') return tables.appliances.nameOf(id) ?? '';
  if (kind !== 'instrument' && kind !== 'figures-card') return '';
  const stored = tables.documents[kind].get(id);
  return stored.ok ? ((stored.value.body as { name?: string }).name ?? '') : '';
}

export function conflictsHere(tables: StoreTables): OfficeConflict[] {
  return tables.office.conflicts().flatMap((row): OfficeConflict[] => {
    const body = Body.safeParse(parseJson(row.body)).data;
    if (body === undefined) return [];
    const { field, here, there, taken } = body;
    return [
      {
        key: row.key,
        kind: row.kind,
        id: row.id,
        name: nameOf(tables, row),
        field,
        here,
        there,
        taken,
        foundWallMs: row.foundMs,
        canTake: canTake(row),
      },
    ];
  });
}

/** The person's answer is a change like any other: it is saved with who made it, and goes to the others. */
export function settle(
  tables: StoreTables,
  key: string,
  take: 'here' | 'there',
  made: { wallMs: number; by: string },
): Result<undefined, Problem> {
  return tables.office.inOneStep(() => {
    const row = tables.office.conflicts().find((one) => one.key === key);
    const body = row === undefined ? undefined : Body.safeParse(parseJson(row.body)).data;
    if (row === undefined || body === undefined) return err(problem('not-found'));
    const done = canTake(row) ? apply(tables, row, body, take, made) : ok(undefined);
    if (!done.ok) return done;
    tables.office.removeConflict(key);
    return ok(undefined);
  });
}

function apply(
  tables: StoreTables,
  row: ConflictRow,
  body: ConflictBody,
  take: 'here' | 'there',
  { wallMs, by }: { wallMs: number; by: string },
): Result<undefined, Problem> {
  const { id, hash = '' } = row;
  const kind = itemKinds.find((one) => one === row.kind);
  if (kind === 'appliance') {
    const here = tables.appliances.get(id);
    if (!here.ok) return here;
    const value = body.values?.[take];
    const changed = setAt(here.value.appliance as unknown as Json, body.field.split('/'), value);
    if (changed === undefined) return err(problem('not-found'));
    const saved = tables.appliances.save(id, changed as unknown as Appliance, wallMs, { by });
    return saved.ok ? ok(undefined) : saved;
  }
  if (kind !== 'instrument' && kind !== 'figures-card') return ok(undefined);
  // seen and answered: what is here from now on takes the place of both
  const text = body.text ?? '';
  tables.office.know({ kind, id, hash, bodyHash: hashOf(text) }, true);
  const stored = tables.documents[kind].get(id);
  if (!stored.ok) return stored;
  const saved = tables.documents[kind].save(id, take === 'there' ? parseJson(text) : stored.value.body, { wallMs });
  return saved.ok ? ok(undefined) : saved;
}

/** The tables of the open records. */
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import { findInstrument, type Named, type NamedInstrument } from '../../shared/bench/find-instrument.ts';
import { documentKinds, type DocumentKind } from '../../shared/ipc/store-commands.ts';
import { problem } from '../../shared/problem.ts';
import { isAltered } from '../bench/signature.ts';
import { createAppliances } from './appliances.ts';
import { documents, type Documents, type Seal } from './documents.ts';
import { createOfficeTable, type OfficeTable } from './office-table.ts';
import type { OpenRecords } from './open.ts';
import { createVisits } from './visits.ts';

export type StoreTables = {
  readonly appliances: ReturnType<typeof createAppliances>;
  readonly visits: ReturnType<typeof createVisits>;
  readonly documents: Record<DocumentKind, Documents<unknown>>;
  readonly office: OfficeTable;
};

export function instrumentOf({ instrument }: StoreTables['documents'], named: Named): NamedInstrument | undefined {
  if (named.instrumentId === undefined && named.instrumentName === undefined) return undefined;
  const rows = instrument.list({ limit: 1000 });
  return rows.ok ? findInstrument(named, rows.value.rows) : undefined;
}

export function storeTables({ db }: Pick<OpenRecords, 'db'>): StoreTables {
  const appliances = createAppliances(db);
  const kinds = Object.entries(documentKinds).map(([kind, schema]) => [
    kind,
    documents<unknown>(db, kind, schema, searchTextOf, seals[kind]),
  ]);
  const all = Object.fromEntries(kinds) as StoreTables['documents'];
  return {
    appliances,
    visits: createVisits(db, appliances.nameOf, (visit) => instrumentOf(all, visit)),
    documents: all,
    office: createOfficeTable(db),
  };
}

/** kind -> what its signature locks */
const seals: Readonly<Record<string, Seal<unknown>>> = {
  'bench-test': {
    isSigned: (body) => (body as BenchTest).signature !== undefined,
    isAltered: (body) => isAltered(body as BenchTest),
    refusal: problem('bench-signed'),
  },
};

/** Every text of a document's first two levels: enough to find it by name, place or serial number. */
function searchTextOf(body: unknown): string {
  const texts: string[] = [];
  const collect = (value: unknown, depth: number): void => {
    if (typeof value === 'string') texts.push(value.slice(0, 200));
    else if (typeof value === 'object' && value !== null && depth < 2) for (const inner of Object.values(value)) collect(inner, depth + 1);
  };
  collect(body, 0);
  return texts.join(' ');
}

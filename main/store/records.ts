/** The records behind the contract: appliances, visits and documents, as handlers. Everything acknowledged is on the disk. */
import { join } from 'node:path';
import type { Clock } from '../../shared/clock.ts';
import type { Caller, Handlers, Payload } from '../../shared/ipc/contract.ts';
import { isOilFuel } from '../../shared/combustion/fuel.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import {
  APPLIANCE_EDITS_SHOWN,
  documentKinds,
  type DocumentKind,
  type storeCommands,
  type storeEvents,
  type StoredVisit,
} from '../../shared/ipc/store-commands.ts';
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { Adjuster } from '../../shared/tuning/adjuster.ts';
import { findInstrument, type Named, type NamedInstrument } from '../../shared/bench/find-instrument.ts';
import { editVisit, type Visit } from '../../shared/tuning/visit.ts';
import type { WarmUpCurve } from '../../shared/warm-up/curve.ts';
import { isAltered } from '../bench/signature.ts';
import { inThisThread, type Background } from '../background/background.ts';
import { forgetKept } from '../runs/kept-results.ts';
import { createAppliances } from './appliances.ts';
import { makeBackup } from './backup.ts';
import { backupPath, listCopies, removeCopy } from './copies.ts';
import type { Database } from './database.ts';
import { documents, type Documents, type Seal, type Stored } from './documents.ts';
import { createOfficeTable, type OfficeTable } from './office-table.ts';
import { inOneStep, inSlices } from './one-step.ts';
import { openRecords, stamp, type OpenRecords } from './open.ts';
import { prepareRestore, recoverRestore, swapIn, tidyDataFolder } from './restore.ts';
import { takePersonOut } from './take-person-out.ts';
import { createVisits, visitHash } from './visits.ts';
import { removeQuietly } from './work-folder.ts';
import { signVisit } from '../../shared/tuning/sign-visit.ts';
import { storeTexts } from '../../shared/words/host.ts';

export type StoreEventName = keyof typeof storeEvents;
export type StoreHandlers = Pick<Handlers, keyof typeof storeCommands>;

export type RecordsParts = {
  readonly clock: Clock;
  readonly dataFolder: string;
  readonly appVersion: string;
  readonly settings: () => Settings;
  readonly newId: () => string;
  readonly publish: <K extends StoreEventName>(name: K, payload: Payload<K>) => void;
  /** SHA-256 of a run file as it stands, hex; undefined when there is none */
  readonly hashRun: (runId: string) => Promise<string | undefined>;
  readonly takeUpload: (token: string) => { readonly path: string } | undefined;
  /** @returns the one-use token that the window fetches it with */
  readonly offerDownload: (download: { fileName: string; mime: string; filePath: string }) => string;
  /** true while a run writes its file: nothing may be moved away under it */
  readonly isCapturing?: () => boolean;
  /** where backups are packed and unpacked */
  readonly background?: Background;
  /** everything that was read from the data folder has to be read again */
  readonly replaced?: () => void;
};

export interface Records {
  readonly handlers: StoreHandlers;
  /** why there are no records now, if so; and what was set aside when they were opened */
  problems(): Promise<readonly Problem[]>;
  /** for the report, which reads in main */
  visit(id: string): Promise<Result<StoredVisit, Problem>>;
  /** all or nothing, with pauses; whoever else asks for records waits until it is done */
  changeInSlices<T>(work: (open: StoreTables) => Promise<Result<T, Problem>>): Promise<Result<T, Problem>>;
  /** while a backup takes the place of what is here, nothing new may begin */
  isRestoring(): boolean;
  /** for what moves visits between computers: runs with the open records, or says why there are none */
  use<T>(work: (open: StoreTables) => Result<T, Problem>): Promise<Result<T, Problem>>;
  /** as `use`, for what takes something away: afterwards it is gone from the file as well */
  erase<T>(work: (open: StoreTables) => Result<T, Problem>): Promise<Result<T, Problem>>;
  close(): void;
}

export function createRecords(parts: RecordsParts): Records {
  const { clock, dataFolder, appVersion, settings, newId, publish, hashRun, takeUpload, offerDownload, isCapturing = () => false } = parts;
  const { background = inThisThread } = parts;
  let current: Result<OpenRecords, Problem> = err(problem('store-locked', storeTexts.stillOpening));
  let tables: StoreTables | undefined;
  let closed = false;
  let isRestoring = false;
  const recovered = recoverRestore(dataFolder);
  // what waits for a restore that could not be finished is not half made: it stays
  if (recovered.ok) tidyDataFolder(dataFolder);
  const open = async (): Promise<void> => {
    current = recovered.ok ? await openRecords({ folder: dataFolder, wallMs: clock.wallMs() }) : recovered;
    tables = current.ok ? storeTables(current.value) : undefined;
    if (closed && current.ok) current.value.close();
  };
  // the window is served at once; whoever asks for records waits for them
  let ready = open();
  /** somebody is in the middle of work with pauses */
  let held: Promise<void> | undefined;

  /** Runs with the open records, or says why there are none. */
  const withTables = async <T>(work: (open: StoreTables) => Result<T, Problem>): Promise<Result<T, Problem>> => {
    await ready;
    while (held !== undefined) await held;
    return tables === undefined ? err(current.ok ? problem('store-damaged') : current.error) : work(tables);
  };
  /** The same for work with pauses in it: until it is done, everybody else waits. */
  const holding = async <T>(work: (open: StoreTables, opened: OpenRecords) => Promise<Result<T, Problem>>): Promise<Result<T, Problem>> => {
    await ready;
    while (held !== undefined) await held;
    if (tables === undefined || !current.ok) return err(current.ok ? problem('store-damaged') : current.error);
    let release = (): void => undefined;
    held = new Promise<void>((resolve) => (release = resolve));
    try {
      return await work(tables, current.value);
    } finally {
      held = undefined;
      release();
    }
  };
  /** As `withTables`, for what takes something away: afterwards it is gone from the file as well. */
  const erasing = <T>(work: (open: StoreTables, db: Database) => Result<T, Problem>): Promise<Result<T, Problem>> =>
    holding(async (open, { db, eraser }) => {
      eraser.begin();
      // derived from runs, and made anew when it is asked for
      forgetKept(dataFolder);
      const done = work(open, db);
      await eraser.finish();
      return done;
    });
  /** Whatever happens, the records are open again afterwards: the restored ones, or those of before. */
  const restore = async (source: string): Promise<Result<{ files: number; kept: string }, Problem>> => {
    const wallMs = clock.wallMs();
    const prepared = await prepareRestore({ dataFolder, source, token: newId(), wallMs, background });
    if (!prepared.ok) return prepared;
    await ready;
    while (held !== undefined) await held;
    if (current.ok) current.value.close();
    current = err(problem('restore-under-way'));
    tables = undefined;
    const swapped = swapIn(dataFolder, prepared.value, wallMs);
    ready = open();
    await ready;
    let failure = swapped.ok ? undefined : swapped.error;
    if (swapped.ok && current.ok) swapped.value.commit();
    else if (swapped.ok) {
      failure = swapped.value.undo();
      ready = open();
      await ready;
    }
    parts.replaced?.();
    publish('records.changed', { what: 'all' });
    return failure === undefined && swapped.ok
      ? ok({ files: prepared.value.files.files, kept: swapped.value.kept })
      : err(failure ?? problem('internal'));
  };
  const changedVisit = (result: Result<StoredVisit, Problem>): Result<StoredVisit, Problem> => {
    if (result.ok) {
      publish('visit.changed', result.value);
      publish('records.changed', { what: 'visits' });
    }
    return result;
  };
  const operator = (): string => settings().technician.name || 'operator';
  const author = (_caller: Caller, visit: Visit): string => visit.people.find((person) => person.role === 'technician')?.name ?? operator();
  const documentOf = <T>({ id, revision, changedMs, body, altered }: Stored<T>) => ({
    id,
    revision,
    changedMs,
    body: body as never,
    ...(altered === undefined ? {} : { altered }),
  });

  const handlers: StoreHandlers = {
    'appliance.list': (query) => withTables(({ appliances }) => appliances.list(query)),
    'appliance.get': ({ id }) =>
      withTables(({ appliances, visits }) => {
        const stored = appliances.get(id);
        if (!stored.ok) return stored;
        const edits = appliances.edits(id);
        if (!edits.ok) return edits;
        const list = visits.list({ applianceId: id, limit: 500 });
        if (!list.ok) return list;
        const shown = edits.value.slice(-APPLIANCE_EDITS_SHOWN);
        return ok({ stored: stored.value, edits: shown, earlierEdits: edits.value.length - shown.length, visits: list.value.visits });
      }),
    'appliance.save': ({ id, revision, appliance }) =>
      withTables(({ appliances, visits }) => {
        const saved = appliances.save(id ?? newId(), appliance, clock.wallMs(), {
          by: operator(),
          revision: id === undefined ? undefined : revision,
        });
        if (!saved.ok) return saved;
        const listed = visits.nameChanged(saved.value.id);
        publish('records.changed', { what: 'appliances' });
        return listed.ok ? saved : listed;
      }),
    'appliance.remove': ({ id, how }) =>
      erasing((open, db) => {
        if (how === 'delete') {
          const done = open.appliances.remove(id);
          if (done.ok) open.documents.knowledge.remove(id);
          if (done.ok) open.office.removeConflictsOf('appliance', id);
          if (done.ok) publish('records.changed', { what: 'appliances' });
          return done.ok ? ok({ stillIn: [] }) : done;
        }
        const done = inOneStep(db, () =>
          takePersonOut({ ...open, curves: open.documents.curve as Documents<WarmUpCurve> }, id, {
            wallMs: clock.wallMs(),
            by: operator(),
          }),
        );
        if (!done.ok) return done;
        for (const visitId of done.value.changed) changedVisit(open.visits.get(visitId));
        publish('records.changed', { what: 'all' });
        return ok({ stillIn: [...done.value.stillIn] });
      }),
    'visit.list': (query) => withTables(({ visits }) => visits.list(query)),
    'visit.create': ({ kind, applianceId, fuelId }) =>
      withTables(({ visits, appliances }) => {
        const appliance = applianceId === undefined ? undefined : appliances.get(applianceId);
        if (appliance !== undefined && !appliance.ok) return appliance;
        const { units, adjusters, technician, fuelId: usualFuel } = settings();
        // a visit is at an oil burner: a gas that is usual elsewhere is not taken over
        const fuel = [fuelId, appliance?.value.appliance.fuelId, usualFuel].find(isOilFuel);
        const created = visits.create({
          id: newId(),
          kind,
          startedWallMs: clock.wallMs(),
          zoneMinutes: clock.zoneMinutes(),
          unitPreset: units,
          adjusters: adjusters.map(({ coarse, ...rest }) => Adjuster.parse({ ...rest, role: coarse ? 'coarse' : 'fine' })),
          ...(fuel === undefined ? {} : { fuelId: fuel }),
          ...(applianceId === undefined ? {} : { applianceId }),
        });
        if (!created.ok || technician.name === '') return changedVisit(created);
        const person = {
          role: 'technician' as const,
          name: technician.name,
          ...(technician.licence === '' ? {} : { licence: technician.licence }),
        };
        return changedVisit(visits.change(created.value.visit.id, clock.wallMs(), (visit) => ok({ ...visit, people: [person] })));
      }),
    'visit.get': ({ id }) => withTables(({ visits }) => visits.get(id)),
    'visit.edit': ({ id, changes, reason }, caller) =>
      withTables(({ visits }) =>
        changedVisit(
          visits.change(id, clock.wallMs(), (visit) => {
            let changed = visit;
            for (const { path, after } of changes) {
              const edited = editVisit(changed, {
                wallMs: clock.wallMs(),
                by: author(caller, visit),
                path,
                ...(after === undefined ? {} : { after }),
                ...(reason === undefined ? {} : { reason }),
              });
              if (!edited.ok) return edited;
              changed = edited.value;
            }
            return ok(changed);
          }),
        ),
      ),
    'visit.sign': async ({ id, name }) => {
      const hashes = await withTables(({ visits }) => visits.get(id));
      if (!hashes.ok) return hashes;
      const runHashes = new Map<string, string>();
      for (const run of hashes.value.visit.runs) {
        const hash = await hashRun(run.id);
        if (hash !== undefined) runHashes.set(run.id, hash);
      }
      return withTables(({ visits, appliances, documents }) =>
        changedVisit(
          visits.change(id, clock.wallMs(), (visit) => {
            const runs = visit.runs.map((run) => (runHashes.has(run.id) ? { ...run, hash: runHashes.get(run.id) } : run));
            const ready = { ...visit, runs, endedWallMs: visit.endedWallMs ?? clock.wallMs() };
            const unit = visit.applianceId === undefined ? undefined : appliances.get(visit.applianceId);
            const certificateUntil = instrumentOf(documents, visit)?.instrument.certificateUntil;
            const signed = signVisit(
              ready,
              { name, wallMs: clock.wallMs(), hash: visitHash(ready) },
              { ...(unit?.ok === true && { appliance: unit.value.appliance }), certificateUntil },
            );
            if (signed.ok) return signed;
            const { key } = signed.error;
            if (key === 'bypass-open') return err(problem('bypass-open', signed.error.what));
            if (key === 'not-safe') return err(problem('visit-not-safe'));
            return err(problem(key === 'signed' ? 'visit-signed' : 'visit-not-signable'));
          }),
        ),
      );
    },
    'visit.close': ({ id }) =>
      withTables(({ visits }) =>
        changedVisit(
          visits.change(id, clock.wallMs(), (visit) => {
            if (visit.signature !== undefined) return err(problem('visit-signed'));
            const open = visit.bypasses.find((bypass) => bypass.closedWallMs === undefined);
            if (open !== undefined) return err(problem('bypass-open', open.what));
            return ok({ ...visit, kind: 'training' as const, endedWallMs: visit.endedWallMs ?? clock.wallMs() });
          }),
        ),
      ),
    'visit.remove': ({ id }) =>
      erasing(({ visits }) => {
        const stored = visits.get(id);
        if (!stored.ok) return stored;
        // a signed record is evidence; its retention is for the law to say
        if (stored.value.visit.signature !== undefined) return err(problem('visit-signed'));
        const removed = visits.remove(id);
        if (removed.ok) publish('records.changed', { what: 'visits' });
        return removed.ok ? ok({}) : removed;
      }),
    'document.list': ({ kind, parentId, search, limit, offset }) =>
      withTables((open) => {
        const found = open.documents[kind].list({ search, parentId, limit, offset });
        return found.ok ? ok({ documents: found.value.rows.map(documentOf), unreadable: found.value.unreadable }) : found;
      }),
    'document.get': ({ kind, id }) =>
      withTables((open) => {
        const found = open.documents[kind].get(id);
        return found.ok ? ok(documentOf(found.value)) : found;
      }),
    'document.save': ({ kind, id, parentId, revision, body }) =>
      withTables((open) => {
        // a bench test is what was measured: it changes by bench commands, and its start is the host's word
        if (kind === 'bench-test') return err(problem('request-invalid', storeTexts.benchByCommands));
        if (kind === 'knowledge') return err(problem('request-invalid', storeTexts.knowledgeByRuns));
        const saved = open.documents[kind].save(id ?? newId(), body, { wallMs: clock.wallMs(), parentId, revision });
        if (saved.ok) publish('records.changed', { what: 'documents' });
        return saved.ok ? ok(documentOf(saved.value)) : saved;
      }),
    'document.remove': ({ kind, id }) =>
      erasing((open) => {
        const removed = open.documents[kind].remove(id);
        if (removed.ok) publish('records.changed', { what: 'documents' });
        return removed.ok ? ok({}) : removed;
      }),
    'copies.list': () => {
      const found = listCopies(dataFolder);
      return Promise.resolve(found.ok ? ok({ copies: found.value }) : found);
    },
    'copies.remove': ({ name }) => {
      const done = removeCopy(dataFolder, name);
      return Promise.resolve(done.ok ? ok({}) : done);
    },
    'backup.make': async () => {
      await ready;
      if (!current.ok) return err(current.error);
      const wallMs = clock.wallMs();
      const fileName = `flueside-backup-${stamp(wallMs).slice(0, 19)}.zip`;
      const target = join(dataFolder, fileName);
      const made = await makeBackup({ dataFolder, db: current.value.db, target, token: newId(), wallMs, appVersion, background });
      return made.ok ? ok({ fileName, download: offerDownload({ fileName, mime: 'application/zip', filePath: target }) }) : made;
    },
    'backup.restore': async (input) => {
      const uploaded = 'upload' in input ? takeUpload(input.upload)?.path : undefined;
      try {
        if (isCapturing()) return err(problem('restore-in-capture'));
        if (isRestoring) return err(problem('restore-under-way'));
        const source = 'copy' in input ? backupPath(dataFolder, input.copy) : uploaded;
        if (source === undefined) return err(problem('file-not-found'));
        isRestoring = true;
        return await restore(source).finally(() => (isRestoring = false));
      } finally {
        if (uploaded !== undefined) removeQuietly(uploaded);
      }
    },
  };

  return {
    handlers,
    async problems() {
      await ready;
      const undone = recovered.ok && recovered.value !== undefined ? [recovered.value] : [];
      return [...undone, ...(current.ok ? current.value.notices : [current.error])];
    },
    visit: (id) => withTables(({ visits }) => visits.get(id)),
    use: withTables,
    erase: (work) => erasing((open) => work(open)),
    changeInSlices: (work) => holding((open, { db }) => inSlices(db, () => work(open))),
    isRestoring: () => isRestoring,
    close() {
      closed = true;
      if (current.ok) current.value.close();
    },
  };
}

export type StoreTables = {
  readonly appliances: ReturnType<typeof createAppliances>;
  readonly visits: ReturnType<typeof createVisits>;
  readonly documents: Record<DocumentKind, Documents<unknown>>;
  readonly office: OfficeTable;
};

function instrumentOf({ instrument }: StoreTables['documents'], named: Named): NamedInstrument | undefined {
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
  return texts.slice(0, 40).join(' ');
}

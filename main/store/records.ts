/** The records behind the contract: appliances, visits and documents, as handlers. Everything acknowledged is on the disk. */
import { join } from 'node:path';
import type { Clock } from '../../shared/clock.ts';
import type { Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import { APPLIANCE_EDITS_SHOWN, type storeCommands, type storeEvents, type StoredVisit } from '../../shared/ipc/store-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import type { WarmUpCurve } from '../../shared/warm-up/curve.ts';
import { inThisThread, type Background } from '../background/background.ts';
import { forgetKept } from '../runs/stored/kept-results.ts';
import { tidyPhotos } from '../photos/photo-files.ts';
import { photoHandlers, type PhotoHandlers } from '../photos/photo-handlers.ts';
import { makeBackup } from './backup/backup.ts';
import { backupPath, listCopies, removeCopy } from './backup/copies.ts';
import type { Database } from './database.ts';
import type { Documents, Stored } from './documents.ts';
import { inOneStep, inSlices } from './one-step.ts';
import { openRecords, stamp, type OpenRecords } from './open.ts';
import { prepareRestore, recoverRestore, swapIn, tidyDataFolder } from './backup/restore.ts';
import { takePersonOut } from './take-person-out.ts';
import { storeTables, type StoreTables } from './tables.ts';
import { authorOf, visitCommands } from './visit-commands.ts';
import { removeQuietly } from './work-folder.ts';
import { storeTexts } from '../../shared/words/host.ts';
import { defined } from '../../shared/defined.ts';

export type StoreEventName = keyof typeof storeEvents;
export type StoreHandlers = Pick<Handlers, keyof typeof storeCommands> & PhotoHandlers;

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
    if (tables !== undefined && !closed) tidyPhotos(dataFolder, visitIn(tables));
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
  const documentOf = <T>({ id, revision, changedMs, body, altered }: Stored<T>) => ({
    id,
    revision,
    changedMs,
    body: body as never,
    ...defined({ altered }),
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
    ...visitCommands({ clock, settings, newId, hashRun, publish, withTables, erasing, changedVisit, operator, dataFolder }),
    ...photoHandlers({ clock, dataFolder, takeUpload, author: (visit) => authorOf(visit) ?? operator(), withTables, changedVisit }),
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

const visitIn =
  ({ visits }: StoreTables) =>
  (id: string): Visit | 'none' | 'unreadable' => {
    const stored = visits.get(id);
    return stored.ok ? stored.value.visit : stored.error.code === 'not-found' ? 'none' : 'unreadable';
  };

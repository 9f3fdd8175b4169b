import { createHash } from 'node:crypto';
import { err, ok, type Result } from '../../shared/result.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { figureOf } from '../../shared/tuning/trial/trial-figures.ts';
import { inFormat1 } from '../../shared/tuning/visit/visit-format.ts';
import { instrumentThen, type NamedInstrument } from '../../shared/bench/find-instrument.ts';
import { Visit, newVisit, withCorrections, type NewVisit } from '../../shared/tuning/visit/visit.ts';
import { isWatermarked } from '../../shared/tuning/visit/visit-marks.ts';
import { VisitSummary, type StoredVisit } from '../../shared/ipc/store-commands.ts';
import { isoDay } from '../../shared/format/date.ts';
import { attempt } from './attempt.ts';
import type { Database, Row } from './database.ts';
import { parseJson } from './documents.ts';
import { fold, searchClause } from './search.ts';
import { storeTexts } from '../../shared/words/host.ts';
import { defined, whenDefined } from '../../shared/defined.ts';

export type VisitQuery = { search?: string; applianceId?: string | undefined; limit?: number; offset?: number };

export type Visits = {
  create(parts: Omit<NewVisit, 'number'> & Partial<Pick<Visit, 'applianceId' | 'fuelId'>>): Result<StoredVisit, Problem>;
  get(id: string): Result<StoredVisit, Problem>;
  /** as it is stored, not yet read */
  bodyOf(id: string): Result<string, Problem>;
  /** Reads, changes and writes in one transaction; the change may refuse. */
  change(id: string, wallMs: number, work: (visit: Visit) => Result<Visit, Problem>): Result<StoredVisit, Problem>;
  /** Takes a visit in as it is (moving between laptops); the number is a new one where it is taken. */
  adopt(visit: Visit, wallMs: number): Result<StoredVisit, Problem>;
  /**
   * Corrections of another laptop between those that are here. @param edits all edits from now on: what was signed, and every correction that is here, is in it
   */
  takeCorrections(id: string, edits: Visit['edits'], wallMs: number): Result<StoredVisit, Problem>;
  list(query?: VisitQuery): Result<{ visits: VisitSummary[]; total: number }, Problem>;
  remove(id: string): Result<undefined, Problem>;
  /** every visit of this appliance that can be read */
  ofAppliance(applianceId: string): Result<Visit[], Problem>;
  /** Writes anew what lists show and the search finds of the visits of this appliance; the visits themselves stay as they are. */
  nameChanged(applianceId: string): Result<undefined, Problem>;
};

const statusOf = (visit: Visit): VisitSummary['status'] =>
  visit.signature ? 'signed' : visit.endedWallMs !== undefined && visit.kind === 'training' ? 'training' : 'open';

/**
 * Hash of the body as it is signed: the document in the order of its schema, without the signature, the corrections made since, and the number
 * (which may differ on another laptop).
 */
export function visitHash(visit: Visit): string {
  const { signature, number: _number, edits, ...body } = Visit.parse(visit);
  const signed = { ...body, edits: edits.slice(0, signature?.editsBefore ?? edits.length) };
  return createHash('sha256')
    .update(JSON.stringify(signature?.format === 1 ? inFormat1(signed) : signed))
    .digest('hex');
}

/** What is signed no longer gives the hash it was signed with: a damaged or rewritten file. It is evidence against accidents, not against forgery. */
const isAltered = (visit: Visit): boolean => visit.signature !== undefined && visitHash(visit) !== visit.signature.hash;

/** Whoever asks: of a signed visit nothing changes, and corrections only come behind those that are there. */
function keepsSigned(stored: Visit, next: Visit): boolean {
  if (stored.signature === undefined) return true;
  const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
  return (
    stored.number === next.number &&
    same(stored.signature, next.signature) &&
    visitHash(stored) === visitHash(next) &&
    same(stored.edits, next.edits.slice(0, stored.edits.length))
  );
}

/** As `keepsSigned`, where corrections of two laptops come together: every one stays, in the order of both. */
function keepsCorrections(stored: Visit, next: Visit): boolean {
  const left = next.edits.map((edit) => JSON.stringify(edit));
  const areIn = stored.edits.every((edit) => {
    const at = left.indexOf(JSON.stringify(edit));
    if (at >= 0) left.splice(at, 1);
    return at >= 0;
  });
  return stored.signature !== undefined && areIn && visitHash(stored) === visitHash(next);
}

export function createVisits(
  db: Database,
  applianceName: (id: string) => string | undefined,
  instrumentOf: (visit: Visit) => NamedInstrument | undefined = () => undefined,
): Visits {
  const storedVisit = (visit: Visit, revision: number): StoredVisit => {
    const shown = withCorrections(visit);
    const certificateUntil = instrumentThen(instrumentOf(shown)?.instrument, shown.instrumentSigned)?.certificateUntil;
    return { visit, revision, ...defined({ certificateUntil }) };
  };
  const read = (row: Row | undefined): Result<StoredVisit, Problem> => {
    if (row === undefined) return err(problem('not-found'));
    const checked = Visit.safeParse(parseJson(String(row['body'])));
    if (!checked.success) return err(problem('store-damaged', storeTexts.visitUnreadable(String(row['number']))));
    return ok({ ...storedVisit(checked.data, Number(row['revision'])), ...(isAltered(checked.data) && { altered: true }) });
  };
  const listed = (visit: Visit): { summary: string; search: string } => {
    const shown = withCorrections(visit);
    const name = shown.applianceId === undefined ? undefined : applianceName(shown.applianceId);
    const summary = summaryOf(shown, name);
    const search = fold(
      [
        `${shown.number}`,
        name ?? '',
        ...shown.people.map((person) => person.name),
        ...shown.notes.map((note) => note.text.slice(0, 200)),
        shown.fuelId ?? '',
        isoDay(shown.startedWallMs, shown.zoneMinutes),
      ].join(' '),
    );
    return { summary: JSON.stringify(summary), search };
  };
  /** Once it is known which instrument was typed, it is that one, whatever it is called later. Nothing is added to what is signed. */
  const withInstrument = (visit: Visit): Visit => {
    if (visit.signature !== undefined || visit.instrumentId !== undefined) return visit;
    const instrumentId = instrumentOf(visit)?.id;
    return instrumentId === undefined ? visit : { ...visit, instrumentId };
  };
  const write = (given: Visit, revision: number, wallMs: number): StoredVisit => {
    const visit = withInstrument(given);
    const { summary, search } = listed(visit);
    db.run(
      'INSERT OR REPLACE INTO visit (id, number, appliance_id, status, started_ms, changed_ms, revision, search, summary, body) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)',
      visit.id,
      visit.number,
      visit.applianceId ?? null,
      statusOf(visit),
      visit.startedWallMs,
      wallMs,
      revision,
      search,
      summary,
      JSON.stringify(visit),
    );
    return storedVisit(visit, revision);
  };
  const rowsOf = (applianceId: string): Visit[] =>
    db
      .all('SELECT number, revision, body FROM visit WHERE appliance_id = ?', applianceId)
      .map(read)
      .flatMap((stored) => (stored.ok ? [stored.value.visit] : []));
  const isSigned = (id: string): boolean => db.one('SELECT status FROM visit WHERE id = ?', id)?.['status'] === 'signed';
  const nextNumber = (): number => Number(db.one('SELECT max(number) AS n FROM visit')?.['n'] ?? 0) + 1;

  return {
    create({ applianceId, fuelId, ...parts }) {
      return attempt(() =>
        db.inTransaction(() => {
          const visit = newVisit({ ...parts, number: nextNumber() });
          return write({ ...visit, ...defined({ applianceId, fuelId }) }, 1, parts.startedWallMs);
        }),
      );
    },
    get(id) {
      const row = attempt(() => db.one('SELECT number, revision, body FROM visit WHERE id = ?', id));
      return row.ok ? read(row.value) : row;
    },
    bodyOf(id) {
      const row = attempt(() => db.one('SELECT body FROM visit WHERE id = ?', id));
      if (!row.ok) return row;
      return row.value === undefined ? err(problem('not-found')) : ok(String(row.value['body']));
    },
    change(id, wallMs, work) {
      const done = attempt(() =>
        db.inTransaction((): Result<StoredVisit, Problem> => {
          const stored = read(db.one('SELECT number, revision, body FROM visit WHERE id = ?', id));
          if (!stored.ok) return stored;
          const changed = work(stored.value.visit);
          if (!changed.ok) return changed;
          const checked = Visit.safeParse(changed.value);
          if (!checked.success) return err(problem('value-out-of-range', checked.error.issues[0]?.message));
          if (!keepsSigned(stored.value.visit, checked.data)) return err(problem('visit-signed'));
          return ok(write(checked.data, stored.value.revision + 1, wallMs));
        }),
      );
      return done.ok ? done.value : done;
    },
    takeCorrections(id, edits, wallMs) {
      const done = attempt(() =>
        db.inTransaction((): Result<StoredVisit, Problem> => {
          const stored = read(db.one('SELECT number, revision, body FROM visit WHERE id = ?', id));
          if (!stored.ok) return stored;
          const { visit, revision } = stored.value;
          const next = { ...visit, edits };
          return keepsCorrections(visit, next) ? ok(write(next, revision + 1, wallMs)) : err(problem('visit-signed'));
        }),
      );
      return done.ok ? done.value : done;
    },
    adopt(visit, wallMs) {
      const done = attempt(() =>
        db.inTransaction((): Result<StoredVisit, Problem> => {
          if (isSigned(visit.id)) return err(problem('visit-signed'));
          const taken = db.one('SELECT id FROM visit WHERE number = ?', visit.number) !== undefined;
          // the number belongs to this laptop's own count
          return ok(write(taken ? { ...visit, number: nextNumber() } : visit, 1, wallMs));
        }),
      );
      return done.ok ? done.value : done;
    },
    list({ search = '', applianceId, limit = 100, offset = 0 } = {}) {
      const clause = searchClause(search, 'search');
      const where = `${clause.sql}${applianceId === undefined ? '' : ' AND appliance_id = ?'}`;
      const values = [...clause.values, ...whenDefined(applianceId)];
      return attempt(() => {
        // the small index is walked first; only the rows that are shown are then read
        const rows = db.all(
          `SELECT summary FROM visit WHERE id IN (SELECT id FROM visit WHERE ${where} ORDER BY started_ms DESC, id DESC LIMIT ? OFFSET ?) ORDER BY started_ms DESC, id DESC`,
          ...values,
          limit,
          offset,
        );
        const total = Number(db.one(`SELECT count(*) AS n FROM visit WHERE ${where}`, ...values)?.['n'] ?? 0);
        return { visits: rows.flatMap((row) => VisitSummary.safeParse(parseJson(String(row['summary']))).data ?? []), total };
      });
    },
    remove(id) {
      const done = attempt((): Result<undefined, Problem> => {
        // a signed record is evidence; its retention is for the law to say
        if (isSigned(id)) return err(problem('visit-signed'));
        db.run('DELETE FROM visit WHERE id = ?', id);
        return ok(undefined);
      });
      return done.ok ? done.value : done;
    },
    ofAppliance: (applianceId) => attempt(() => rowsOf(applianceId)),
    nameChanged: (applianceId) =>
      attempt(() =>
        db.inTransaction(() => {
          for (const visit of rowsOf(applianceId)) {
            const { summary, search } = listed(visit);
            db.run('UPDATE visit SET search = ?, summary = ? WHERE id = ?', search, summary, visit.id);
          }
          return undefined;
        }),
      ),
  };
}

/** What a list shows, so that it need not open every visit. */
function summaryOf(visit: Visit, applianceName: string | undefined): VisitSummary {
  const asLeft = visit.trials.find((trial) =>
    visit.stages.some((stage) => stage.asLeftTrialId === trial.id || stage.echoTrialId === trial.id),
  );
  const mean = (channel: 'o2' | 'co' | 'stackTemperature'): number | undefined =>
    asLeft === undefined ? undefined : figureOf(asLeft, channel)?.mean;
  const technician = visit.people.find((person) => person.role === 'technician')?.name;
  const figures = {
    o2Percent: mean('o2'),
    coPpm: mean('co'),
    stackC: mean('stackTemperature'),
    applianceId: visit.applianceId,
    applianceName,
    technician,
  };
  return {
    id: visit.id,
    number: visit.number,
    kind: visit.kind,
    status: statusOf(visit),
    startedWallMs: visit.startedWallMs,
    zoneMinutes: visit.zoneMinutes,
    watermarked: isWatermarked(visit),
    trials: visit.trials.length,
    ...(Object.fromEntries(Object.entries(figures).filter(([, value]) => value !== undefined)) as Partial<VisitSummary>),
  };
}

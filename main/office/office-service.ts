/**
 * The office beside the work: sends what waits, takes removals, brings what is asked for. Nothing waits for it, and without an office it does nothing at all:
 * no timer runs and no connection is opened.
 */
import type { Clock } from '../../shared/clock.ts';
import type { Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { OfficeChoice, officeCommands, OfficeState } from '../../shared/ipc/office-commands.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { Records } from '../store/records.ts';
import { conflictsHere, settle } from './conflicts.ts';
import type { Office } from './office.ts';
import { openOffice, type OpenParts } from './open-office.ts';
import type { Secrets } from './secrets.ts';
import { fetchAppliance, meet, pull, push, type PullParts } from './sync.ts';
import { defined } from '../../shared/defined.ts';

export type OfficeHandlers = Pick<Handlers, keyof typeof officeCommands>;
export type OfficeServiceParts = {
  readonly clock: Clock;
  readonly settings: () => Settings;
  readonly records: Pick<Records, 'use' | 'erase'>;
  readonly publish: (state: OfficeState) => void;
  readonly recordsChanged: (what: Payload<'records.changed'>['what']) => void;
  /** visits of an appliance came that were not here */
  readonly visitsCame: () => void;
  readonly secrets: Secrets;
  /** a test brings its own */
  readonly open?: (choice: OfficeChoice, parts: OpenParts) => Promise<Result<Office, Problem>>;
};
export interface OfficeService {
  readonly handlers: OfficeHandlers;
  /** something was saved that may have to be sent */
  recordsChanged(): void;
  /** an appliance was chosen for a visit */
  applianceChosen(applianceId: string): void;
  settingsChanged(): void;
  close(): Promise<void>;
}

const SOON_MS = 3_000;
const REGULAR_MS = 5 * 60_000;
const RETRY_MS = 30_000;
const LONGEST_RETRY_MS = 10 * 60_000;
/** of an appliance that was chosen */
const VISITS_FETCHED = 10;
/** a clock is far off when dates in reports would be wrong */
const CLOCK_OFF_MS = 10 * 60_000;

export function createOfficeService(parts: OfficeServiceParts): OfficeService {
  const { clock, settings, records, publish, recordsChanged, secrets, open = openOffice } = parts;
  let session: string | undefined;
  let opened: { key: string; office: Office } | undefined;
  let busy: Promise<void> | undefined;
  let timer: (() => void) | undefined;
  let failures = 0;
  let isClosed = false;
  let wrong = 0;
  let now: Pick<OfficeState, 'phase' | 'problem' | 'lastWallMs' | 'clockAheadMs'> = { phase: 'off' };
  let lastTold = '';

  const choice = (): OfficeChoice => settings().office;
  const isOn = (): boolean => choice().kind !== 'none' && !isClosed;
  const secretName = ({ host, port, user, database }: OfficeChoice): string => `${user}@${host}:${port}/${database}`;
  const password = (): string | undefined => session ?? secrets.read(secretName(choice()));
  const openParts: OpenParts = { wallMs: () => clock.wallMs(), password };

  const current = async (): Promise<Result<Office, Problem>> => {
    if (!isOn()) return err(problem('office-off'));
    const key = JSON.stringify(choice());
    if (opened?.key === key) return ok(opened.office);
    await opened?.office.close();
    opened = undefined;
    const made = await open(choice(), openParts);
    if (made.ok) opened = { key, office: made.value };
    return made;
  };

  const state = async (): Promise<OfficeState> => {
    const count = await records.use(({ office }) => office.attempt(() => office.count()));
    const { queued, conflicts } = count.ok ? count.value : { queued: 0, conflicts: 0 };
    const { kind } = choice();
    return {
      kind,
      ...(isOn() ? now : { phase: 'off' }),
      // what waits for an office that is not there is nobody's business
      queued: isOn() ? queued : 0,
      conflicts,
      wrong,
      keepsPassword: secrets.isKept,
    };
  };
  const tell = async (): Promise<OfficeState> => {
    const said = await state();
    if (JSON.stringify(said) !== lastTold) publish(said);
    lastTold = JSON.stringify(said);
    return said;
  };
  const say = (next: typeof now): Promise<OfficeState> => {
    now = { ...now, problem: undefined, ...next };
    return tell();
  };

  const pullParts: PullParts = {
    wallMs: () => clock.wallMs(),
    changed: (what) => recordsChanged(what),
    isOver: () => !isOn(),
  };
  const sync = async (): Promise<Problem | undefined> => {
    const office = await current();
    if (!office.ok) return office.error;
    const about = await meet(records, office.value);
    if (!about.ok) return about.error;
    const { clockAheadMs = 0 } = about.value;
    now = { ...now, clockAheadMs: Math.abs(clockAheadMs) > CLOCK_OFF_MS ? clockAheadMs : undefined };
    const pushed = await push(records, office.value, () => clock.wallMs());
    if (!pushed.ok) return pushed.error;
    const pulled = await pull(records, office.value, pullParts, choice().takesAll ? undefined : ['tombstone']);
    if (!pulled.ok) return pulled.error;
    wrong = pulled.value.wrong.length;
    return undefined;
  };
  /** One at a time; asked again meanwhile, it is the one under way. */
  const run = (): Promise<void> =>
    (busy ??= (async () => {
      timer?.();
      timer = undefined;
      await say({ phase: 'busy' });
      const failure = await sync().catch(() => problem('internal'));
      failures = failure === undefined ? 0 : failures + 1;
      if (failure === undefined) await say({ phase: 'ready', lastWallMs: clock.wallMs() });
      else if (failure.code === 'office-asks-password') await say({ phase: 'asks-password', problem: failure });
      else await say({ phase: failure.code === 'office-unreachable' ? 'waiting' : 'failed', problem: failure });
      busy = undefined;
      plan(failure === undefined ? REGULAR_MS : Math.min(LONGEST_RETRY_MS, RETRY_MS * 2 ** Math.min(failures - 1, 6)));
    })());
  const plan = (ms: number): void => {
    timer?.();
    timer = isOn() ? clock.after(ms, () => void run()) : undefined;
  };

  const fetch = async (applianceId: string): Promise<Result<{ visits: number; lastVisitWallMs?: number; isHere: boolean }, Problem>> => {
    const office = await current();
    if (!office.ok) return office;
    const got = await fetchAppliance(records, office.value, applianceId, VISITS_FETCHED, pullParts);
    if (!got.ok) return got;
    if (got.value.added + got.value.merged > 0) parts.visitsCame();
    const here = await records.use(({ appliances }) => ok(appliances.get(applianceId).ok));
    await tell();
    const { lastVisitWallMs } = got.value;
    return here.ok ? ok({ visits: got.value.added, isHere: here.value, ...defined({ lastVisitWallMs }) }) : here;
  };
  const chosen = new Set<string>();

  const handlers: OfficeHandlers = {
    'office.state': async () => ok(await state()),
    async 'office.test'({ choice: given = choice(), password: typed }) {
      const office = await open(given, { ...openParts, password: () => typed ?? password() });
      if (!office.ok) return office;
      try {
        const about = await office.value.about();
        if (!about.ok) return about;
        const count = await office.value.count();
        if (!count.ok) return count;
        const { name, clockAheadMs } = about.value;
        const items = Object.values(count.value.items).reduce((sum, n) => sum + n, 0);
        return ok({
          name,
          items,
          ...defined({ clockAheadMs: clockAheadMs !== undefined && Math.abs(clockAheadMs) > CLOCK_OFF_MS ? clockAheadMs : undefined }),
        });
      } finally {
        await office.value.close();
      }
    },
    async 'office.password'({ password: typed }) {
      session = typed === '' ? undefined : typed;
      const kept = typed === '' ? (secrets.forget(), false) : secrets.save(secretName(choice()), typed);
      await opened?.office.close();
      opened = undefined;
      if (isOn()) void run();
      return ok({ kept });
    },
    async 'office.sync'() {
      if (!isOn()) return err(problem('office-off'));
      await run();
      return ok(await state());
    },
    'office.fetch': ({ applianceId }) => fetch(applianceId),
    async 'office.search'({ words, dueBefore, limit }) {
      const office = await current();
      if (!office.ok) return office;
      const found = await office.value.search({ words, dueBefore, limit });
      if (!found.ok) return found;
      const marked = await records.use(({ appliances }) =>
        ok(found.value.map((one) => ({ ...one, isHere: appliances.get(one.applianceId).ok }))),
      );
      return marked.ok ? ok({ found: marked.value }) : marked;
    },
    async 'office.conflicts'() {
      const found = await records.use((tables) => tables.office.attempt(() => conflictsHere(tables)));
      return found.ok ? ok({ conflicts: found.value }) : found;
    },
    async 'office.settle'({ key, take }) {
      const made = { wallMs: clock.wallMs(), by: settings().technician.name || 'operator' };
      const done = await records.use((tables) => settle(tables, key, take, made));
      if (!done.ok) return done;
      recordsChanged('all');
      await tell();
      return ok({});
    },
  };

  if (isOn()) plan(SOON_MS);
  let setTo = JSON.stringify(choice());
  return {
    handlers,
    recordsChanged() {
      if (!isOn() || busy !== undefined || failures > 0) return;
      // a visit is saved every moment; only what is signed waits for the office
      void records
        .use(({ office }) => office.attempt(() => office.count().queued))
        .then((count) => {
          if (count.ok && count.value > 0 && busy === undefined && isOn()) plan(SOON_MS);
        });
    },
    applianceChosen(applianceId) {
      if (!isOn() || chosen.has(applianceId)) return;
      chosen.add(applianceId);
      void fetch(applianceId).then((done) => {
        // not there now: looked for again when it is chosen again
        if (!done.ok) chosen.delete(applianceId);
      });
    },
    settingsChanged() {
      if (JSON.stringify(choice()) === setTo) return;
      setTo = JSON.stringify(choice());
      failures = 0;
      chosen.clear();
      now = { phase: isOn() ? 'waiting' : 'off' };
      if (isOn()) void run();
      else {
        timer?.();
        void opened?.office.close();
        opened = undefined;
        void tell();
      }
    },
    async close() {
      isClosed = true;
      timer?.();
      await opened?.office.close();
      await busy;
    },
  };
}

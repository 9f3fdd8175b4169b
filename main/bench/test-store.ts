/**
 * Bench tests in memory and on the disk. What may be done to a test, and what follows when the disk refuses it, is in
 * shared/bench/session/kept-test.ts; here saves and changes are done one after the other.
 */
import { createTurns } from '../turns.ts';
import { BenchTest } from '../../shared/bench/bench-test.ts';
import {
  isOnDisk,
  keptOf,
  nextKept,
  whyUnchangeable,
  whyUnsignable,
  type KeptDeed,
  type KeptHappening,
  type KeptTest,
  type Stored,
} from '../../shared/bench/session/kept-test.ts';
import { closedTest } from '../../shared/bench/session/test-changes.ts';
import type { Clock } from '../../shared/clock.ts';
import type { StoredBenchTest } from '../../shared/ipc/bench-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { Records } from '../store/records.ts';
import { keepResponse } from '../visits/known-appliance.ts';
import { hashOfTest, isAltered } from './signature.ts';

export type TestStoreParts = {
  readonly clock: Clock;
  readonly records: Pick<Records, 'use'>;
  /** an alarm that stays until `clear` */
  readonly raise: (key: string, what: Problem) => void;
  readonly clear: (key: string) => void;
  readonly tell: (ids: readonly string[]) => void;
  /** a session leads it */
  readonly isLed: (id: string) => boolean;
  /** whoever leads it goes on with this */
  readonly onBody: (id: string, body: BenchTest) => void;
};

export interface TestStore {
  /** a test at hand */
  get(id: string): KeptTest | undefined;
  /** at hand or on the disk */
  find(id: string): Promise<Result<KeptTest, Problem>>;
  /** it stays at hand; what is at hand already is newer */
  hold(id: string, test: KeptTest): void;
  /** a test that begins */
  add(id: string, body: BenchTest): Promise<Result<KeptTest, Problem>>;
  /** a session changed it. @returns when it is saved */
  put(id: string, body: BenchTest): Promise<Result<unknown, Problem>>;
  /** a person changed it. @returns what was saved */
  change(id: string, to: (test: BenchTest) => BenchTest): Promise<Result<BenchTest, Problem>>;
  sign(id: string, name: string): Promise<Result<StoredBenchTest, Problem>>;
  /** what the test says of how the instrument answers, for the runs of its visits; it is saved whatever becomes of this */
  keepTimes(id: string, body: BenchTest): Promise<Result<unknown, Problem>>;
  /** nobody leads it any more; what the disk does not hold stays at hand */
  release(id: string): void;
  /** it is not in the records any more */
  drop(id: string): void;
  isUnsaved(id: string): boolean;
  /** as windows see it; only what is at hand */
  shown(id: string): StoredBenchTest | undefined;
  /** does the disk hold what is at hand? A save of our own may be under way, so that ours is one ahead or behind. */
  isSameOnDisk(id: string): Promise<boolean>;
  /** everything that could be saved is saved */
  close(): Promise<void>;
}

const TRY_AGAIN_MS = 2000;
const alarmOf = (id: string): string => `bench:${id}`;

export function createTestStore({ clock, records, raise, clear, tell, isLed, onBody }: TestStoreParts): TestStore {
  const tests = new Map<string, KeptTest>();
  const saves = new Map<string, Promise<Result<BenchTest, Problem>>>();
  const inTurn = createTurns();
  let triesAgain: (() => void) | undefined;

  const happened = (id: string, what: KeptHappening): void => {
    const before = tests.get(id);
    if (before === undefined) return;
    const { test, deeds } = nextKept(before, what);
    tests.set(id, test);
    if (test.body !== before.body) onBody(id, test.body);
    for (const deed of deeds) carryOut(id, deed);
  };
  const carryOut = (id: string, deed: KeptDeed): void => {
    switch (deed.kind) {
      case 'save':
        return void save(id);
      case 'raise-alarm':
        return raise(alarmOf(id), deed.problem);
      case 'clear-alarm':
        return clear(alarmOf(id));
      case 'try-again':
        triesAgain ??= clock.every(TRY_AGAIN_MS, tryAgain);
        return;
      case 'tell':
        return tell([id]);
    }
  };

  const unsaved = (): string[] => [...tests].filter(([, { phase }]) => phase === 'unsaved').map(([id]) => id);
  const tryAgain = (): void => {
    if (unsaved().length === 0) {
      triesAgain?.();
      triesAgain = undefined;
    }
    for (const id of unsaved()) void save(id);
  };

  const read = (id: string): Promise<Result<Stored, Problem>> =>
    records.use((tables) => tables.documents['bench-test'].get(id)).then((found) => (found.ok ? ok(storedOf(found.value)) : found));
  async function write(id: string, body: BenchTest, revision: number): Promise<Result<Stored, Problem>> {
    const saved = await records.use((tables) =>
      tables.documents['bench-test'].save(id, body, { wallMs: clock.wallMs(), parentId: body.instrumentId, revision }),
    );
    return saved.ok ? ok(storedOf(saved.value)) : saved;
  }

  /** One save after the other for each test, each of what is at hand when its turn comes. */
  function save(id: string): Promise<Result<BenchTest, Problem>> {
    const next = (saves.get(id) ?? Promise.resolve()).then(async (): Promise<Result<BenchTest, Problem>> => {
      const test = tests.get(id);
      if (test === undefined) return err(problem('not-found'));
      if (test.phase === 'signed') return ok(test.body);
      const saved = await write(id, test.body, test.revision);
      happened(id, saved.ok ? { ...saved.value, kind: 'taken', body: test.body } : { kind: 'refused', why: saved.error });
      return saved.ok ? ok(test.body) : err(problem('bench-unsaved', saved.error.detail ?? saved.error.code));
    });
    saves.set(id, next);
    // the last one that was asked for: nothing waits for what is at hand any more
    void next.then(() => {
      if (saves.get(id) !== next) return;
      saves.delete(id);
      release(id);
    });
    return next;
  }

  async function find(id: string): Promise<Result<KeptTest, Problem>> {
    const known = tests.get(id);
    if (known !== undefined) return ok(known);
    const found = await read(id);
    return found.ok ? ok(keptOf(found.value)) : found;
  }
  const hold = (id: string, test: KeptTest): void => {
    if (!tests.has(id)) tests.set(id, test);
  };
  function release(id: string): void {
    const test = tests.get(id);
    if (test !== undefined && !isLed(id) && isOnDisk(test)) tests.delete(id);
  }

  // what was signed meanwhile is seen by the next change, and is not saved over
  const put = (id: string, body: BenchTest): Promise<Result<BenchTest, Problem>> => {
    happened(id, { kind: 'changed', body });
    return saves.get(id) ?? Promise.resolve(ok(body));
  };
  async function changeNow(id: string, to: (test: BenchTest) => BenchTest): Promise<Result<BenchTest, Problem>> {
    const found = await find(id);
    if (!found.ok) return found;
    const why = whyUnchangeable(found.value);
    if (why !== undefined) return err(problem(why));
    const next = to(found.value.body);
    // what the records can never hold would keep everything that is measured after it from them too
    const checked = BenchTest.safeParse(next);
    if (!checked.success) return err(problem('value-out-of-range', checked.error.issues[0]?.message));
    hold(id, found.value);
    return put(id, next);
  }

  const keepTimes = (id: string, body: BenchTest): Promise<Result<unknown, Problem>> =>
    records.use((tables) => keepResponse(tables, id, body, clock.wallMs()));

  async function sign(id: string, name: string): Promise<Result<StoredBenchTest, Problem>> {
    if (tests.get(id)?.phase === 'unsaved') await save(id);
    else await saves.get(id);
    const found = await find(id);
    if (!found.ok) return found;
    const why = whyUnsignable(found.value);
    if (why !== undefined) return err(problem(why));
    const { body, revision } = found.value;
    const done = closedTest(clock.wallMs())(body);
    // signed is what the disk holds; until it does, the test stays as it is
    const signed = { ...done, signature: { name, wallMs: Math.round(clock.wallMs()), hash: hashOfTest(done) } };
    const saved = await write(id, signed, revision);
    if (!saved.ok) return saved;
    hold(id, found.value);
    happened(id, { kind: 'signed', ...saved.value });
    await keepTimes(id, saved.value.body);
    release(id);
    return ok(shownAs(id, saved.value));
  }

  return {
    get: (id) => tests.get(id),
    find,
    hold,
    async add(id, body) {
      const saved = await write(id, body, 0);
      if (!saved.ok) return saved;
      hold(id, keptOf(saved.value));
      return ok(keptOf(saved.value));
    },
    put,
    change: (id, to) => inTurn(id, () => changeNow(id, to)),
    sign: (id, name) => inTurn(id, () => sign(id, name)),
    keepTimes,
    release,
    drop(id) {
      happened(id, { kind: 'gone' });
      tests.delete(id);
      saves.delete(id);
    },
    isUnsaved: (id) => tests.get(id)?.phase === 'unsaved',
    shown(id) {
      const test = tests.get(id);
      return test === undefined ? undefined : shownAs(id, test);
    },
    async isSameOnDisk(id) {
      const stored = await read(id);
      return stored.ok && Math.abs(stored.value.revision - (tests.get(id)?.revision ?? 0)) <= 1;
    },
    async close() {
      triesAgain?.();
      await Promise.all(saves.values());
      await Promise.all(unsaved().map(save));
    },
  };
}

const storedOf = ({ revision, changedMs, body }: { revision: number; changedMs: number; body: unknown }): Stored => ({
  revision,
  changedMs,
  body: body as BenchTest,
});
const shownAs = (id: string, { revision, changedMs, body }: Stored): StoredBenchTest => ({
  id,
  revision,
  changedMs,
  body,
  ...(isAltered(body) ? { altered: true } : {}),
});

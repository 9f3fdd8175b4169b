/**
 * The bench behind its screens: lists of documents, and the session that leads several instruments through one plan.
 * It lives outside React, so that a test goes on while another workspace is looked at.
 */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { AppParts } from '../../app-parts.ts';
import { BenchTest, lastRound, nextStepIndex, type DoneStep } from '../../../shared/bench/bench-test.ts';
import { createColumn, type Column, type ColumnState } from '../../../shared/bench/column.ts';
import { Instrument, ReferenceGas } from '../../../shared/bench/instrument.ts';
import { BenchLimits } from '../../../shared/bench/limits.ts';
import { BenchPlan, keepsGas, type GasSlot, type PlanStep } from '../../../shared/bench/plan.ts';
import { inletFor } from '../../../shared/bench/practice.ts';
import { channelsOf, gasOf, levelsOf } from '../../../shared/bench/references.ts';
import type { LiveBatch } from '../../../shared/ipc/run-commands.ts';
import { bench as words } from '../../../shared/words/bench.ts';
import { samplesOf } from './history-samples.ts';
import { draftAfter, emptyDraft, type SetUpDraft } from './set-up-draft.ts';

export type Doc<T> = { readonly id: string; readonly revision: number; readonly changedMs: number; readonly body: T };
export type BenchView =
  | { readonly kind: 'home' | 'set-up' | 'run' }
  | {
      readonly kind: 'instrument' | 'gas' | 'plan' | 'limits';
      readonly id: string | undefined;
      readonly copyOf?: BenchPlan | BenchLimits | undefined;
      /** typed in the middle of a set-up, for this source or this gas: goes back to it, and is chosen there */
      readonly wantedFor?: { readonly runId: string } | { readonly slot: GasSlot } | undefined;
    }
  | { readonly kind: 'result' | 'certificate'; readonly testId: string };

export type BenchLists = {
  readonly instrument: readonly Doc<Instrument>[];
  readonly gas: readonly Doc<ReferenceGas>[];
  readonly 'bench-plan': readonly Doc<BenchPlan>[];
  readonly 'bench-limits': readonly Doc<BenchLimits>[];
  readonly 'bench-test': readonly Doc<BenchTest>[];
};
export type BenchKind = keyof BenchLists;

export type BenchSession = {
  readonly testIds: readonly string[];
  readonly stepIndex: number;
  /** live state per test */
  readonly columns: Readonly<Record<string, ColumnState>>;
};

export type BenchState = {
  readonly view: BenchView;
  readonly lists: BenchLists;
  readonly loaded: boolean;
  readonly unreadable: number;
  readonly session: BenchSession | undefined;
  readonly draft: SetUpDraft | undefined;
};

const kinds = ['instrument', 'gas', 'bench-plan', 'bench-limits', 'bench-test'] as const;
const schemas = {
  instrument: Instrument,
  gas: ReferenceGas,
  'bench-plan': BenchPlan,
  'bench-limits': BenchLimits,
  'bench-test': BenchTest,
};
const FACE_MS = 250;
const HISTORY_BUCKETS = 4000;
/** what stood before the switch is needed for the way there */
const BEFORE_MS = 120_000;

type Seat = { readonly column: Column; readonly runId: string; gapMs: number; beginsAt: number; lastMs: number };
export type BenchDesk = ReturnType<typeof createBenchDesk>;

export function createBenchDesk({ client, store, actions }: Pick<AppParts, 'client' | 'store' | 'actions'>) {
  const bench: StoreApi<BenchState> = createStore<BenchState>()(() => ({
    view: { kind: 'home' },
    lists: { instrument: [], gas: [], 'bench-plan': [], 'bench-limits': [], 'bench-test': [] },
    loaded: false,
    unreadable: 0,
    session: undefined,
    draft: undefined,
  }));
  const seats = new Map<string, Seat>();
  const saves = new Map<string, Promise<unknown>>();
  let faceWaits = false;
  let starts = false;
  /** the seats of a session are read from its runs first */
  let seating: Promise<void> = Promise.resolve();

  const state = () => bench.getState();
  const testOf = (id: string): BenchTest | undefined => state().lists['bench-test'].find((doc) => doc.id === id)?.body;
  const recordOf = (runId: string) => store.getState().runs[runId];
  const mayLead = (): boolean => store.getState().role === 'operator' && store.getState().wire.phase === 'open';

  async function load(): Promise<void> {
    // a test that runs is ahead of the disk while its saves are under way
    await Promise.all(saves.values());
    const answers = await Promise.all(kinds.map((kind) => client.call('document.list', { kind, limit: 500 })));
    const running = new Map(
      state().lists['bench-test'].flatMap((doc) => (state().session?.testIds.includes(doc.id) === true ? [[doc.id, doc]] : [])),
    );
    let unreadable = 0;
    const lists = Object.fromEntries(
      kinds.map((kind, i) => {
        const answer = answers[i];
        if (answer?.ok !== true) return [kind, state().lists[kind]];
        unreadable += answer.value.unreadable;
        return [
          kind,
          answer.value.documents.flatMap(({ body, ...rest }) => {
            const read = schemas[kind].safeParse(body);
            return read.success ? [(kind === 'bench-test' ? running.get(rest.id) : undefined) ?? { ...rest, body: read.data }] : [];
          }),
        ];
      }),
    ) as unknown as BenchLists;
    bench.setState({ lists, loaded: true, unreadable });
  }

  const replaceDoc = (kind: BenchKind, doc: Doc<unknown>): void =>
    bench.setState(({ lists }) => {
      const known = lists[kind] as readonly Doc<unknown>[];
      const next = known.some(({ id }) => id === doc.id) ? known.map((one) => (one.id === doc.id ? doc : one)) : [doc, ...known];
      return { lists: { ...lists, [kind]: next } };
    });

  async function saveDoc<K extends BenchKind>(
    kind: K,
    body: BenchLists[K][number]['body'],
    { id, parentId, latest }: { id?: string | undefined; parentId?: string | undefined; latest?: () => typeof body | undefined } = {},
  ): Promise<string | undefined> {
    const saved = await actions.ask('document.save', {
      kind,
      body: JSON.parse(JSON.stringify(body)) as never,
      ...(id === undefined ? {} : { id }),
      ...(parentId === undefined ? {} : { parentId }),
    });
    if (saved === undefined) return undefined;
    // what changed while the disk was at work stands, and is saved next
    replaceDoc(kind, { id: saved.id, revision: saved.revision, changedMs: saved.changedMs, body: latest?.() ?? body });
    return saved.id;
  }

  /** What is on the screen changes at once; the file follows, one save after the other. */
  function changeTest(id: string, change: (test: BenchTest) => BenchTest): void {
    const doc = state().lists['bench-test'].find((one) => one.id === id);
    // what was signed stays as it was signed
    if (doc === undefined || doc.body.signature !== undefined) return;
    const body = change(doc.body);
    replaceDoc('bench-test', { ...doc, body });
    const before = saves.get(id) ?? Promise.resolve();
    saves.set(
      id,
      before.then(() => saveDoc('bench-test', testOf(id) ?? body, { id, parentId: body.instrumentId, latest: () => testOf(id) })),
    );
  }

  async function removeDoc(kind: BenchKind, id: string): Promise<void> {
    const done = await actions.ask('document.remove', { kind, id });
    if (done === undefined) return;
    bench.setState(({ lists }) => ({
      lists: { ...lists, [kind]: (lists[kind] as readonly Doc<unknown>[]).filter((doc) => doc.id !== id) },
    }));
  }

  const planOf = (session: BenchSession): readonly PlanStep[] => testOf(session.testIds[0] ?? '')?.plan.steps ?? [];
  const stepOf = (session: BenchSession): PlanStep | undefined => planOf(session)[session.stepIndex];
  /** run time at which the test's own time begins */
  const zeroOf = (test: BenchTest, runId: string): number => test.startedWallMs - (recordOf(runId)?.info.startWallMs ?? test.startedWallMs);

  const showColumns = (): void =>
    bench.setState(({ session }) =>
      session === undefined
        ? {}
        : { session: { ...session, columns: Object.fromEntries([...seats].map(([id, { column }]) => [id, column.state()])) } },
    );

  function beginStep(): void {
    const { session } = state();
    if (session === undefined) return;
    const steps = planOf(session);
    const step = steps[session.stepIndex];
    if (step === undefined) return;
    for (const [id, seat] of seats) {
      const test = testOf(id);
      const before = test === undefined ? undefined : lastRound(test).steps[session.stepIndex - 1];
      // what was left out or never reached did not bring its gas
      const same = keepsGas(steps, session.stepIndex) && before?.end === 'reached';
      seat.beginsAt = session.stepIndex;
      seat.column.begin(step, seat.lastMs, same);
    }
    showColumns();
  }

  /** A step ends for one instrument; when it has ended for all, the plan goes on. */
  function closeStep(testId: string, end: DoneStep['end'], why?: string): void {
    const { session } = state();
    const seat = seats.get(testId);
    const test = testOf(testId);
    const step = session === undefined ? undefined : stepOf(session);
    if (session === undefined || test === undefined || step === undefined || lastRound(test).steps.length > session.stepIndex) return;
    const taken = seat?.column.take(zeroOf(test, seat.runId));
    const done: DoneStep =
      end === 'reached' && taken !== undefined
        ? { ...taken, end }
        : { stepId: step.id, end, atMs: taken?.atMs ?? 0, ...(why === undefined || why === '' ? {} : { why }) };
    changeTest(testId, ({ mark: _, ...kept }) => {
      const next: BenchTest = {
        ...kept,
        rounds: kept.rounds.map((round, i) => (i === kept.rounds.length - 1 ? { ...round, steps: [...round.steps, done] } : round)),
      };
      if (nextStepIndex(next) < next.plan.steps.length) return next;
      const { info, face } = recordOf(next.runId) ?? {};
      return { ...next, status: 'done', endedWallMs: Math.round(info === undefined ? Date.now() : info.startWallMs + (face?.timeMs ?? 0)) };
    });
    const allDone = session.testIds.every((id) => {
      const one = testOf(id);
      return one === undefined || nextStepIndex(one) > session.stepIndex;
    });
    if (!allDone) return showColumns();
    bench.setState({ session: { ...session, stepIndex: session.stepIndex + 1 } });
    beginStep();
  }

  function take(batch: LiveBatch): void {
    for (const [id, seat] of seats) {
      if (seat.runId !== batch.runId) continue;
      const gap = batch.gaps.find(({ fromMs }) => fromMs > seat.gapMs);
      if (gap !== undefined) {
        seat.gapMs = gap.fromMs;
        seat.column.gap();
      }
      for (const sample of batch.samples) {
        seat.lastMs = Math.max(seat.lastMs, sample.timeMs);
        seat.column.push(sample);
        const { session } = state();
        if (session !== undefined && seat.beginsAt === session.stepIndex && mayLead() && seat.column.state().phase === 'closed')
          closeStep(id, 'reached');
      }
    }
    if (seats.size === 0 || faceWaits) return;
    faceWaits = true;
    setTimeout(() => {
      faceWaits = false;
      showColumns();
    }, FACE_MS);
  }
  client.on('live.batch', take);
  client.on('records.changed', ({ what }) => {
    // another window's doing; our own saves are in the lists already
    if (what !== 'visits' && what !== 'appliances' && !mayLead()) void load();
  });

  /** Leads these tests on from where they are; what was captured meanwhile is read first. */
  async function openSession(testIds: readonly string[]): Promise<void> {
    seats.clear();
    const tests = testIds.flatMap((id) => testOf(id) ?? []);
    const stepIndex = Math.min(...tests.map(nextStepIndex));
    for (const test of tests) await continueRun(test);
    bench.setState({ session: { testIds, stepIndex, columns: {} }, view: { kind: 'run' } });
    seating = (async () => {
      for (const id of testIds) await seatTest(id);
    })();
    await seating;
    showColumns();
  }

  /** A run that was cut off by a crash goes on first; a simulated inlet is set to the gas that the plan has on. */
  async function continueRun(test: BenchTest): Promise<void> {
    const known = recordOf(test.runId);
    const cut = store.getState().interrupted.some(({ runId }) => runId === test.runId);
    if (!cut || (known !== undefined && known.info.phase !== 'ended')) return;
    const info = await actions.ask('run.continue', { runId: test.runId });
    if (info === undefined) return;
    store.getState().interruptedLeft(test.runId);
    store.getState().runChanged(info);
    if (info.source.kind !== 'simulated') return;
    const index = nextStepIndex(test);
    const on = test.plan.steps[test.mark?.stepId === test.plan.steps[index]?.id ? index : index - 1]?.slot ?? 'air';
    const gas = on === 'air' ? ('air' as const) : gasOf(test.gases, on);
    const inlet = gas === undefined ? undefined : inletFor(gas);
    if (inlet !== undefined) await actions.ask('simulator.part', { runId: test.runId, part: 'inlet', value: inlet });
  }

  async function seatTest(id: string): Promise<void> {
    const { session } = state();
    const test = testOf(id);
    if (session === undefined || test === undefined) return;
    const step = planOf(session)[session.stepIndex];
    const column = createColumn({ channels: channelsOf(test.instrument.cells), levels: levelsOf(test) });
    const record = recordOf(test.runId);
    const nowMs = record?.face.timeMs ?? 0;
    const seat: Seat = { column, runId: test.runId, gapMs: record?.gaps.at(-1)?.fromMs ?? -1, beginsAt: session.stepIndex, lastMs: nowMs };
    if (step === undefined) return void seats.set(id, seat);
    const zero = zeroOf(test, test.runId);
    const mark = test.mark?.stepId === step.id && test.mark.runId === test.runId ? test.mark.timeMs : undefined;
    const ended = lastRound(test).steps[session.stepIndex - 1];
    const beginMs = ended === undefined ? Math.min(mark ?? nowMs, nowMs) : Math.min(zero + ended.atMs, mark ?? nowMs, nowMs);
    const same = keepsGas(test.plan.steps, session.stepIndex) && ended?.end === 'reached';
    const history =
      record === undefined || beginMs >= nowMs - 1
        ? undefined
        : await client.call('run.history', {
            runId: test.runId,
            fromMs: Math.max(0, beginMs - BEFORE_MS),
            toMs: Math.max(1, nowMs),
            buckets: HISTORY_BUCKETS,
          });
    const samples = history?.ok === true ? samplesOf(history.value) : [];
    const breaks = history?.ok === true ? history.value.gaps.map(({ fromMs }) => fromMs) : [];
    let begun = false;
    let marked = false;
    const reach = (timeMs: number): void => {
      if (!begun && timeMs >= beginMs) {
        // a run that began later can't tell of the time before it, but the wall clock of a drift goes on
        column.begin(step, step.purpose === 'drift' ? beginMs : Math.max(0, beginMs), same);
        begun = true;
      }
      if (!marked && mark !== undefined && timeMs >= mark) {
        column.mark(mark);
        marked = true;
      }
    };
    for (const sample of samples) {
      while (breaks[0] !== undefined && breaks[0] <= sample.timeMs) {
        column.gap();
        breaks.shift();
      }
      reach(sample.timeMs);
      column.push(sample);
    }
    if (breaks.length > 0) column.gap();
    reach(Number.POSITIVE_INFINITY);
    seats.set(id, seat);
  }

  return {
    store: bench,
    load,
    saveDoc,
    removeDoc,
    changeTest,
    show: (view: BenchView): void => bench.setState({ view }),
    /** Back from a form to where it was opened; what was saved there is chosen in the set-up. */
    leaveForm(savedId?: string): void {
      const { view, draft } = state();
      const wanted = 'wantedFor' in view ? view.wantedFor : undefined;
      if (wanted === undefined || draft === undefined) return bench.setState({ view: { kind: 'home' } });
      const chosen =
        savedId === undefined
          ? {}
          : 'runId' in wanted
            ? { which: { ...draft.which, [wanted.runId]: savedId } }
            : { bottles: { ...draft.bottles, [wanted.slot]: savedId } };
      bench.setState({ view: { kind: 'set-up' }, draft: { ...draft, ...chosen } });
    },
    setDraft: (change: (draft: SetUpDraft) => SetUpDraft): void =>
      bench.setState(({ draft }) => (draft === undefined ? {} : { draft: change(draft) })),
    /** The set-up as it was left; else as the test before, so that the next instrument needs no second choice of plan, gases and limits. */
    setUp({
      after,
      technician,
      today,
      dayOf,
    }: {
      after?: BenchTest | undefined;
      technician: string;
      today: string;
      dayOf: (test: BenchTest) => string;
    }): void {
      const { lists, draft } = state();
      const last = after ?? [...lists['bench-test']].sort((a, b) => b.body.startedWallMs - a.body.startedWallMs)[0]?.body;
      const seed = (draft?.seed ?? 0) + 1;
      bench.setState({
        view: { kind: 'set-up' },
        draft:
          after === undefined && draft !== undefined
            ? draft
            : last === undefined
              ? emptyDraft(technician)
              : {
                  ...draftAfter(last, { gases: lists.gas, today, dayOf, seed }),
                  ...(last.person === undefined ? { person: technician } : {}),
                },
      });
    },
    testOf,
    stepOf: (): PlanStep | undefined => {
      const { session } = state();
      return session === undefined ? undefined : stepOf(session);
    },
    curveOf: (testId: string) => seats.get(testId)?.column.curve() ?? {},
    openSession,
    /** Saves one test per instrument and begins. */
    async start(tests: readonly BenchTest[]): Promise<void> {
      // a second click while the first is under way
      if (starts) return;
      starts = true;
      const ids: string[] = [];
      for (const test of tests) {
        const id = await saveDoc('bench-test', test, { parentId: test.instrumentId });
        if (id !== undefined) ids.push(id);
      }
      starts = false;
      if (ids.length !== tests.length) return;
      bench.setState({ draft: undefined });
      await openSession(ids);
    },
    /** The gas was switched now: the host says when, for every instrument of the session that waits for it. */
    async press(): Promise<void> {
      await seating;
      const { session } = state();
      const step = session === undefined ? undefined : stepOf(session);
      if (session === undefined || step === undefined || !mayLead()) return;
      await Promise.all(
        session.testIds.map(async (id) => {
          const test = testOf(id);
          const seat = seats.get(id);
          if (test === undefined || seat === undefined || nextStepIndex(test) > session.stepIndex) return;
          const record = recordOf(seat.runId);
          if (record === undefined || record.info.phase === 'ended') return;
          const gas = step.slot === 'air' ? ('air' as const) : gasOf(test.gases, step.slot);
          const inlet = gas === undefined ? undefined : inletFor(gas);
          const name = gas === undefined || gas === 'air' ? words.slots[step.slot] : gas.name;
          const mark = await actions.ask('run.mark', { runId: seat.runId, body: { kind: 'note', text: `${words.run.pressed}: ${name}` } });
          // the mark first: in quick time the answer takes its time
          if (record.info.source.kind === 'simulated' && inlet !== undefined)
            await actions.ask('simulator.part', { runId: seat.runId, part: 'inlet', value: inlet });
          if (mark === undefined || state().session?.stepIndex !== session.stepIndex) return;
          seat.column.mark(mark.timeMs);
          changeTest(id, (kept) => ({ ...kept, mark: { stepId: step.id, runId: seat.runId, timeMs: mark.timeMs } }));
        }),
      );
      showColumns();
    },
    acceptGas(testId: string): void {
      seats.get(testId)?.column.acceptGas();
      showColumns();
    },
    notReached: (testId: string, why: string): void => closeStep(testId, 'not-reached', why),
    leaveOut(why: string): void {
      const { session } = state();
      for (const id of session?.testIds ?? []) closeStep(id, 'left-out', why);
    },
    /** the rest of the plan is left out for all */
    stopHere(why: string): void {
      for (let guard = 0; guard < 100; guard++) {
        const { session } = state();
        if (session === undefined || stepOf(session) === undefined) return;
        for (const id of session.testIds) closeStep(id, 'left-out', why);
      }
    },
    /** The same step once more, at the end of the round. */
    async repeatStep(testIds: readonly string[], step: PlanStep): Promise<void> {
      for (const id of testIds)
        changeTest(id, ({ endedWallMs: _, ...test }) => ({
          ...test,
          status: 'open',
          plan: {
            ...test.plan,
            steps: [...test.plan.steps, { ...step, id: `${step.id.split('r')[0]}r${test.plan.steps.length}`.slice(0, 40) }],
          },
        }));
      await openSession(testIds);
    },
    async asLeft(testId: string, adjustment: string): Promise<void> {
      const runId = testOf(testId)?.runId ?? '';
      changeTest(testId, ({ endedWallMs: _, ...test }) => ({
        ...test,
        status: 'open',
        adjustment: test.adjustment === undefined ? adjustment : `${test.adjustment}; ${adjustment}`,
        rounds: [
          ...test.rounds,
          { kind: 'as-left', startedMs: Math.max(0, (recordOf(runId)?.face.timeMs ?? 0) - zeroOf(test, runId)), steps: [] },
        ],
      }));
      await openSession([testId]);
    },
    async rebind(testId: string, runId: string): Promise<void> {
      changeTest(testId, ({ mark: _, ...test }) => ({ ...test, runId }));
      await seatTest(testId);
      showColumns();
    },
    /** everything of this test is on the disk */
    flushed: async (testId: string): Promise<void> => void (await saves.get(testId)),
    finish(testId: string, wallMs: number): void {
      changeTest(testId, (test) => ({ ...test, status: 'done', endedWallMs: test.endedWallMs ?? wallMs }));
    },
  };
}

const desks = new WeakMap<AppParts, BenchDesk>();
/** One desk per window. */
export function deskOf(parts: AppParts): BenchDesk {
  const known = desks.get(parts);
  if (known !== undefined) return known;
  const desk = createBenchDesk(parts);
  desks.set(parts, desk);
  return desk;
}

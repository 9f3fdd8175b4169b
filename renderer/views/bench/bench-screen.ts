/** What is chosen and typed on the bench screens, and what the host says of the tests. The host leads them; nothing here measures or decides. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { AppParts } from '../../app-parts.ts';
import { BenchTest } from '../../../shared/bench/bench-test.ts';
import { Instrument, ReferenceGas } from '../../../shared/bench/instrument.ts';
import { BenchLimits } from '../../../shared/bench/limits.ts';
import { BenchPlan, type GasSlot } from '../../../shared/bench/plan.ts';
import type { BenchSession } from '../../../shared/ipc/bench-commands.ts';
import type { CallInput } from '../../../shared/ipc/contract.ts';
import { draftAfter, emptyDraft, type SetUpDraft } from './set-up/set-up-draft.ts';
import { defined } from '../../../shared/defined.ts';

/** `altered`: it is signed, and no longer what was signed */
export type Doc<T> = {
  readonly id: string;
  readonly revision: number;
  readonly changedMs: number;
  readonly body: T;
  readonly altered?: boolean | undefined;
};
export type BenchView =
  | { readonly kind: 'home' | 'set-up' }
  | {
      readonly kind: 'instrument' | 'gas' | 'plan' | 'limits';
      readonly id: string | undefined;
      readonly copyOf?: BenchPlan | BenchLimits | undefined;
      /** typed in the middle of a set-up, for this source or this gas: goes back to it, and is chosen there */
      readonly wantedFor?: { readonly runId: string } | { readonly slot: GasSlot } | undefined;
    }
  | { readonly kind: 'run' | 'result' | 'certificate'; readonly testId: string };

export type BenchLists = {
  readonly instrument: readonly Doc<Instrument>[];
  readonly gas: readonly Doc<ReferenceGas>[];
  readonly 'bench-plan': readonly Doc<BenchPlan>[];
  readonly 'bench-limits': readonly Doc<BenchLimits>[];
  readonly 'bench-test': readonly Doc<BenchTest>[];
};
export type BenchKind = keyof BenchLists;
/** what a person writes; a test is what was measured, and the host's */
type WrittenKind = Exclude<BenchKind, 'bench-test'>;

export type BenchState = {
  readonly view: BenchView;
  readonly lists: BenchLists;
  readonly loaded: boolean;
  readonly unreadable: number;
  /** as the host leads them now */
  readonly sessions: readonly BenchSession[];
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

export type BenchScreen = ReturnType<typeof createBenchScreen>;
export const sessionOf = ({ sessions }: Pick<BenchState, 'sessions'>, testId: string): BenchSession | undefined =>
  sessions.find(({ testIds }) => testIds.includes(testId));

export function createBenchScreen({ client, store, actions }: Pick<AppParts, 'client' | 'store' | 'actions'>) {
  const bench: StoreApi<BenchState> = createStore<BenchState>()(() => ({
    view: { kind: 'home' },
    lists: { instrument: [], gas: [], 'bench-plan': [], 'bench-limits': [], 'bench-test': [] },
    loaded: false,
    unreadable: 0,
    sessions: [],
    draft: undefined,
  }));
  let starts = false;
  let resumes = false;
  const state = () => bench.getState();
  const show = (view: BenchView): void => bench.setState({ view });

  /** An answer that was on its way while the host told of a newer one does not bring the older one back. */
  const newest = <T>(known: readonly Doc<T>[], come: Doc<T>): Doc<T> => {
    const mine = known.find(({ id }) => id === come.id);
    return mine !== undefined && mine.revision >= come.revision ? mine : come;
  };

  async function load(): Promise<void> {
    const [sessions, ...answers] = await Promise.all([
      client.call('bench.state', {}),
      ...kinds.map((kind) => client.call('document.list', { kind, limit: 500 })),
    ]);
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
            return read.success ? [newest(state().lists[kind] as readonly Doc<unknown>[], { ...rest, body: read.data })] : [];
          }),
        ];
      }),
    ) as unknown as BenchLists;
    bench.setState({ lists, loaded: true, unreadable, ...(sessions.ok ? { sessions: sessions.value.sessions } : {}) });
  }

  const putDocs = <K extends BenchKind>(kind: K, docs: readonly Doc<unknown>[]): void =>
    bench.setState(({ lists }) => {
      let list = lists[kind] as readonly Doc<unknown>[];
      for (const doc of docs)
        list = list.some(({ id }) => id === doc.id) ? list.map((one) => (one.id === doc.id ? newest([one], doc) : one)) : [doc, ...list];
      return { lists: { ...lists, [kind]: list } };
    });

  client.on('bench.changed', ({ sessions, tests }) => {
    bench.setState({ sessions });
    if (tests.length > 0) putDocs('bench-test', tests);
  });
  client.on('records.changed', ({ what }) => {
    if (what === 'documents' || what === 'all') void load();
  });

  const ask = actions.ask;
  return {
    store: bench,
    load,
    show,
    async saveDoc<K extends WrittenKind>(
      kind: K,
      body: BenchLists[K][number]['body'],
      { id }: { id?: string | undefined } = {},
    ): Promise<string | undefined> {
      const saved = await ask('document.save', {
        kind,
        body: JSON.parse(JSON.stringify(body)) as never,
        ...defined({ id }),
      });
      if (saved === undefined) return undefined;
      putDocs(kind, [{ id: saved.id, revision: saved.revision, changedMs: saved.changedMs, body }]);
      return saved.id;
    },
    async removeDoc(kind: WrittenKind, id: string): Promise<void> {
      const done = await ask('document.remove', { kind, id });
      if (done === undefined) return;
      bench.setState(({ lists }) => ({
        lists: { ...lists, [kind]: (lists[kind] as readonly Doc<unknown>[]).filter((doc) => doc.id !== id) },
      }));
    },
    /** Back from a form to where it was opened; what was saved there is chosen in the set-up. */
    leaveForm(savedId?: string): void {
      const { view, draft } = state();
      const wanted = 'wantedFor' in view ? view.wantedFor : undefined;
      if (wanted === undefined || draft === undefined) return show({ kind: 'home' });
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
                  ...defined({ person: last.person === undefined ? technician : undefined }),
                },
      });
    },
    /** The host starts one test per instrument and leads them from here on. */
    async start(input: CallInput<'bench.start'>): Promise<void> {
      // a second click while the first is under way
      if (starts) return;
      starts = true;
      const started = await ask('bench.start', input);
      starts = false;
      const testId = started?.testIds[0];
      if (testId === undefined) return;
      bench.setState({ draft: undefined, view: { kind: 'run', testId } });
    },
    /** Goes on with these tests; a run that was cut off goes on with them. */
    async resume(testIds: readonly string[]): Promise<void> {
      const first = testIds[0];
      // a second press while the host still reads what was captured before
      if (first === undefined || resumes) return;
      resumes = true;
      const resumed = await ask('bench.resume', { testIds: [...testIds] }).finally(() => (resumes = false));
      if (resumed === undefined) return;
      for (const { id, body } of state().lists['bench-test']) if (testIds.includes(id)) store.getState().interruptedLeft(body.runId);
      show({ kind: 'run', testId: first });
    },
    async repeatStep(testIds: readonly string[], stepId: string): Promise<void> {
      const first = testIds[0];
      if (first !== undefined && (await ask('bench.repeat', { testIds: [...testIds], stepId })) !== undefined)
        show({ kind: 'run', testId: first });
    },
    async asLeft(testId: string, adjustment: string): Promise<void> {
      if ((await ask('bench.adjust', { testId, adjustment })) !== undefined) show({ kind: 'run', testId });
    },
  };
}

const screens = new WeakMap<AppParts, BenchScreen>();
/** One per window. */
export function benchScreenOf(parts: AppParts): BenchScreen {
  const known = screens.get(parts);
  if (known !== undefined) return known;
  const screen = createBenchScreen(parts);
  screens.set(parts, screen);
  return screen;
}

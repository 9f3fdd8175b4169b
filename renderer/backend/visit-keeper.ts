/** The visit of this window: begins, opens and leaves it, writes its trials from the run, asks about shifts. */
import type { Client } from '../../shared/ipc/client.ts';
import type { VisitSummary } from '../../shared/ipc/store-commands.ts';
import type { Adjuster } from '../../shared/tuning/adjuster.ts';
import type { StepId } from '../../shared/tuning/step-names.ts';
import { stepsOf } from '../../shared/tuning/steps.ts';
import { startShiftWatch, shiftAnswered, watchMark, watchShift, type ShiftWatch } from '../../shared/tuning/unmarked-shift.ts';
import { withCorrections, type Visit } from '../../shared/tuning/visit.ts';
import type { RunRecord } from '../state/run-record.ts';
import { selectRun } from '../state/selectors.ts';
import { trialsWithTightening } from '../../shared/tuning/tightened.ts';
import type { AppState, AppStore } from '../state/store.ts';
import { createVisitEdits, type VisitEdits } from './visit-edits.ts';
import { startVisitPatterns, type VisitPatterns } from './visit-patterns.ts';

export type VisitKeeper = Pick<VisitEdits, 'edit' | 'flush'> &
  Pick<VisitPatterns, 'samplesOf'> & {
    begin: (kind: 'service' | 'training') => Promise<boolean>;
    open: (id: string) => Promise<boolean>;
    /** closes the visit's window; the visit stays as it is */
    leave: () => Promise<void>;
    sign: (name: string) => Promise<boolean>;
    close: () => Promise<boolean>;
    /** the host's wall clock now, near enough to order changes against readings */
    nowWallMs: () => number;
    answerShift: () => void;
  };

const SYNC_MS = 400;

const sourceOf = ({ info }: RunRecord): Visit['runs'][number]['source'] => (info.source.kind === 'serial' ? 'port' : info.source.kind);
const isPractice = (record: RunRecord): boolean => record.info.source.kind === 'simulated' || record.info.source.kind === 'replay';

export const isFinished = (visit: Visit): boolean =>
  visit.signature !== undefined || (visit.kind === 'training' && visit.endedWallMs !== undefined);

/** A run belongs to the visit that is open while it is measured; practice never slips into a service visit. */
export const belongs = (visit: Visit, record: RunRecord): boolean => {
  if (visit.runs.some(({ id }) => id === record.info.runId)) return true;
  if (isFinished(visit) || record.info.phase === 'ended') return false;
  if (record.info.visitId !== undefined && record.info.visitId !== visit.id) return false;
  return visit.kind === 'training' || !isPractice(record);
};

/** Fine is what the settings call so; without a word there the first one is. */
export function simulatorAdjusters(record: RunRecord, settings: AppState['settings']): Adjuster[] | undefined {
  return record.info.simulator?.adjusters.map(({ name, min, max, step }, index) => {
    const known = settings.adjusters.find((one) => one.name.toLowerCase() === name.toLowerCase());
    return { name, unit: '', min, max, step, role: (known?.coarse ?? index > 0) ? 'coarse' : 'fine', kind: 'air' };
  });
}

export function startVisitKeeper(client: Client, store: AppStore): { keeper: VisitKeeper; stop: () => void } {
  const state = () => store.getState();
  const nowWallMs = (): number => {
    const { visit } = state();
    const record = selectRun(state());
    const runNow = record === undefined || record.info.phase === 'ended' ? 0 : record.info.startWallMs + record.face.timeMs;
    const known = visit === undefined ? 0 : Math.max(visit.startedWallMs, ...visit.trials.map(({ takenWallMs }) => takenWallMs));
    return Math.round(Math.max(runNow, runNow > 0 ? 0 : Date.now(), known));
  };
  const edits = createVisitEdits(client, store, nowWallMs);
  let watch: ShiftWatch = startShiftWatch();
  let watched: { runId: string | undefined; marks: number; o2Ms: number } = { runId: undefined, marks: 0, o2Ms: -1 };

  async function readAppliance(id: string | undefined, again = false): Promise<void> {
    if (id === undefined) return state().applianceShown(undefined);
    if (state().appliance?.id === id && !again) return;
    const found = await client.call('appliance.get', { id });
    if (found.ok && state().visit?.applianceId === id) state().applianceShown(found.value.stored);
  }
  async function listOpen(): Promise<readonly VisitSummary[]> {
    const list = await client.call('visit.list', { limit: 40 });
    if (!list.ok) return [];
    const open = list.value.visits.filter(({ status }) => status === 'open');
    state().openVisitsCame(open);
    return open;
  }
  async function open(id: string): Promise<boolean> {
    const got = await client.call('visit.get', { id });
    if (!got.ok) {
      state().commandFailed(got.error);
      return false;
    }
    edits.reset({ ...got.value, visit: withCorrections(got.value.visit) });
    void readAppliance(got.value.visit.applianceId);
    const { visit } = got.value;
    const stage = visit.stages.find(({ name }) => name === visit.at?.stage) ?? visit.stages[0];
    state().stageChosen(stage?.name ?? '1');
    const step = resumeStep(visit);
    state().stepChosen(step, selectRun(state()) === undefined ? 'step' : undefined);
    return true;
  }
  async function begin(kind: 'service' | 'training'): Promise<boolean> {
    const fuelId = selectRun(state())?.info.fuelId;
    const made = await client.call('visit.create', { kind, ...(fuelId === undefined ? {} : { fuelId }) });
    if (!made.ok) {
      state().commandFailed(made.error);
      return false;
    }
    edits.reset(made.value);
    edits.edit([{ path: ['tolerances'], after: state().settings.tolerances }], { quiet: true });
    state().stepChosen('start');
    state().stageChosen(made.value.visit.stages[0]?.name ?? '1');
    adopt();
    return true;
  }

  /** The run on screen goes into the visit, with its adjusters when it is the simulated burner. */
  function adopt(): void {
    const { visit, settings } = state();
    const record = selectRun(state());
    if (visit === undefined || record === undefined || !belongs(visit, record)) return;
    if (visit.runs.some(({ id }) => id === record.info.runId)) return;
    const adjusters = simulatorAdjusters(record, settings);
    const start = record.startSetting;
    edits.edit(
      [
        {
          path: ['runs', visit.runs.length],
          after: { id: record.info.runId, startWallMs: record.info.startWallMs, source: sourceOf(record) },
        },
        ...(adjusters === undefined ? [] : [{ path: ['adjusters'], after: adjusters }]),
        ...(start === undefined || visit.settingFound !== undefined || adjusters === undefined
          ? []
          : [{ path: ['settingFound'], after: start }]),
      ],
      { quiet: true },
    );
    if (visit.fuelId !== undefined && visit.fuelId !== record.info.fuelId)
      void client.call('run.change', { runId: record.info.runId, fuelId: visit.fuelId });
  }

  function syncTrials(): void {
    const { visit } = state();
    const record = selectRun(state());
    if (visit === undefined || record === undefined || isFinished(visit)) return;
    const { runId } = record.info;
    if (!visit.runs.some(({ id }) => id === runId)) return;
    const before = visit.trials.filter((trial) => trial.runId === runId);
    const startSetting = record.startSetting ??
      before.find(({ id }) => id === `${runId}:start`)?.setting ??
      visit.settingFound ?? { stage: '1', positions: [] };
    const mine = trialsWithTightening({
      runId,
      startWallMs: record.info.startWallMs,
      startSetting,
      marks: record.marks,
      edits: [],
      readings: record.readings,
    });
    if (JSON.stringify(mine) === JSON.stringify(before)) return;
    const others = visit.trials.filter((trial) => trial.runId !== runId);
    const trials = [...others, ...mine].sort((a, b) => a.takenWallMs - b.takenWallMs);
    edits.edit([{ path: ['trials'], after: trials }], { quiet: true });
  }

  function lookForShift(): void {
    const record = selectRun(state());
    const runId = record?.info.runId;
    if (runId !== watched.runId) {
      watch = startShiftWatch();
      watched = { runId, marks: record?.marks.length ?? 0, o2Ms: -1 };
      state().shiftAsked(undefined);
    }
    if (record === undefined || runId === undefined || record.info.phase !== 'running') return;
    if (record.marks.length !== watched.marks) {
      const last = record.marks.at(-1);
      if (record.marks.length > watched.marks && last !== undefined) watch = watchMark(watch, last);
      watched.marks = record.marks.length;
    }
    const o2 = record.face.states.o2;
    if (o2 !== undefined && o2.timeMs !== watched.o2Ms) {
      watched.o2Ms = o2.timeMs;
      watch = watchShift(watch, o2);
    }
    const shown = state().shift?.question.id;
    if (watch.question?.id !== shown) state().shiftAsked(watch.question === undefined ? undefined : { runId, question: watch.question });
  }

  /** An interrupted visit goes on at the step where the person was. */
  function noteWhere(): void {
    const { visit, visitStep: step, visitStage: stage } = state();
    if (visit === undefined || isFinished(visit) || state().role === 'viewer') return;
    if (visit.at?.step === step && visit.at.stage === stage) return;
    edits.edit([{ path: ['at'], after: { step, stage } }], { quiet: true });
  }

  let greeted = false;
  async function greet(): Promise<void> {
    const opened = await listOpen();
    const record = selectRun(state());
    if (record === undefined || record.info.phase === 'ended' || state().visit !== undefined) return;
    const named = opened.find(({ id }) => id === record.info.visitId);
    if (named !== undefined) return void (await open(named.id));
    const newest = opened[0] === undefined ? undefined : await client.call('visit.get', { id: opened[0].id });
    if (newest?.ok === true && newest.value.visit.runs.some(({ id }) => id === record.info.runId)) await open(newest.value.visit.id);
  }

  let syncTimer: ReturnType<typeof setTimeout> | undefined;
  const syncSoon = (): void => {
    syncTimer ??= setTimeout(() => {
      syncTimer = undefined;
      adopt();
      syncTrials();
    }, SYNC_MS);
  };
  const stops = [
    store.subscribe((now, before) => {
      if (!greeted && now.host !== undefined) {
        greeted = true;
        setTimeout(() => void greet(), 0);
      }
      const [record, earlier] = [selectRun(now), selectRun(before)];
      if (record !== undefined && record.info.runId !== earlier?.info.runId && now.visit === undefined && greeted) void greet();
      if (
        record?.marks !== earlier?.marks ||
        record?.readings !== earlier?.readings ||
        record?.info.runId !== earlier?.info.runId ||
        now.visit?.id !== before.visit?.id ||
        now.visit?.kind !== before.visit?.kind
      )
        syncSoon();
      if (record !== earlier) lookForShift();
      // what the instrument may be off by is put right in the settings, also in the middle of a visit
      if (now.settings.tolerances !== before.settings.tolerances && now.visit !== undefined && !isFinished(now.visit))
        if (JSON.stringify(now.visit.tolerances) !== JSON.stringify(now.settings.tolerances))
          edits.edit([{ path: ['tolerances'], after: now.settings.tolerances }]);
      if (now.visit?.applianceId !== before.visit?.applianceId) void readAppliance(now.visit?.applianceId);
      if (now.visitStep !== before.visitStep || now.visitStage !== before.visitStage) noteWhere();
      if (now.visitStep !== before.visitStep || now.workspace !== before.workspace) void edits.flush();
    }),
    client.on('visit.changed', (stored) => edits.stored({ ...stored, visit: withCorrections(stored.visit) })),
    client.on('records.changed', ({ what }) => {
      void listOpen();
      // its name or owner may have been changed, or taken out
      if (what !== 'documents') void readAppliance(state().visit?.applianceId, true);
    }),
  ];
  const patterns = startVisitPatterns(client, store);
  const flushNow = (): void => void edits.flush();
  addEventListener('pagehide', flushNow);
  addEventListener('blur', flushNow);

  const finished = async (answer: ReturnType<typeof client.call<'visit.sign'>>): Promise<boolean> => {
    const done = await answer;
    if (!done.ok) {
      state().commandFailed(done.error);
      return false;
    }
    edits.reset({ ...done.value, visit: withCorrections(done.value.visit) });
    return true;
  };
  return {
    keeper: {
      edit: edits.edit,
      flush: edits.flush,
      begin,
      open,
      async leave() {
        await edits.flush();
        edits.reset(undefined);
        await listOpen();
      },
      async sign(name) {
        syncTrials();
        await edits.flush();
        const id = state().visit?.id;
        return id === undefined ? false : finished(client.call('visit.sign', { id, name }));
      },
      async close() {
        syncTrials();
        await edits.flush();
        const id = state().visit?.id;
        return id === undefined ? false : finished(client.call('visit.close', { id }));
      },
      nowWallMs,
      samplesOf: patterns.samplesOf,
      answerShift() {
        watch = shiftAnswered(watch);
        state().shiftAsked(undefined);
      },
    },
    stop() {
      stops.forEach((stop) => stop());
      patterns.stop();
      if (syncTimer !== undefined) clearTimeout(syncTimer);
      removeEventListener('pagehide', flushNow);
      removeEventListener('blur', flushNow);
    },
  };
}

/** Where an interrupted visit goes on: where the person was; of a visit that does not say, the furthest step that was begun. */
export function resumeStep(visit: Visit): StepId {
  if (visit.at !== undefined) return visit.at.step;
  const begun = stepsOf(visit, { onsetFound: {}, safetyTests: [] });
  return begun.findLast(({ started }) => started)?.id ?? 'start';
}

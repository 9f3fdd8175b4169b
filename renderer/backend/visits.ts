/** The host's visits in this window: shows what is so now, and says what a person did. Works nothing out. */
import type { Client } from '../../shared/ipc/client.ts';
import type { CommandName, Output } from '../../shared/ipc/contract.ts';
import type { Setting } from '../../shared/measurement/mark.ts';
import type { Problem } from '../../shared/problem.ts';
import type { Result } from '../../shared/result.ts';
import type { SafetyTestId } from '../../shared/tuning/safety/safety-plan.ts';
import type { StepId } from '../../shared/tuning/visit/step-names.ts';
import { stepsOf } from '../../shared/tuning/visit/steps.ts';
import type { WatchAct } from '../../shared/tuning/safety/stopwatches.ts';
import { withCorrections, type Visit } from '../../shared/tuning/visit/visit.ts';
import { isFinished } from '../../shared/tuning/visit/visit-marks.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import { selectMayAct, selectRun } from '../state/selectors.ts';
import type { AppStore } from '../state/store.ts';
import { createVisitEdits, type VisitEdits } from './visit-edits.ts';
import { defined } from '../../shared/defined.ts';

export type Visits = Pick<VisitEdits, 'edit' | 'flush'> & {
  begin: (kind: 'service' | 'training') => Promise<boolean>;
  open: (id: string) => Promise<boolean>;
  /** puts the visit aside in every window; it stays as it is */
  leave: () => Promise<void>;
  sign: (name: string) => Promise<boolean>;
  close: () => Promise<boolean>;
  /** the host's wall clock now, near enough to order changes against readings */
  nowWallMs: () => number;
  /** without a setting: nothing was changed */
  answerShift: (setting?: Setting) => void;
  /** @returns whether the host took it; why not is said */
  watch: (test: SafetyTestId, act: WatchAct) => Promise<boolean>;
  /** the newest earlier visit at an appliance that left a reading */
  findLast: (applianceId: string) => Promise<Visit | undefined>;
};

/** earlier visits that are looked through for the last one that left a reading */
const EARLIER = 40;
const asShown = (stored: StoredVisit): StoredVisit => ({ ...stored, visit: withCorrections(stored.visit) });

export function startVisits(client: Client, store: AppStore): { visits: Visits; stop: () => void } {
  const state = () => store.getState();
  const edits = createVisitEdits(client, store);
  const runOnScreen = (): { runId?: string } => {
    const record = selectRun(state());
    return record === undefined || record.info.phase === 'ended' ? {} : { runId: record.info.runId };
  };
  /** A refusal is shown; @returns the answer when there is one */
  const done = <K extends CommandName>(answer: Result<Output<K>, Problem>): Output<K> | undefined => {
    if (answer.ok) return answer.value;
    state().commandFailed(answer.error);
    return undefined;
  };

  async function readAppliance(id: string | undefined, again = false): Promise<void> {
    if (id === undefined) return state().applianceShown(undefined);
    if (state().appliance?.id === id && !again) return;
    const found = await client.call('appliance.get', { id });
    if (found.ok && state().visit?.applianceId === id) state().applianceShown(found.value.stored);
  }
  /** The newest earlier visit here that left a reading; practice counts beside practice only. */
  async function findLast(applianceId: string): Promise<Visit | undefined> {
    const visit = state().visit;
    const list = await client.call('visit.list', { applianceId, limit: EARLIER });
    if (!list.ok || visit === undefined) return undefined;
    const last = list.value.visits
      .filter(
        (one) =>
          one.id !== visit.id &&
          one.startedWallMs < visit.startedWallMs &&
          one.o2Percent !== undefined &&
          (visit.kind === 'training' || !one.watermarked),
      )
      .sort((a, b) => b.startedWallMs - a.startedWallMs)[0];
    const got = last === undefined ? undefined : await client.call('visit.get', { id: last.id });
    return got?.ok === true ? withCorrections(got.value.visit) : undefined;
  }
  async function readLast(): Promise<void> {
    const { visit } = state();
    const applianceId = visit?.applianceId;
    const last = applianceId === undefined ? undefined : await findLast(applianceId);
    if (state().visit?.id === visit?.id && state().visit?.applianceId === applianceId) state().lastVisitShown(last);
  }
  async function listOpen(): Promise<void> {
    const list = await client.call('visit.list', { limit: 40 });
    if (list.ok) state().openVisitsCame(list.value.visits.filter(({ status }) => status === 'open'));
  }
  let isMoving = false;
  /** The visit in front, in every window. Where this window looks at it is this window's own. */
  function show(stored: StoredVisit | undefined, anew = false): void {
    const here = state().visit;
    if (stored !== undefined && stored.visit.id === here?.id) return edits.stored(asShown(stored), anew);
    if (stored === undefined && here === undefined) return;
    // what was typed a moment ago goes where it was typed
    void edits.flush();
    edits.reset(stored === undefined ? undefined : asShown(stored));
    if (stored === undefined) return void listOpen();
    const { visit } = stored;
    void readAppliance(visit.applianceId);
    void readLast();
    // half way between the old place and the new one nobody is anywhere
    isMoving = true;
    state().stageChosen((visit.stages.find(({ name }) => name === visit.at?.stage) ?? visit.stages[0])?.name ?? '1');
    isMoving = false;
    state().stepChosen(resumeStep(visit), selectRun(state()) === undefined ? 'step' : undefined);
  }
  const showWatches = ({ watches }: Output<'visit.watch'>): void => state().watchesCame(watches, performance.now());

  /** Everything as it is now, for a window that has just been let in. */
  async function greet(): Promise<void> {
    void listOpen();
    const now = await client.call('visit.now', {});
    if (!now.ok) return;
    const { front, trials, asked, hints, watches } = now.value;
    for (const one of trials) state().trialsCame(one.runId, one.trials);
    for (const one of asked) state().shiftAsked(one.runId, one.question);
    for (const one of hints) state().hintsCame(one.runId, one.hints);
    showWatches(watches);
    show(front.stored);
  }
  /** An interrupted visit goes on at the step where the person was. */
  function noteWhere(): void {
    if (isMoving) return;
    const { visit, visitStep: step, visitStage: stage } = state();
    if (visit === undefined || isFinished(visit) || !selectMayAct(state())) return;
    if (visit.at?.step !== step || visit.at.stage !== stage) void client.call('visit.goTo', { id: visit.id, step, stage }).then(done);
  }

  let isGreeted = false;
  const greetOnce = (): void => {
    if (isGreeted || state().host === undefined) return;
    isGreeted = true;
    void greet();
  };
  const stops = [
    store.subscribe((now, before) => {
      greetOnce();
      if (now.visit?.applianceId !== before.visit?.applianceId) {
        void readAppliance(now.visit?.applianceId);
        void readLast();
      }
      if (now.visitStep !== before.visitStep || now.visitStage !== before.visitStage) noteWhere();
      if (now.visitStep !== before.visitStep || now.workspace !== before.workspace) void edits.flush();
    }),
    client.on('visit.changed', (stored) => edits.stored(asShown(stored))),
    client.on('visit.front', ({ stored }) => show(stored, true)),
    client.on('visit.trials', ({ runId, trials }) => state().trialsCame(runId, trials)),
    client.on('visit.asked', ({ runId, question }) => state().shiftAsked(runId, question)),
    client.on('visit.hints', ({ runId, hints }) => state().hintsCame(runId, hints)),
    client.on('visit.watches', showWatches),
    client.on('records.changed', ({ what }) => {
      void listOpen();
      // its name or owner may have been changed, or taken out
      if (what !== 'documents') void readAppliance(state().visit?.applianceId, true);
      if (what === 'all') void readLast();
    }),
  ];
  // the host may have let this window in before this script came
  greetOnce();
  const flushNow = (): void => void edits.flush();
  addEventListener('pagehide', flushNow);
  addEventListener('blur', flushNow);

  const here = (): string | undefined => state().visit?.id;
  const finish = async (name: 'visit.sign' | 'visit.close', more: { name?: string }): Promise<boolean> => {
    // nothing that was typed is left out of what is signed; why it was not kept is said already
    if (!(await edits.flush())) return false;
    const id = here();
    if (id === undefined) return false;
    const stored = done<typeof name>(await client.call(name, { id, ...more }));
    if (stored !== undefined) edits.reset(asShown(stored));
    return stored !== undefined;
  };
  return {
    visits: {
      findLast,
      edit: edits.edit,
      flush: edits.flush,
      async begin(kind) {
        const made = done<'visit.begin'>(await client.call('visit.begin', { kind, ...runOnScreen() }));
        show(made);
        return made !== undefined;
      },
      async open(id) {
        const stored = done<'visit.open'>(await client.call('visit.open', { id, ...runOnScreen() }));
        if (stored !== undefined) show(stored);
        return stored !== undefined;
      },
      async leave() {
        await edits.flush();
        if (done<'visit.leave'>(await client.call('visit.leave', {})) !== undefined) show(undefined);
      },
      sign: (name) => finish('visit.sign', { name }),
      close: () => finish('visit.close', {}),
      nowWallMs() {
        const record = selectRun(state());
        const { visit } = state();
        const startWallMs = visit?.runs.find(({ id }) => id === record?.info.runId)?.startWallMs ?? record?.info.startWallMs ?? 0;
        const runNow = record === undefined || record.info.phase === 'ended' ? Date.now() : startWallMs + record.face.timeMs;
        // a run that is typed stands still between two figures, and a clock may be set back: never before what was seen already
        const seen = (visit?.trials ?? []).flatMap(({ takenWallMs, smoke }) => [takenWallMs, smoke?.oil?.wallMs ?? 0]);
        return Math.round(Math.max(runNow, visit?.startedWallMs ?? 0, ...seen));
      },
      answerShift(setting) {
        const runId = state().runId;
        const question = runId === undefined ? undefined : state().asked[runId];
        if (runId === undefined || question === undefined) return;
        void client.call('visit.answerShift', { runId, questionId: question.id, ...defined({ setting }) }).then(done);
      },
      async watch(test, act) {
        const id = here();
        if (id === undefined) return false;
        const watches = done<'visit.watch'>(await client.call('visit.watch', { id, test, act, ...runOnScreen() }));
        if (watches !== undefined) showWatches(watches);
        return watches !== undefined;
      },
    },
    stop() {
      stops.forEach((stop) => stop());
      removeEventListener('pagehide', flushNow);
      removeEventListener('blur', flushNow);
    },
  };
}

/** Where an interrupted visit goes on: where the person was; of a visit that does not say, the furthest step that was started. */
function resumeStep(visit: Visit): StepId {
  if (visit.at !== undefined) return visit.at.step;
  const steps = stepsOf(visit, { onsetFound: {}, safetyTests: [] });
  return steps.findLast(({ started }) => started)?.id ?? 'start';
}

import type { StateCreator } from 'zustand/vanilla';
import type { VisitSummary } from '../../shared/ipc/store-commands.ts';
import type { StoredAppliance } from '../../shared/ipc/store-commands.ts';
import type { Hint } from '../../shared/tuning/diagnosis/patterns.ts';
import type { NumberedTrial } from '../../shared/tuning/trial/numbered-trial.ts';
import type { CarriedPart } from '../../shared/tuning/visit/carry-over.ts';
import type { SafetyTestId } from '../../shared/tuning/safety/safety-plan.ts';
import type { WatchNow } from '../../shared/tuning/safety/stopwatches.ts';
import type { StepId } from '../../shared/tuning/visit/step-names.ts';
import type { ShiftQuestion } from '../../shared/tuning/trial/unmarked-shift.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';

/** As-found and Air curve have two sides: the live view, and what was made of it. */
export type VisitSide = 'live' | 'step';
/** A stopwatch of the host, with the page's own time at which this was heard: one that runs goes on from there. */
export type Watch = Omit<WatchNow, 'test'> & { heardAt: number };
export type VisitSaving = 'kept' | 'on-its-way' | 'refused';

export type VisitSlice = {
  /** the visit in this window, with what was typed and is still on its way */
  visit: Visit | undefined;
  visitStep: StepId;
  visitSide: VisitSide;
  visitStage: string;
  visitSaving: VisitSaving;
  appliance: StoredAppliance | undefined;
  /** of the instrument that the visit names */
  certificateUntil: string | undefined;
  /** the newest earlier visit at this appliance that left a reading */
  lastVisit: Visit | undefined;
  /** the step for which the spot before the probe was asked for by itself */
  probeAsked: string | undefined;
  probeAskedFor: (occasion: string) => void;
  /** what was taken over from the last visit in this window, for the line that says so */
  carriedOver: { visitId: string; parts: readonly CarriedPart[] } | undefined;
  /** visits that were begun and not finished, newest first */
  openVisits: readonly VisitSummary[];
  /** by run, as the host says them: trials, the one question about an O2 shift that no mark explains, patterns */
  trials: Readonly<Record<string, readonly NumberedTrial[]>>;
  asked: Readonly<Record<string, ShiftQuestion | undefined>>;
  hints: Readonly<Record<string, readonly Hint[]>>;
  /** what stands in a field and cannot be kept as it is; survives going to another step */
  fieldTexts: Readonly<Record<string, string>>;
  /** the test of the safety run-through in front of the person */
  safetyTest: SafetyTestId | undefined;
  /** stopwatches by test, as the host times them; one that runs goes on wherever the person looks */
  watches: Readonly<Partial<Record<SafetyTestId, Watch>>>;
  /** the trial whose window is open */
  trialOpen: string | undefined;
  visitShown: (visit: Visit | undefined) => void;
  certificateCame: (certificateUntil: string | undefined) => void;
  visitSavingChanged: (saving: VisitSaving) => void;
  stepChosen: (step: StepId, side?: VisitSide) => void;
  sideTurned: () => void;
  stageChosen: (stage: string) => void;
  applianceShown: (appliance: StoredAppliance | undefined) => void;
  lastVisitShown: (lastVisit: Visit | undefined) => void;
  carriedOverSaid: (visitId: string, parts: readonly CarriedPart[]) => void;
  openVisitsCame: (visits: readonly VisitSummary[]) => void;
  trialsCame: (runId: string, trials: readonly NumberedTrial[]) => void;
  shiftAsked: (runId: string, question: ShiftQuestion | undefined) => void;
  hintsCame: (runId: string, hints: readonly Hint[]) => void;
  fieldTyped: (field: string, text: string | undefined) => void;
  trialOpened: (trialId: string | undefined) => void;
  safetyTestChosen: (test: SafetyTestId | undefined) => void;
  watchesCame: (watches: readonly WatchNow[], heardAt: number) => void;
};

/** Steps whose work is done in front of the live view. */
export const liveSteps: ReadonlySet<StepId> = new Set<StepId>(['as-found', 'air-curve']);

export const createVisitSlice: StateCreator<VisitSlice> = (set) => ({
  visit: undefined,
  visitStep: 'start',
  visitSide: 'step',
  visitStage: '1',
  visitSaving: 'kept',
  appliance: undefined,
  certificateUntil: undefined,
  lastVisit: undefined,
  carriedOver: undefined,
  probeAsked: undefined,
  probeAskedFor: (probeAsked) => set({ probeAsked }),
  openVisits: [],
  trials: {},
  asked: {},
  hints: {},
  fieldTexts: {},
  trialOpen: undefined,
  safetyTest: undefined,
  watches: {},
  visitShown: (visit) =>
    set(
      visit === undefined
        ? { visit, appliance: undefined, lastVisit: undefined, fieldTexts: {}, visitSaving: 'kept', safetyTest: undefined }
        : { visit },
    ),
  certificateCame: (certificateUntil) => set({ certificateUntil }),
  visitSavingChanged: (visitSaving) => set({ visitSaving }),
  stepChosen: (visitStep, side) => set({ visitStep, visitSide: side ?? (liveSteps.has(visitStep) ? 'live' : 'step') }),
  sideTurned: () => set(({ visitSide }) => ({ visitSide: visitSide === 'live' ? 'step' : 'live' })),
  stageChosen: (visitStage) => set({ visitStage }),
  applianceShown: (appliance) => set({ appliance }),
  lastVisitShown: (lastVisit) => set({ lastVisit }),
  carriedOverSaid: (visitId, parts) => set({ carriedOver: { visitId, parts } }),
  openVisitsCame: (openVisits) => set({ openVisits }),
  trialsCame: (runId, news) => set(({ trials }) => ({ trials: { ...trials, [runId]: news } })),
  shiftAsked: (runId, question) => set(({ asked }) => ({ asked: { ...asked, [runId]: question } })),
  hintsCame: (runId, news) => set(({ hints }) => ({ hints: { ...hints, [runId]: news } })),
  fieldTyped: (field, text) =>
    set(({ fieldTexts }) => {
      const rest = Object.fromEntries(Object.entries(fieldTexts).filter(([name]) => name !== field));
      return { fieldTexts: text === undefined ? rest : { ...rest, [field]: text } };
    }),
  trialOpened: (trialOpen) => set({ trialOpen }),
  safetyTestChosen: (safetyTest) => set({ safetyTest }),
  watchesCame: (news, heardAt) => set({ watches: Object.fromEntries(news.map(({ test, ...watch }) => [test, { ...watch, heardAt }])) }),
});

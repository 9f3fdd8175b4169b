import type { StateCreator } from 'zustand/vanilla';
import type { VisitSummary } from '../../shared/ipc/store-commands.ts';
import type { StoredAppliance } from '../../shared/ipc/store-commands.ts';
import type { Hint } from '../../shared/tuning/diagnosis/patterns.ts';
import type { SafetyTestId } from '../../shared/tuning/safety-plan.ts';
import type { StepId } from '../../shared/tuning/step-names.ts';
import type { ShiftQuestion } from '../../shared/tuning/unmarked-shift.ts';
import type { Visit } from '../../shared/tuning/visit.ts';

/** As-found and Air curve have two sides: the live view, and what was made of it. */
export type VisitSide = 'live' | 'step';
/** `startedAt` and the end are of a clock that no one can set, ms; `startedRunMs` is the run's time then, for what the gas says about it. */
export type Watch = { startedAt: number; startedRunMs: number | undefined; seconds: number | undefined };
export type VisitSaving = 'kept' | 'on-its-way' | 'refused';

export type VisitSlice = {
  /** the visit in this window, with what was typed and is still on its way */
  visit: Visit | undefined;
  visitStep: StepId;
  visitSide: VisitSide;
  visitStage: string;
  visitSaving: VisitSaving;
  appliance: StoredAppliance | undefined;
  /** visits that were begun and not finished, newest first */
  openVisits: readonly VisitSummary[];
  /** the one question about an O2 shift that no mark explains */
  shift: { runId: string; question: ShiftQuestion } | undefined;
  hints: readonly Hint[];
  /** what stands in a field and can not be kept as it is; survives going to another step */
  fieldTexts: Readonly<Record<string, string>>;
  /** the test of the safety run-through in front of the person */
  safetyTest: SafetyTestId | undefined;
  /** stopwatches by test; one that runs goes on wherever the person looks */
  watches: Readonly<Partial<Record<SafetyTestId, Watch>>>;
  /** the trial whose window is open */
  trialOpen: string | undefined;
  visitShown: (visit: Visit | undefined) => void;
  visitSavingChanged: (saving: VisitSaving) => void;
  stepChosen: (step: StepId, side?: VisitSide) => void;
  sideTurned: () => void;
  stageChosen: (stage: string) => void;
  applianceShown: (appliance: StoredAppliance | undefined) => void;
  openVisitsCame: (visits: readonly VisitSummary[]) => void;
  shiftAsked: (shift: VisitSlice['shift']) => void;
  hintsCame: (hints: readonly Hint[]) => void;
  fieldTyped: (field: string, text: string | undefined) => void;
  trialOpened: (trialId: string | undefined) => void;
  safetyTestChosen: (test: SafetyTestId | undefined) => void;
  watchChanged: (test: SafetyTestId, watch: Watch | undefined) => void;
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
  openVisits: [],
  shift: undefined,
  hints: [],
  fieldTexts: {},
  trialOpen: undefined,
  safetyTest: undefined,
  watches: {},
  visitShown: (visit) =>
    set(
      visit === undefined
        ? { visit, appliance: undefined, fieldTexts: {}, visitSaving: 'kept', safetyTest: undefined, watches: {} }
        : { visit },
    ),
  visitSavingChanged: (visitSaving) => set({ visitSaving }),
  stepChosen: (visitStep, side) => set({ visitStep, visitSide: side ?? (liveSteps.has(visitStep) ? 'live' : 'step') }),
  sideTurned: () => set(({ visitSide }) => ({ visitSide: visitSide === 'live' ? 'step' : 'live' })),
  stageChosen: (visitStage) => set({ visitStage }),
  applianceShown: (appliance) => set({ appliance }),
  openVisitsCame: (openVisits) => set({ openVisits }),
  shiftAsked: (shift) => set({ shift }),
  hintsCame: (hints) => set({ hints }),
  fieldTyped: (field, text) =>
    set(({ fieldTexts }) => {
      const rest = Object.fromEntries(Object.entries(fieldTexts).filter(([name]) => name !== field));
      return { fieldTexts: text === undefined ? rest : { ...rest, [field]: text } };
    }),
  trialOpened: (trialOpen) => set({ trialOpen }),
  safetyTestChosen: (safetyTest) => set({ safetyTest }),
  watchChanged: (test, watch) => set(({ watches }) => ({ watches: { ...watches, [test]: watch } })),
});

/** What every screen of the visit reaches for. */
import { problemLine } from '../../../shared/words/problems.ts';
import { useMemo } from 'react';
import { useKey } from '../../keys/use-key.ts';
import type { Setting } from '../../../shared/measurement/mark.ts';
import type { StepState } from '../../../shared/tuning/visit/steps.ts';
import type { StageRecord, Visit } from '../../../shared/tuning/visit/visit.ts';
import { isFinished } from '../../../shared/tuning/visit/visit-marks.ts';
import type { Formats } from '../../../shared/words/tune/tune-formats.ts';
import { useApp, useParts } from '../../app-parts.ts';
import type { VisitChange } from '../../backend/visit-edits.ts';
import { selectMayAct, selectRun, selectUnits, settingNow } from '../../state/selectors.ts';
import { formatsFor } from '../../../shared/words/formats.ts';
import type { StepId } from '../../../shared/tuning/visit/step-names.ts';
import { flueCoAlarms, measuredRoomAlarm } from '../../state/co-alerts.ts';
import { wayOutOf, type WayOut } from './way-out.ts';
import { curveFacts, stageIndexOf, stageOf, stepStates, type CurveFacts } from './visit-facts.ts';
import type { UnitSystem } from '../../../shared/format/quantity.ts';

export type VisitHere = {
  visit: Visit;
  stage: StageRecord;
  stageIndex: number;
  units: UnitSystem;
  formats: Formats;
  /** false: signed, closed, or a window that may only look */
  may: boolean;
  edit: (...changes: VisitChange[]) => string | undefined;
  /** For a press, which has no field to say it in: a refusal is a notice. @returns whether the visit took it */
  put: (...changes: VisitChange[]) => boolean;
};

/** Only inside screens that are shown while a visit is open. */
export function useVisit(): VisitHere {
  const { visits, store } = useParts();
  const visit = useApp((state) => state.visit);
  const stageName = useApp((state) => state.visitStage);
  const units = useApp(selectUnits);
  const mayAct = useApp(selectMayAct);
  if (visit === undefined) throw new Error('no visit is open');
  return {
    visit,
    stage: stageOf(visit, stageName),
    stageIndex: stageIndexOf(visit, stageName),
    units,
    formats: formatsFor(units, visit.setUp.lengthUnit),
    may: mayAct && !isFinished(visit),
    edit: (...changes) => {
      const refused = visits.edit(changes);
      return refused === undefined ? undefined : (refused.detail ?? problemLine(refused));
    },
    put: (...changes) => {
      const refused = visits.edit(changes);
      if (refused !== undefined) store.getState().commandFailed(refused);
      return refused === undefined;
    },
  };
}

export function useSteps(): StepState[] {
  const visit = useApp((state) => state.visit);
  const appliance = useApp((state) => state.appliance?.appliance);
  const certificateUntil = useApp((state) => state.certificateUntil);
  return useMemo(() => (visit === undefined ? [] : stepStates(visit, appliance, certificateUntil)), [visit, appliance, certificateUntil]);
}

/** The setting that stands now, as marked. */
export const usePresentSetting = (): Setting | undefined =>
  useApp((state) => {
    const now = settingNow(state);
    return now !== undefined && now.positions.length > 0 ? now : (state.visit?.trials.at(-1)?.setting ?? state.visit?.settingFound);
  });

/** CO in the flue is at the alarm now, as the host says it. */
const useLiveAlarm = (): boolean => useApp(flueCoAlarms);

export function useCurve(): CurveFacts | undefined {
  const visit = useApp((state) => state.visit);
  const stage = useApp((state) => state.visitStage);
  const present = usePresentSetting();
  const coOverRange = useLiveAlarm();
  const roomCoPpm = useApp(measuredRoomAlarm);
  // to a tenth: the advice is not worked out anew with every line
  const o2 = useApp((state) => {
    const oxygen = selectRun(state)?.face.states.o2;
    return oxygen?.value === undefined || oxygen.state === 'absent' || oxygen.state === 'suspect'
      ? undefined
      : Math.round(oxygen.value * 10) / 10;
  });
  return useMemo(
    () => (visit === undefined ? undefined : curveFacts(visit, stage, present, { coOverRange, o2, roomCoPpm })),
    [visit, stage, present, coOverRange, o2, roomCoPpm],
  );
}

/** What stops this step, with the one button that leads out of it. */
export function useWayOut(step: StepId): WayOut | undefined {
  const visit = useApp((state) => state.visit);
  const liveAlarm = useLiveAlarm();
  return useMemo(() => (visit === undefined || isFinished(visit) ? undefined : wayOutOf(step, visit, liveAlarm)), [visit, step, liveAlarm]);
}

/** Smoke, draft, pressure and note of the running trial, by the same keys as on the live view. */
export function useEntryKeys(active: boolean): void {
  const entryOpened = useApp((state) => state.entryOpened);
  useKey('smoke', () => entryOpened('smoke'), active);
  useKey('draft', () => entryOpened('draft'), active);
  useKey('pressure', () => entryOpened('pressure'), active);
  useKey('note', () => entryOpened('note'), active);
  useKey('table', () => entryOpened('table'), active);
  // figures of an instrument without a port are typed wherever they are looked at
  const isTyped = useApp((state) => selectRun(state)?.info.source.kind === 'typed');
  useKey('values', () => entryOpened('values'), active && isTyped);
}

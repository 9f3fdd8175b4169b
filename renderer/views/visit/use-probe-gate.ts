import { useMemo } from 'react';
import { probeGate, type ProbeGate } from '../../../shared/tuning/trial/probe-gate.ts';
import { isFinished } from '../../../shared/tuning/visit/visit-marks.ts';
import { useApp } from '../../app-parts.ts';
import type { AppState } from '../../state/store.ts';

const open: ProbeGate = { state: 'open' };
export const probeGateNow = ({ visit, visitStep }: Pick<AppState, 'visit' | 'visitStep'>): ProbeGate =>
  visit === undefined || isFinished(visit) ? open : probeGate(visit, visitStep);

/** May the probe go into the flue at this step? */
export function useProbeGate(): ProbeGate {
  const visit = useApp((state) => state.visit);
  const visitStep = useApp((state) => state.visitStep);
  return useMemo(() => probeGateNow({ visit, visitStep }), [visit, visitStep]);
}

/** In front is As-found, and this stage has it. */
export const foundIsChosen = ({ visit, visitStep, visitStage }: AppState): boolean =>
  visitStep === 'as-found' && visit?.stages.find(({ name }) => name === visitStage)?.asFoundTrialId !== undefined;

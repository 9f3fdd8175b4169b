/** What a visit adds to the live view, near and far; its script comes with the visit. */
import { Suspense } from 'react';
import { useApp } from '../../../app-parts.ts';
import { later } from '../../../components/Later.tsx';
import { useKey } from '../../../keys/use-key.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { selectHints } from '../../../state/selectors.ts';

const StepCautions = later(() => import('../steps/frame/StepFrame.tsx').then((found) => found.StepCautions));
const Asked = later(() => import('./LiveSide.tsx').then((found) => found.ShiftAsked));
const Foot = later(() => import('./LiveSide.tsx').then((found) => found.TrialsFoot));

/** The key that turns to the other side of the live view. */
export function VisitOverLive() {
  const hasVisit = useApp((state) => state.visit !== undefined);
  const sideTurned = useApp((state) => state.sideTurned);
  useKey('curve', sideTurned, hasVisit);
  return null;
}

/** Cautions of the step in front of the live view, over its bar. */
export function LiveCautions() {
  const step = useApp((state) => (state.visit === undefined ? undefined : state.visitStep));
  return <Suspense>{step !== undefined && <StepCautions step={step} />}</Suspense>;
}

export function ShiftAsked({ record }: { record: RunRecord }) {
  const isAsked = useApp((state) => state.asked[record.info.runId] !== undefined);
  return <Suspense>{isAsked && <Asked record={record} />}</Suspense>;
}

export function TrialsFoot() {
  const hasVisit = useApp((state) => state.visit !== undefined);
  const hasHints = useApp((state) => selectHints(state).length > 0);
  return <Suspense>{(hasVisit || hasHints) && <Foot />}</Suspense>;
}

import { useEffect } from 'react';
import type { StepId } from '../../../shared/tuning/visit/step-names.ts';
import { useApp, useParts } from '../../app-parts.ts';

const steps: readonly StepId[] = ['as-left', 'safety'];

/** The steps before the report: what can be read of the runs is read here, so that nobody waits for it at the report. */
export function useReadAhead(step: StepId): void {
  const { client } = useParts();
  const visitId = useApp((state) => state.visit?.id);
  // the host forgets what it has read when nothing is asked for a while: a long run-through asks again
  const tests = useApp((state) => state.visit?.safety.length);
  const isNear = steps.includes(step);
  useEffect(() => {
    if (isNear && visitId !== undefined) void client.call('report.readAhead', { visitId });
  }, [client, isNear, visitId, tests]);
}

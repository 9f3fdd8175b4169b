import { Suspense } from 'react';
import { safetyTests } from '../../../../shared/tuning/safety/safety-plan.ts';
import { useApp } from '../../../app-parts.ts';
import { later } from '../../../components/Later.tsx';
import { isRunning } from './use-stopwatch.ts';

const WatchLine = later(() => import('./WatchLine.tsx').then((found) => found.WatchLine));

/** A watch that runs is seen on every other screen, and can be stopped there. */
export function RunningWatch() {
  const test = useApp((state) => {
    const running = safetyTests.find(({ id }) => isRunning(state.watches[id]))?.id;
    const inFront = state.workspace === 'tune' && state.panel === undefined && !state.far && state.visitStep === 'safety';
    return inFront && state.safetyTest === running ? undefined : running;
  });
  return <Suspense>{test !== undefined && <WatchLine test={test} />}</Suspense>;
}

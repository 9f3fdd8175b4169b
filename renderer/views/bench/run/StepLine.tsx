import { useEffect, useRef } from 'react';
import { lastRound, type BenchTest } from '../../../../shared/bench/bench-test.ts';
import type { GasSlot, PlanStep } from '../../../../shared/bench/plan.ts';
import { formatDuration } from '../../../../shared/format/duration.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchRun } from '../../../../shared/words/bench/bench-run.ts';
import { StepSign } from '../../visit/VisitSigns.tsx';
import './run.css';

const words = benchRun;

/** One step of the plan: done, running or to come, with its gas and how long it holds. */
export function StepLine({
  step,
  index,
  now,
  tests,
  gasName,
}: {
  step: PlanStep;
  index: number;
  now: number;
  tests: readonly BenchTest[];
  gasName: (slot: GasSlot) => string;
}) {
  const ends = tests.flatMap((test) => lastRound(test).steps[index]?.end ?? []);
  const flaw = ends.find((end) => end !== 'reached');
  const state = index < now ? (flaw === undefined ? 'done' : 'stale') : index === now ? 'now' : 'todo';
  const line = useRef<HTMLLIElement>(null);
  useEffect(() => {
    // a long plan: the running step stays in view, with what comes next
    if (index === now) line.current?.scrollIntoView({ block: 'center' });
  }, [index, now]);
  return (
    <li ref={line} className={index === now ? 'bench-step now' : 'bench-step'} aria-current={index === now ? 'step' : undefined}>
      <span className="step-sign">
        <StepSign state={state} />
      </span>
      <span className="grow">
        {bench.purposes[step.purpose]} {step.purpose !== 'fresh-air' && <span className="second">{gasName(step.slot)}</span>}
      </span>
      <span className="second small">
        {index < now
          ? flaw === 'left-out'
            ? words.leftOut
            : flaw === 'not-reached'
              ? words.notReached
              : ''
          : formatDuration(step.holdS * 1000)}
      </span>
    </li>
  );
}

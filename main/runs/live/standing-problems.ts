/** Problems that stand until their cause is gone. The same cause counts up instead of piling up, and clears itself. */
import type { Clock } from '../../../shared/clock.ts';
import type { StandingProblem } from '../../../shared/ipc/session-commands.ts';
import type { Problem } from '../../../shared/problem.ts';
import { defined } from '../../../shared/defined.ts';

export interface StandingProblems {
  readonly all: () => StandingProblem[];
  raise(key: string, found: Problem, runId?: string): void;
  clear(key: string): void;
  clearRun(runId: string): void;
}

export function createStandingProblems(
  clock: Clock,
  publish: { raised: (standing: StandingProblem) => void; cleared: (key: string) => void },
): StandingProblems {
  const standing = new Map<string, StandingProblem>();
  const clear = (key: string): void => {
    if (standing.delete(key)) publish.cleared(key);
  };
  return {
    all: () => [...standing.values()],
    raise(key, found, runId) {
      const before = standing.get(key);
      const now: StandingProblem = {
        key,
        problem: found,
        ...defined({ runId }),
        count: (before?.count ?? 0) + 1,
        sinceWallMs: before?.sinceWallMs ?? clock.wallMs(),
      };
      standing.set(key, now);
      publish.raised(now);
    },
    clear,
    clearRun(runId) {
      for (const [key, found] of standing) if (found.runId === runId) clear(key);
    },
  };
}

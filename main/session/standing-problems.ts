/** Alarms of the host's own, which stay until they are cleared or dismissed; one that is said again counts up. */
import type { StandingProblem } from '../../shared/ipc/session-commands.ts';
import type { Problem } from '../../shared/problem.ts';

export type StandingProblems = {
  readonly raise: (key: string, what: Problem) => void;
  /** as `raise`, but said again it is the same one */
  readonly stand: (key: string, what: Problem) => void;
  /** @returns false when there was none */
  readonly clear: (key: string) => boolean;
  readonly all: () => StandingProblem[];
};

export function createStandingProblems({
  wallMs,
  raised,
  cleared,
}: {
  wallMs: () => number;
  raised: (one: StandingProblem) => void;
  cleared: (key: string) => void;
}): StandingProblems {
  const problems = new Map<string, StandingProblem>();
  const raise = (key: string, what: Problem): void => {
    const before = problems.get(key);
    const one = { key, problem: what, count: (before?.count ?? 0) + 1, sinceWallMs: before?.sinceWallMs ?? wallMs() };
    problems.set(key, one);
    raised(one);
  };
  return {
    raise,
    stand(key, what) {
      if (JSON.stringify(problems.get(key)?.problem) !== JSON.stringify(what)) raise(key, what);
    },
    clear(key) {
      const wasThere = problems.delete(key);
      if (wasThere) cleared(key);
      return wasThere;
    },
    all: () => [...problems.values()],
  };
}

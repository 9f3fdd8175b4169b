/** What stands of the worst-case test in a visit. */
import type { SignName } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { judgeWorstCase, worstVerdict, type Venting, type WorstCase } from '../../../../shared/tuning/safety/venting.ts';

export const noVenting: Venting = { checks: [], worstCases: [] };
export const savedOf = ({ worstCases }: Venting): WorstCase | undefined =>
  worstCases.findLast(({ savedWallMs }) => savedWallMs !== undefined);
export const worstSign = (test: WorstCase | undefined): SignName => {
  if (test === undefined) return 'open';
  const verdict = worstVerdict(judgeWorstCase(test));
  return verdict === 'not-judged' ? 'not-applicable' : verdict === 'too-close' ? 'too-close' : verdict;
};

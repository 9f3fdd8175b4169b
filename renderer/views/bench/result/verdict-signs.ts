/** Which small shape a verdict of the bench has. */
import type { Headline, Verdict } from '../../../../shared/bench/results/test-result.ts';
import type { CardVerdict } from '../../../../shared/tuning/card/target-card.ts';
import type { SignName } from '../../../../shared/report/drawings/VerdictSign.tsx';

export const signOfVerdict = (verdict: Verdict): CardVerdict =>
  verdict === 'conditional' ? 'too-close' : verdict === 'not-judged' ? 'not-known' : verdict;
export const signOf = ({ kind }: Headline): SignName =>
  kind === 'fit' ? 'pass' : kind === 'not-fit' ? 'fail' : kind === 'conditional' ? 'too-close' : 'open';

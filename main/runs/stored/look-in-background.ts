/** Lines that no recipe describes are looked at beside the loop that stamps them. */
import type { LookAtLines } from '../../../shared/pipeline/propose.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import type { Background } from '../../background/background.ts';

/** Learning takes some tenths of a second: lines that come meanwhile are stamped in time. */
export const lookInBackground =
  (background: Background, failed: (bug: Problem) => void): LookAtLines =>
  (ask, judged) =>
    void background.run('judgeLines', ask).then(judged, (bug: unknown) => {
      failed(problem('internal', String(bug).slice(0, 200)));
      judged(undefined);
    });

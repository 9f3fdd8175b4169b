import type { Problem } from '../../shared/problem.ts';
import { err, type Result } from '../../shared/result.ts';
import { attempt } from './attempt.ts';
import type { Database } from './database.ts';

/** A refusal in the middle takes back what was done before it. */
export function inOneStep<T>(db: Database, work: () => Result<T, Problem>): Result<T, Problem> {
  let refusal: Problem | undefined;
  try {
    const done = attempt(() =>
      db.inTransaction(() => {
        const result = work();
        if (result.ok) return result;
        refusal = result.error;
        throw new Error('taken back');
      }),
    );
    return done.ok ? done.value : done;
  } catch (failure) {
    if (refusal === undefined) throw failure;
    return err(refusal);
  }
}

import type { Problem } from '../../shared/problem.ts';
import { err, type Result } from '../../shared/result.ts';
import { attempt, problemOf } from './attempt.ts';
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

/** The same for what would hold up a capture in one go: `work` pauses, and its caller keeps everybody else away from these records meanwhile. */
export async function inSlices<T>(db: Database, work: () => Promise<Result<T, Problem>>): Promise<Result<T, Problem>> {
  let refusal: Problem | undefined;
  try {
    return await db.inLongTransaction(async () => {
      const result = await work();
      if (result.ok) return result;
      refusal = result.error;
      throw new Error('taken back');
    });
  } catch (failure) {
    const known = refusal ?? problemOf(failure);
    if (known === undefined) throw failure;
    return err(known);
  }
}

import { err, ok, type Result } from '../../shared/result.ts';
import { problem, type Problem } from '../../shared/problem.ts';

/** What the engine's refusal means for the person; anything unknown is our own bug and keeps flying. */
export function problemOf(failure: unknown): Problem | undefined {
  const { code: given, sqliteCodeName, message } = failure as { code?: unknown; sqliteCodeName?: unknown; message?: unknown };
  const code = sqliteCodeName ?? given;
  const text = String(message ?? failure);
  if (typeof code !== 'string') return undefined;
  if (code.startsWith('SQLITE_FULL') || code === 'ENOSPC' || code === 'EDQUOT') return problem('disk-full', text);
  if (code.startsWith('SQLITE_IOERR') || code === 'EIO') return problem('disk-failed', text);
  // Windows: somebody has the file open
  if (code === 'EBUSY' || code === 'ETXTBSY') return problem('store-locked', text);
  if (code.startsWith('SQLITE_READONLY') || code === 'EACCES' || code === 'EROFS' || code === 'EPERM' || code.startsWith('SQLITE_CANTOPEN'))
    return problem('store-read-only', text);
  if (code.startsWith('SQLITE_BUSY') || code.startsWith('SQLITE_LOCKED')) return problem('store-locked', text);
  if (code.startsWith('SQLITE_CORRUPT')) return problem('store-damaged', text);
  if (code.startsWith('SQLITE_NOTADB')) return problem('store-foreign', text);
  return undefined;
}

/** Runs what may fail on a good day (full disk, other process, damaged file) and turns that into a value. */
export function attempt<T>(work: () => T): Result<T, Problem> {
  try {
    return ok(work());
  } catch (failure) {
    const known = problemOf(failure);
    if (known === undefined) throw failure;
    return err(known);
  }
}

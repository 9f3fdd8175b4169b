import type { Mark, MarkEdit } from '../../measurement/mark.ts';

/** Marks as they stand after moves and undoings, in time order. The originals stay in the run file. */
export function currentMarks(marks: readonly Mark[], edits: readonly MarkEdit[]): Mark[] {
  const byId = new Map(marks.map((mark) => [mark.id, mark]));
  for (const edit of edits) {
    const mark = byId.get(edit.markId);
    if (!mark) continue;
    if (edit.kind === 'undone') byId.delete(edit.markId);
    else byId.set(edit.markId, { ...mark, timeMs: edit.timeMs });
  }
  return [...byId.values()].sort((a, b) => a.timeMs - b.timeMs);
}

/** Stretches that the technician has paused, ms since run start; an open pause ends at infinity. */
export function pauses(marks: readonly Mark[]): { fromMs: number; toMs: number }[] {
  const stretches: { fromMs: number; toMs: number }[] = [];
  let sinceMs: number | undefined;
  for (const { timeMs, body } of marks) {
    if (body.kind !== 'pause') continue;
    if (body.on) sinceMs ??= timeMs;
    else if (sinceMs !== undefined) {
      stretches.push({ fromMs: sinceMs, toMs: timeMs });
      sinceMs = undefined;
    }
  }
  if (sinceMs !== undefined) stretches.push({ fromMs: sinceMs, toMs: Infinity });
  return stretches;
}

/**
 * Trials of a run, with the check after tightening as a trial of its own: the setting is marked again unchanged when the screws are tight,
 * and what is read after that is compared with what was read before. Pure.
 */
import type { Mark } from '../../measurement/mark.ts';
import { currentMarks } from './marks.ts';
import type { Trial } from './trial.ts';
import { sameSetting, trialsOf, type RunRecord } from './trials.ts';

export type Tightening = { mark: Mark; untilMs: number };

/** Adjustment marks that leave everything where it stands, each with the end of its setting. */
export function tightenings(run: Pick<RunRecord, 'marks' | 'edits' | 'startSetting'>): Tightening[] {
  const marks = currentMarks(run.marks, run.edits).filter(({ body }) => body.kind === 'adjustment');
  const found: Tightening[] = [];
  let standing = run.startSetting;
  marks.forEach((mark, index) => {
    if (mark.body.kind !== 'adjustment') return;
    if (sameSetting(standing, mark.body.setting)) found.push({ mark, untilMs: marks[index + 1]?.timeMs ?? Infinity });
    standing = mark.body.setting;
  });
  return found;
}

/** @param running as in `trialsOf` */
export function trialsWithTightening(run: RunRecord, { running = false }: { running?: boolean } = {}): Trial[] {
  const tight = tightenings(run);
  if (tight.length === 0) return trialsOf(run, { running });
  const isLast = tight.at(-1)?.untilMs === Infinity;
  const isAfter = (timeMs: number): boolean => tight.some(({ mark, untilMs }) => timeMs >= mark.timeMs && timeMs < untilMs);
  const moves = (mark: Mark): boolean => mark.body.kind === 'adjustment' || mark.body.kind === 'pressure';
  const before = trialsOf(
    {
      ...run,
      marks: run.marks.filter((mark) => moves(mark) || !isAfter(mark.timeMs)),
      readings: run.readings.filter(({ fromMs }) => !isAfter(fromMs)),
    },
    { running: running && !isLast },
  ).map((trial) => {
    const first = tight.find(({ mark }) => mark.timeMs > trial.fromMs && (trial.toMs === undefined || mark.timeMs < trial.toMs));
    return first === undefined ? trial : { ...trial, toMs: first.mark.timeMs };
  });
  const checks = tight.flatMap(({ mark, untilMs }) => {
    const inside = (timeMs: number): boolean => timeMs >= mark.timeMs && timeMs < untilMs;
    const isRunning = running && untilMs === Infinity;
    // one, or more where something was changed after it was read: each stays
    const after = trialsOf(
      {
        ...run,
        marks: run.marks.filter((one) => (moves(one) && one.timeMs <= mark.timeMs) || (!moves(one) && inside(one.timeMs))),
        readings: run.readings.filter(({ fromMs, toMs }) => inside(fromMs) && toMs <= untilMs),
      },
      { running: isRunning },
    );
    return after.flatMap((trial, index): Trial[] => {
      const isEmpty = trial.reading === undefined && trial.smoke === undefined && trial.draft === undefined;
      if (isEmpty && !isRunning) return [];
      const check: Trial = { ...trial };
      if (index === 0) {
        check.id = `${run.runId}:${mark.id}`;
        check.fromMs = mark.timeMs;
        check.takenWallMs = run.startWallMs + (trial.reading?.takenMs ?? mark.timeMs);
      }
      if (index === after.length - 1) {
        if (untilMs === Infinity) delete check.toMs;
        else check.toMs = untilMs;
      }
      return [check];
    });
  });
  return [...before, ...checks].sort((a, b) => a.fromMs - b.fromMs);
}

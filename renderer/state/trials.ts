/** Marks and readings of one run -> its trials: one setting each, with reading, smoke, draft and notes. Pure. */
import type { Mark, Setting } from '../../shared/measurement/mark.ts';
import type { Reading } from '../../shared/measurement/state.ts';
import type { Trial } from '../../shared/tuning/trial.ts';
import type { RunRecord } from './run-record.ts';

export type NumberedTrial = Trial & { number: number; running: boolean; changed: readonly { name: string; value: number }[] };

const samePositions = (a: Setting | undefined, b: Setting): boolean =>
  a !== undefined && b.positions.every(({ name, value }) => a.positions.some((one) => one.name === name && one.value === value));

/**
 * A setting that was left without a reading, a smoke number or a draft is not a trial: it was a step on the way.
 * The running one always is.
 */
export function trialsOf({
  info,
  startSetting,
  marks,
  readings,
}: Pick<RunRecord, 'info' | 'startSetting' | 'marks' | 'readings'>): NumberedTrial[] {
  const adjustments = marks.filter((mark) => mark.body.kind === 'adjustment');
  const starts: { fromMs: number; setting: Setting | undefined; mark: Mark | undefined }[] = [
    { fromMs: 0, setting: startSetting, mark: undefined },
    ...adjustments.map((mark) => ({ fromMs: mark.timeMs, setting: mark.body.kind === 'adjustment' ? mark.body.setting : undefined, mark })),
  ];
  const trials: NumberedTrial[] = [];
  let previous: Setting | undefined;
  starts.forEach(({ fromMs, setting, mark }, index) => {
    const toMs = starts[index + 1]?.fromMs;
    const inside = ({ timeMs }: { timeMs: number }): boolean => timeMs >= fromMs && (toMs === undefined || timeMs < toMs);
    const bodies = marks.filter((one) => inside(one) && one.body.kind !== 'adjustment').map(({ body }) => body);
    const reading = bestReading(
      readings.filter((one) => one.toMs > fromMs && (toMs === undefined || one.fromMs < toMs)),
      fromMs,
    );
    const smoke = bodies.findLast((body) => body.kind === 'smoke');
    const draft = bodies.findLast((body) => body.kind === 'draft');
    const pressure = bodies.findLast((body) => body.kind === 'pressure');
    const running = toMs === undefined;
    if (!running && reading === undefined && smoke === undefined && draft === undefined) return;
    const current: Setting = setting ?? { stage: '1', positions: [] };
    trials.push({
      id: mark?.id ?? `${info.runId}-start`,
      runId: info.runId,
      number: trials.length + 1,
      running,
      changed: samePositions(previous, current) ? [] : changedPositions(previous, current),
      fromMs,
      toMs,
      takenWallMs: info.startWallMs + (reading?.takenMs ?? fromMs),
      setting: current,
      ...(mark?.body.kind === 'adjustment' && mark.body.inferred === true ? { inferred: true } : {}),
      reading,
      smoke: smoke?.kind === 'smoke' ? { spots: smoke.spots, notTaken: smoke.notTaken } : undefined,
      draft: draft?.kind === 'draft' ? { overFirePa: draft.overFirePa, breechPa: draft.breechPa } : undefined,
      pumpPa: pressure?.kind === 'pressure' ? pressure.pumpPa : undefined,
      notes: bodies.flatMap((body) => (body.kind === 'note' ? [body.text] : [])),
    });
    previous = current;
  });
  return trials;
}

const changedPositions = (before: Setting | undefined, after: Setting): { name: string; value: number }[] =>
  after.positions.filter(({ name, value }) => before?.positions.find((one) => one.name === name)?.value !== value);

/** The adjusters worth a column: those that were moved between trials, else the first; two at most. */
export function movedAdjusters(trials: readonly NumberedTrial[], all: readonly string[]): readonly string[] {
  const moved = all.filter((name) => {
    const values = trials.flatMap(({ setting }) => setting.positions.filter((one) => one.name === name).map(({ value }) => value));
    return new Set(values).size > 1;
  });
  return moved.length > 0 ? moved.slice(0, 2) : all.slice(0, 1);
}

/** Full before gas, settled before by hand, newest first. A stretch that began before the setting does not belong to it. */
function bestReading(readings: readonly Reading[], fromMs: number): Reading | undefined {
  const rank = ({ scope, settled }: Reading): number => (settled ? 2 : 0) + (scope === 'full' ? 1 : 0);
  return readings
    .filter((reading) => reading.fromMs >= fromMs || !reading.settled)
    .reduce<Reading | undefined>((best, one) => (best === undefined || rank(one) >= rank(best) ? one : best), undefined);
}

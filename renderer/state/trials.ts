import type { NumberedTrial } from '../../shared/tuning/trial/numbered-trial.ts';

/** The adjusters worth a column: those that were moved between trials, else the first; two at most. */
export function movedAdjusters(trials: readonly NumberedTrial[], all: readonly string[]): readonly string[] {
  const moved = all.filter((name) => {
    const values = trials.flatMap(({ setting }) => setting.positions.filter((one) => one.name === name).map(({ value }) => value));
    return new Set(values).size > 1;
  });
  return moved.length > 0 ? moved.slice(0, 2) : all.slice(0, 1);
}

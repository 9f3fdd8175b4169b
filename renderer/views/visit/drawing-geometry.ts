/** Places of the drawing of electrodes and nozzle, in mm around the middle of the nozzle's face. Pure. */
import { presentValue, type SetUpSheet } from '../../../shared/tuning/set-up-sheet.ts';

export type DrawingLengths = {
  gap: number | undefined;
  height: number | undefined;
  ahead: number | undefined;
  toHead: number | undefined;
  angleDeg: number | undefined;
};

export const lengthsOf = (sheet: SetUpSheet): DrawingLengths => ({
  gap: presentValue(sheet, 'electrodeGapMm'),
  height: presentValue(sheet, 'heightAboveCentrelineMm'),
  ahead: presentValue(sheet, 'aheadOfNozzleMm'),
  toHead: presentValue(sheet, 'nozzleToHeadMm'),
  angleDeg: presentValue(sheet, 'nozzleAngleDeg'),
});

/** Pixels per mm, so that the longest length fits; steps, so that the drawing does not breathe with every digit. */
export function scaleFor({ gap = 0, height = 0, ahead = 0, toHead = 0 }: DrawingLengths): number {
  const widest = Math.max(18, toHead + 6, ahead + 8);
  const tallest = Math.max(18, height + 8, gap + 8);
  const fit = Math.min(190 / widest, 110 / tallest);
  return [8, 6, 5, 4, 3, 2, 1.5, 1, 0.5, 0.25].find((step) => step <= fit) ?? 0.1;
}

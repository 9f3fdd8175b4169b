import { linesAreMissing } from './missing-lines.ts';
import { fitStep, type StepFit, type StepPoint } from './step-fit.ts';
import { studentQuantile95 } from '../../units/student.ts';

/** A time with its expanded uncertainty (95 %), s. */
export type TimedResult = { readonly value: number; readonly expanded: number };

/** How a sensor answers a step at its inlet. Times in s from the step. */
export type Response = {
  /** delay until the answer begins: hose, filter, pump */
  readonly dead: TimedResult;
  readonly tau: TimedResult;
  readonly t10: TimedResult;
  readonly t90: TimedResult;
  readonly rise: TimedResult;
  readonly from: number;
  readonly plateau: TimedResult;
  /** false: the answer is no simple lag; the times were then read off the curve itself and carry more doubt */
  readonly firstOrder: boolean;
};

export type ResponseOptions = {
  /** step of the display, in the channel's unit; found from the data where absent */
  readonly resolution?: number | undefined;
  /** half-width of the doubt about when the step was, s (by hand: 0.3 s, common practice) */
  readonly markHalfWidthS?: number | undefined;
  /** when the rest began, s after the step: up to there every line is needed */
  readonly restS?: number | undefined;
};

/** Why there is no response: nothing moved, or lines went missing on the way. */
const whysOfNoResponse = ['no-step', 'missing-lines'] as const;
export type NoResponse = (typeof whysOfNoResponse)[number];

const LN10 = Math.log(10);
const LN_10_9 = Math.log(10 / 9);

/**
 * Response and recovery times with their uncertainty: T90 from the step at the inlet to 90 % of the final change, as OIML R 144-1 no. 2.12 defines it.
 *
 * Noise enters by the covariance of the fit. A display step coarser than the noise is not averaged away on a plateau: it enters as the change of the
 * result when the plateau lies a standard rounding error off. The doubt about the step's own time is added to everything that is counted from it.
 * An answer quicker than the lines is read off between two of them, with the interval as its doubt.
 *
 * @param points s after the step at the inlet
 * @returns why there is none when there is no step to be seen, or lines are missing on the way
 */
export function responseOrWhy(
  points: readonly StepPoint[],
  { resolution, markHalfWidthS = 0, restS = 0 }: ResponseOptions = {},
): Response | NoResponse {
  const times = points.map(({ t }) => t);
  if (linesAreMissing(times, 0, restS)) return 'missing-lines';
  const fit = fitStep(points);
  if (fit === undefined) return 'no-step';
  const q = resolution ?? resolutionOf(points);
  const amplitude = fit.to - fit.from;
  const end = points.at(-1)?.t ?? 0;
  const wayEndS = fit.dead + 3 * fit.tau;
  // it must have moved by more than its noise, and have arrived
  if (Math.abs(amplitude) < 6 * Math.max(fit.sd, q / Math.sqrt(12)) || end < wayEndS) return 'no-step';
  if (linesAreMissing(times, 0, wayEndS)) return 'missing-lines';
  const uMark = markHalfWidthS / Math.sqrt(3);
  const found = isResolved(fit, points) && looksFirstOrder(fit) ? fitted(points, fit, { q, uMark }) : readOff(points, fit, { q, uMark });
  return found !== undefined && isWhole(found, end) ? found : 'no-step';
}

/** Do the lines tell dead time and time constant apart? */
const isResolved = (fit: StepFit, points: readonly StepPoint[]): fit is StepFit & { unitVariance: NonNullable<StepFit['unitVariance']> } =>
  fit.unitVariance !== undefined && fit.tau > 0.5 * intervalOf(points);
const intervalOf = (points: readonly StepPoint[]): number =>
  ((points.at(-1)?.t ?? 0) - (points[0]?.t ?? 0)) / Math.max(1, points.length - 1);

/** A value that is no number is left out: it would spoil the whole record. So is a time whose uncertainty is larger than all that was watched. */
const isWhole = ({ dead, tau, t10, t90, rise, from, plateau }: Response, watchedS: number): boolean =>
  [from, plateau.value, plateau.expanded].every(Number.isFinite) &&
  [dead, tau, t10, t90, rise].every(({ value, expanded }) => Number.isFinite(value) && expanded <= watchedS);

function fitted(
  points: readonly StepPoint[],
  fit: StepFit & { readonly unitVariance: NonNullable<StepFit['unitVariance']> },
  { q, uMark }: { q: number; uMark: number },
): Response {
  const k = studentQuantile95(points.length - 4);
  const sd = Math.max(fit.sd, q / Math.sqrt(12));
  const rounding = roundingShift(points, fit, q);
  const result = (weights: readonly [number, number], fromMark: boolean): TimedResult => {
    const [wDead, wTau] = weights;
    const variance =
      sd ** 2 * fit.unitVariance([wDead, wTau, 0, 0]) +
      rounding.reduce((sum, shift) => sum + (wDead * shift.dead + wTau * shift.tau) ** 2, 0) +
      (fromMark ? uMark ** 2 : 0);
    return { value: wDead * fit.dead + wTau * fit.tau, expanded: k * Math.sqrt(variance) };
  };
  return {
    dead: result([1, 0], true),
    tau: result([0, 1], false),
    t10: result([1, LN_10_9], true),
    t90: result([1, LN10], true),
    rise: result([0, LN10 - LN_10_9], false),
    from: fit.from,
    plateau: { value: fit.to, expanded: k * Math.hypot(sd * Math.sqrt(fit.unitVariance([0, 0, 0, 1])), q / Math.sqrt(12)) },
    firstOrder: true,
  };
}

/** How dead time and time constant shift when the plateau before or after lies a standard rounding error off; nothing where noise is larger than the display step. */
function roundingShift(points: readonly StepPoint[], fit: StepFit, q: number): { dead: number; tau: number }[] {
  if (fit.sd > 0.5 * q) return [];
  const off = q / Math.sqrt(12);
  const tail = fit.dead + 3 * fit.tau;
  const shifted = [
    points.map((point) => (point.t > tail ? { t: point.t, y: point.y + off } : point)),
    points.map((point) => (point.t < fit.dead ? { t: point.t, y: point.y + off } : point)),
  ];
  return shifted.flatMap((changed) => {
    const again = fitStep(changed, fit);
    return again === undefined ? [] : [{ dead: again.dead - fit.dead, tau: again.tau - fit.tau }];
  });
}

/** Smallest change seen: the step of the display. 0 where every value differs. */
export function resolutionOf(points: readonly StepPoint[]): number {
  const values = [...new Set(points.map(({ y }) => y))].sort((a, b) => a - b);
  let smallest = Number.POSITIVE_INFINITY;
  for (let i = 1; i < values.length; i++) smallest = Math.min(smallest, (values[i] as number) - (values[i - 1] as number));
  return values.length > 0.8 * points.length || !Number.isFinite(smallest) ? 0 : smallest;
}

/** Residuals of a right model have no memory while the answer is under way; a lag of higher order leaves one broad swing. */
function looksFirstOrder(fit: StepFit): boolean {
  const moving = fit.residuals;
  let product = 0;
  let square = 0;
  for (let i = 1; i < moving.length; i++) product += (moving[i] as number) * (moving[i - 1] as number);
  for (const residual of moving) square += residual ** 2;
  if (square === 0) return true;
  const memory = product / square;
  // small residuals with memory are the display's rounding, not another shape
  const large = Math.max(...moving.map(Math.abs)) > 0.03 * Math.abs(fit.to - fit.from);
  return !(memory > 0.6 && large);
}

/** T10 and T90 off the curve itself: plateau means and the first crossing of the smoothed curve. */
function readOff(points: readonly StepPoint[], fit: StepFit, { q, uMark }: { q: number; uMark: number }): Response | undefined {
  const end = points.at(-1)?.t ?? 0;
  const plateauPoints = points.filter(({ t }) => t > end - Math.max(3, 0.2 * end));
  const before = points.filter(({ t }) => t < Math.max(0.5, fit.dead * 0.8));
  const mean = (list: readonly StepPoint[]): number => list.reduce((sum, { y }) => sum + y, 0) / list.length;
  if (plateauPoints.length < 3) return undefined;
  const to = mean(plateauPoints);
  const from = before.length > 0 ? mean(before) : (points[0]?.y ?? fit.from);
  const spread = Math.sqrt(plateauPoints.reduce((sum, { y }) => sum + (y - to) ** 2, 0) / Math.max(1, plateauPoints.length - 1));
  const uLevel = Math.hypot(spread / Math.sqrt(plateauPoints.length), q / Math.sqrt(12));
  const smooth = points.map((point, i) => ({ t: point.t, y: median([points[i - 1]?.y, point.y, points[i + 1]?.y]) }));
  const interval = intervalOf(points);
  const crossing = (part: number): TimedResult | undefined => {
    const level = from + part * (to - from);
    const rising = to > from;
    for (let i = 1; i < smooth.length; i++) {
      const a = smooth[i - 1] as StepPoint;
      const b = smooth[i] as StepPoint;
      if (b.t < 0 || !(rising ? a.y < level && b.y >= level : a.y > level && b.y <= level)) continue;
      const later = smooth[Math.min(smooth.length - 1, i + 2)] as StepPoint;
      const earlier = smooth[Math.max(0, i - 3)] as StepPoint;
      const slope = Math.abs((later.y - earlier.y) / Math.max(interval, later.t - earlier.t));
      const value = a.t + ((level - a.y) / (b.y - a.y)) * (b.t - a.t);
      return {
        value,
        // between two lines every moment is as likely
        expanded:
          2 *
          Math.hypot(
            Math.hypot(uLevel, spread, q / Math.sqrt(12)) / Math.max(slope, 1e-9),
            Math.max(interval, b.t - a.t) / Math.sqrt(12),
            uMark,
          ),
      };
    }
    return undefined;
  };
  const t10 = crossing(0.1);
  const t90 = crossing(0.9);
  if (t10 === undefined || t90 === undefined) return undefined;
  return {
    dead: { value: Math.max(0, fit.dead), expanded: 2 * Math.hypot(interval, uMark) },
    tau: { value: (t90.value - t10.value) / (LN10 - LN_10_9), expanded: Math.hypot(t90.expanded, t10.expanded) / (LN10 - LN_10_9) },
    t10,
    t90,
    rise: { value: t90.value - t10.value, expanded: Math.hypot(t90.expanded, t10.expanded) },
    from,
    plateau: { value: to, expanded: 2 * uLevel },
    firstOrder: false,
  };
}

function median(values: readonly (number | undefined)[]): number {
  const known = values.filter((value): value is number => value !== undefined).sort((a, b) => a - b);
  return known[Math.floor(known.length / 2)] as number;
}

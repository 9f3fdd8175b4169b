import { linearRegression } from 'simple-statistics';

/**
 * Published criteria for formal tests, offered by name beside our own. Both judge the stack temperature; both want 30 s means.
 *
 * - `field`: the burner has run undisturbed for at least 2 min (German BImSchV, Annex 2 no. 1.3) and the stack temperature has stopped
 *   rising (common field rule): its slope over the last 90 s with twice the standard error within 1 degC/min (limit ours).
 * - `lab`: three readings 15 min apart whose flue temperatures differ by no more than 2.8 degC (5 degF), as in 10 CFR 430
 *   subpart B, appendix O.
 */
export type Criterion = {
  /** one block mean of the stack temperature */
  add(timeS: number, stackC: number): void;
  /** the stack has moved: undisturbed running begins again */
  disturbed(timeS: number): void;
  met(): boolean;
  reset(): void;
};

const MEAN_S = 30;
/** A mean with more than this missing in one piece is of something else than its thirty seconds: it begins anew. */
const MISSING_S = MEAN_S / 2;
const LAB_APART_S = 900;
const LAB_WITHIN_C = 2.8;
const FIELD_LEAST_S = 120;
const FIELD_WINDOW_S = 90;
const FIELD_SLOPE_C_PER_S = 1 / 60;

/** A block may fall a little to either side of the quarter of an hour. */
const LAB_SLACK_S = MEAN_S;
const LAB_KEPT = Math.ceil((2 * LAB_APART_S + 2 * MEAN_S) / MEAN_S) + 2;

export function createLabCriterion(): Criterion {
  const ends = new Float64Array(LAB_KEPT);
  const means = new Float64Array(LAB_KEPT);
  let index = -1;
  let sum = 0;
  let count = 0;
  let fromS: number | undefined;
  let lastS: number | undefined;
  const meanAt = (timeS: number): number | undefined => {
    for (let i = index; i > index - LAB_KEPT && i >= 0; i--)
      if (Math.abs(ends[i % LAB_KEPT]! - timeS) <= LAB_SLACK_S / 2) return means[i % LAB_KEPT];
    return undefined;
  };
  return {
    add(timeS, stackC) {
      if (lastS !== undefined && timeS - lastS > MISSING_S) {
        sum = 0;
        count = 0;
        fromS = undefined;
      }
      lastS = timeS;
      fromS ??= timeS;
      sum += stackC;
      count++;
      if (timeS - fromS < MEAN_S) return;
      index++;
      ends[index % LAB_KEPT] = timeS;
      means[index % LAB_KEPT] = sum / count;
      sum = 0;
      count = 0;
      fromS = timeS;
    },
    disturbed() {},
    met() {
      if (index < 0) return false;
      const now = ends[index % LAB_KEPT]!;
      const three = [means[index % LAB_KEPT]!, meanAt(now - LAB_APART_S), meanAt(now - 2 * LAB_APART_S)];
      if (three.some((m) => m === undefined)) return false;
      const known = three as number[];
      return Math.max(...known) - Math.min(...known) <= LAB_WITHIN_C;
    },
    reset() {
      index = -1;
      sum = 0;
      count = 0;
      fromS = undefined;
      lastS = undefined;
    },
  };
}

export function createFieldCriterion(): Criterion {
  let points: [number, number][] = [];
  let sinceS: number | undefined;
  return {
    add(timeS, stackC) {
      sinceS ??= timeS;
      points.push([timeS, stackC]);
      while (points.length > 0 && timeS - points[0]![0] > FIELD_WINDOW_S) points.shift();
    },
    disturbed(timeS) {
      sinceS = timeS;
    },
    met() {
      const now = points.at(-1);
      if (!now || sinceS === undefined || now[0] - sinceS < FIELD_LEAST_S || now[0] - points[0]![0] < 0.9 * FIELD_WINDOW_S) return false;
      const origin = now[0];
      const shifted = points.map(([t, y]): [number, number] => [t - origin, y]);
      const { m, b } = linearRegression(shifted);
      const meanT = shifted.reduce((s, [t]) => s + t, 0) / shifted.length;
      const spreadT = shifted.reduce((s, [t]) => s + (t - meanT) ** 2, 0);
      const residual = shifted.reduce((s, [t, y]) => s + (y - m * t - b) ** 2, 0);
      const error = Math.sqrt(residual / Math.max(1, shifted.length - 2) / spreadT);
      return Math.abs(m) + 2 * error <= FIELD_SLOPE_C_PER_S;
    },
    reset() {
      points = [];
      sinceS = undefined;
    },
  };
}

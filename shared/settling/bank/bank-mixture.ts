import { FIELDS, L, L_VAR, type Members } from './bank-members.ts';
import { upperTail } from '../fits/normal.ts';

/** A reading promises the next minute, and a little more, for the delay of hose and cell. */
const AHEAD_S = 70;
/** So many standard deviations away is as good as nothing: 3e-7. */
const NOTHING = 5;
/** A member of less weight says nothing; those that rest have less. */
const LEFT_OUT = 1e-6;
/** So far from the border the error of `upperTail` and of the sums does not decide. */
const SLACK = 1e-5;

/** What all members together say, each with its weight. */
export function createMixture(members: Members) {
  const { state, weight, drift, resting } = members;
  const drifts = drift.some((rate) => rate > 0);

  /** What member `j` adds to P(|heading - centre| > limit): at most its weight, but for 1e-7 of it. */
  function partOutside(j: number, centre: number, limit: number): number {
    const o = j * FIELDS;
    let heading = state[o]!;
    let variance = state[o + 4]!;
    if (drifts && drift[j]! > 0) {
      heading += AHEAD_S * state[o + L]!;
      variance += AHEAD_S * (2 * state[o + L + 1]! + AHEAD_S * state[o + L_VAR]!);
    }
    const sd = Math.sqrt(Math.max(variance, 1e-12));
    const off = Math.abs(heading - centre);
    const near = (limit - off) / sd;
    if (near > NOTHING) return 0;
    const other = (limit + off) / sd;
    return weight[j]! * (upperTail(near) + (other > NOTHING ? 0 : upperTail(other)));
  }

  /** P(|heading - centre| > limit), where the heading of a member that drifts is the one at the end of the next minute */
  function probabilityOutside(centre: number, limit: number): number {
    let p = 0;
    // members that rest weigh less than what is left out
    const some = resting.count > 0 ? resting.awakeList : undefined;
    const count = some ? resting.awake : members.active;
    for (let k = 0; k < count; k++) {
      const j = some ? some[k]! : k;
      if (weight[j]! >= LEFT_OUT) p += partOutside(j, centre, limit);
    }
    return p;
  }

  /** Whether `probabilityOutside` is more than `least`; it stops as soon as the members that are left can't change the answer. */
  function isOutside(centre: number, limit: number, least: number): boolean {
    let p = 0;
    let left = 1;
    const some = resting.count > 0 ? resting.awakeList : undefined;
    const count = some ? resting.awake : members.active;
    for (let k = 0; k < count; k++) {
      const j = some ? some[k]! : k;
      const w = weight[j]!;
      if (w < LEFT_OUT) continue;
      p += partOutside(j, centre, limit);
      left -= w;
      if (p > least) return true;
      if (p + left < least - SLACK) return false;
    }
    return p > least;
  }

  /**
   * A steady slope: how likely one is that leaves `limit` within a minute, and its rate per second.
   *
   * @param least a probability that is not above this is of no interest, and may come out as 0
   */
  function slope(limit: number, least: number): { probability: number; perS: number } {
    if (!drifts) return { probability: 0, perS: 0 };
    let sum = 0;
    let perS = 0;
    for (let j = 0; j < members.active; j++) {
      if (drift[j]! === 0) continue;
      sum += weight[j]!;
      perS += weight[j]! * state[j * FIELDS + L]!;
    }
    perS = sum > 0 ? perS / sum : 0;
    if (sum < least - SLACK) return { probability: 0, perS };
    let probability = 0;
    for (let j = 0; j < members.active; j++) {
      if (drift[j]! === 0) continue;
      const rate = state[j * FIELDS + L]!;
      const sd = Math.sqrt(Math.max(state[j * FIELDS + L_VAR]!, 1e-18));
      probability += weight[j]! * (upperTail((limit / 60 - rate) / sd) + upperTail((limit / 60 + rate) / sd));
    }
    return { probability, perS };
  }

  let isFresh = false;
  const moments = { heading: 0, headingSd: 0, now: 0, nowSd: 0 };
  /** of heading and filtered value: sum and sum of squares, weighed */
  const sums = new Float64Array(4);
  const restingSums = new Float64Array(4);
  let restingAsOf = -1;
  function addUp(to: Float64Array, some: Int32Array | undefined, count: number): void {
    let h = 0;
    let hh = 0;
    let s = 0;
    let ss = 0;
    for (let k = 0; k < count; k++) {
      const j = some ? some[k]! : k;
      const w = weight[j]!;
      const o = j * FIELDS;
      const H = state[o]!;
      const S = state[o + 2]!;
      h += w * H;
      hh += w * (H * H + state[o + 4]!);
      s += w * S;
      ss += w * (S * S + state[o + 11]!);
    }
    to[0]! += h;
    to[1]! += hh;
    to[2]! += s;
    to[3]! += ss;
  }

  /** Mixture moments of heading and filtered value (sensor without wander). */
  function summary(): { heading: number; headingSd: number; now: number; nowSd: number } {
    if (isFresh) return moments;
    isFresh = true;
    if (resting.count === 0) {
      sums.fill(0);
      addUp(sums, undefined, members.active);
    } else {
      // those that rest stand still, with their weight, until all are stepped again
      if (restingAsOf !== resting.chosen) {
        restingAsOf = resting.chosen;
        restingSums.fill(0);
        addUp(restingSums, resting.list, resting.count);
      }
      sums.set(restingSums);
      addUp(sums, resting.awakeList, resting.awake);
    }
    const h = sums[0]!;
    const s = sums[2]!;
    moments.heading = h;
    moments.headingSd = Math.sqrt(Math.max(sums[1]! - h * h, 0));
    moments.now = s;
    moments.nowSd = Math.sqrt(Math.max(sums[3]! - s * s, 0));
    return moments;
  }

  return {
    probabilityOutside,
    isOutside,
    slope,
    summary,
    /** the members have changed */
    changed: (): void => {
      isFresh = false;
    },
  };
}

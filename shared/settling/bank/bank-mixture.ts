import { FIELDS, L, L_VAR, type Members } from './bank-members.ts';
import { upperTail } from '../fits/normal.ts';

/** A reading promises the next minute, and a little more, for the delay of hose and cell. */
const AHEAD_S = 70;
/** So many standard deviations away is as good as nothing: 3e-7. */
const NOTHING = 5;

/** What all members together say, each with its weight. */
export function createMixture(members: Members) {
  const { state, weight, drift } = members;
  const drifts = drift.some((rate) => rate > 0);

  /** P(|heading - centre| > limit), where the heading of a member that drifts is the one at the end of the next minute */
  function probabilityOutside(centre: number, limit: number): number {
    let p = 0;
    for (let j = 0; j < members.active; j++) {
      const w = weight[j]!;
      if (w < 1e-6) continue;
      const o = j * FIELDS;
      let heading = state[o]!;
      let variance = state[o + 4]!;
      if (drift[j]! > 0) {
        heading += AHEAD_S * state[o + L]!;
        variance += AHEAD_S * (2 * state[o + L + 1]! + AHEAD_S * state[o + L_VAR]!);
      }
      const sd = Math.sqrt(Math.max(variance, 1e-12));
      const off = Math.abs(heading - centre);
      const near = (limit - off) / sd;
      if (near > NOTHING) continue;
      const other = (limit + off) / sd;
      p += w * (upperTail(near) + (other > NOTHING ? 0 : upperTail(other)));
    }
    return p;
  }

  /** A steady slope: how likely one is that leaves `limit` within a minute, and its rate per second. */
  function slope(limit: number): { probability: number; perS: number } {
    let sum = 0;
    let probability = 0;
    let perS = 0;
    if (!drifts) return { probability, perS };
    for (let j = 0; j < members.active; j++) {
      if (drift[j]! === 0) continue;
      const w = weight[j]!;
      const rate = state[j * FIELDS + L]!;
      const sd = Math.sqrt(Math.max(state[j * FIELDS + L_VAR]!, 1e-18));
      sum += w;
      perS += w * rate;
      probability += w * (upperTail((limit / 60 - rate) / sd) + upperTail((limit / 60 + rate) / sd));
    }
    return { probability, perS: sum > 0 ? perS / sum : 0 };
  }

  let isFresh = false;
  const moments = { heading: 0, headingSd: 0, now: 0, nowSd: 0 };
  /** Mixture moments of heading and filtered value (sensor without wander). */
  function summary(): { heading: number; headingSd: number; now: number; nowSd: number } {
    if (isFresh) return moments;
    isFresh = true;
    let h = 0;
    let hh = 0;
    let s = 0;
    let ss = 0;
    for (let j = 0; j < members.active; j++) {
      const w = weight[j]!;
      const o = j * FIELDS;
      const H = state[o]!;
      const S = state[o + 2]!;
      h += w * H;
      hh += w * (H * H + state[o + 4]!);
      s += w * S;
      ss += w * (S * S + state[o + 11]!);
    }
    moments.heading = h;
    moments.headingSd = Math.sqrt(Math.max(hh - h * h, 0));
    moments.now = s;
    moments.nowSd = Math.sqrt(Math.max(ss - s * s, 0));
    return moments;
  }

  return {
    probabilityOutside,
    slope,
    summary,
    /** the members have changed */
    changed: (): void => {
      isFresh = false;
    },
  };
}

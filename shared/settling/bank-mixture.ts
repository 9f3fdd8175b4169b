import { FIELDS, type Members } from './bank-members.ts';
import { upperTail } from './normal.ts';

/** What all members together say, each with its weight. */
export function createMixture(members: Members) {
  const { state, weight } = members;

  /** P(|heading - centre| > limit) */
  function probabilityOutside(centre: number, limit: number): number {
    let p = 0;
    for (let j = 0; j < members.active; j++) {
      const w = weight[j]!;
      if (w < 1e-6) continue;
      const o = j * FIELDS;
      const sd = Math.sqrt(Math.max(state[o + 4]!, 1e-12));
      const off = Math.abs(state[o]! - centre);
      const near = (limit - off) / sd;
      if (near > 5) continue;
      p += w * (upperTail(near) + upperTail((limit + off) / sd));
    }
    return p;
  }

  const moments = { heading: 0, headingSd: 0, now: 0, nowSd: 0 };
  /** Mixture moments of heading and filtered value (sensor without wander). */
  function summary(): { heading: number; headingSd: number; now: number; nowSd: number } {
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

  return { probabilityOutside, summary };
}

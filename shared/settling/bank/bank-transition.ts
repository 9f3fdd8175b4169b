import type { Members } from './bank-members.ts';

export type Transition = ReturnType<typeof createTransition>;

/** The exact transition over one span of time, for each pair of time constants. */
export function createTransition({ size, metal, perPair, firstS, sensorS }: Members, wanderSeconds: number) {
  const pairs = size / perPair;
  const fa = new Float64Array(pairs);
  const fb = new Float64Array(pairs);
  const fc = new Float64Array(pairs);
  const fd = new Float64Array(pairs);
  const fe = new Float64Array(pairs);
  /** how A follows L, as a part of A; with a drift rate: how A and S follow it */
  const fl = new Float64Array(pairs);
  const fg = new Float64Array(pairs);
  const transition = { dtS: Number.NaN, wk: 0, fa, fb, fc, fd, fe, fl, fg, over };

  /** @returns itself, for `dtS` */
  function over(dtS: number): typeof transition {
    if (dtS === transition.dtS) return transition;
    transition.dtS = dtS;
    transition.wk = Math.exp(-dtS / wanderSeconds);
    for (let i = 0; i < pairs; i++) {
      const f = firstS[i * perPair]!;
      const s = sensorS[i * perPair]!;
      const a = f > 0 ? Math.exp(-dtS / f) : 0;
      const e = s > 0 ? Math.exp(-dtS / s) : 0;
      const near = Math.abs(f - s) < 1e-6 * s;
      const d = f === 0 ? 0 : near ? (dtS / s) * e : (f / (f - s)) * (a - e);
      fa[i] = a;
      fb[i] = metal ? 0 : 1 - a;
      fl[i] = metal ? (a * dtS) / f : dtS - f * (1 - a);
      fg[i] = dtS - f - s + e * (f + s) + d * f;
      fd[i] = d;
      fe[i] = e;
      fc[i] = metal ? 1 - e : 1 - e - d;
    }
    return transition;
  }
  return transition;
}

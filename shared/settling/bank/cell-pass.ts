import { FIELDS, PLACES, type BankGrid, type Members } from './bank-members.ts';
import { roughNow, tailSquare, tempered, type Mix, type Pass } from './bank-pass.ts';
import type { Transition } from './bank-transition.ts';

/** A pass over members of the bank of a `cell`: A and S follow H, and with members that drift H goes on by D each second. */
export function createCellPass(members: Members, grid: BankGrid, pairOf: Int32Array, mix: Mix): Pass {
  const { size, wanderVar, drift, state, weight } = members;
  const rough = grid.coarseness * grid.coarseness;
  const { temper } = grid;
  return function passCells(list: Int32Array, count: number, transition: Transition, y: number, r: number): void {
    const { dtS, wk, fa, fb, fc, fd, fe, fl, fg } = transition;
    const square = members.scale * members.scale;
    const qH = square * grid.headingWalk * dtS;
    const qA = square * grid.slowWalk * dtS;
    const qS = square * grid.sensorWalk * dtS;
    const qD = square * grid.driftWalk * dtS;
    const turn = roughNow(members);
    const roughTurn = rough + turn * turn;
    const wanderGain = square * (1 - wk * wk);
    let mixMean = 0;
    let mixSquare = 0;
    let sum = 0;
    for (let k = 0; k < count; k++) {
      const j = list[k]!;
      const pair = pairOf[j]!;
      const a = fa[pair]!;
      const b = fb[pair]!;
      const c = fc[pair]!;
      const d = fd[pair]!;
      const e = fe[pair]!;
      const roughness = j < size ? rough : roughTurn;
      const o = (j * FIELDS) & PLACES;
      let H = state[o]!;
      const A0 = state[o + 1]!;
      const S0 = state[o + 2]!;
      let A = a * A0 + b * H;
      let S = c * H + d * A0 + e * S0;
      let W = wk * state[o + 3]!;
      const p00 = state[o + 4]!;
      const p01 = state[o + 5]!;
      const p02 = state[o + 6]!;
      const p03 = state[o + 7]!;
      const p11 = state[o + 8]!;
      const p12 = state[o + 9]!;
      const p13 = state[o + 10]!;
      const p22 = state[o + 11]!;
      const p23 = state[o + 12]!;
      const p33 = state[o + 13]!;
      // rows of F P
      let a0 = a * p01 + b * p00;
      let a1 = a * p11 + b * p01;
      let a2 = a * p12 + b * p02;
      let a3 = a * p13 + b * p03;
      // the rate and all that goes with it is nothing for a member that does not drift
      let rate = 0;
      let l = 0;
      let p04 = 0;
      let p34 = 0;
      let p44 = 0;
      let a4 = 0;
      let P04 = 0;
      let P24 = 0;
      const isDrifting = drift[j]! > 0;
      if (isDrifting) {
        rate = state[o + 14]!;
        l = fl[pair]!;
        p04 = state[o + 15]!;
        const p14 = state[o + 16]!;
        const p24 = state[o + 17]!;
        p34 = state[o + 18]!;
        p44 = state[o + 19]!;
        A += l * rate;
        a0 += l * p04;
        a1 += l * p14;
        a2 += l * p24;
        a3 += l * p34;
        a4 = a * p14 + b * p04 + l * p44;
        P04 = p04;
        P24 = c * p04 + d * p14 + e * p24;
      }
      const s0 = c * p00 + d * p01 + e * p02;
      const s1 = c * p01 + d * p11 + e * p12;
      const s2 = c * p02 + d * p12 + e * p22;
      const s3 = c * p03 + d * p13 + e * p23;
      let P00 = p00 + qH;
      let P01 = a0;
      let P02 = s0;
      let P03 = wk * p03;
      let P11 = a * a1 + b * a0 + l * a4 + qA;
      let P12 = c * a0 + d * a1 + e * a2;
      let P13 = wk * a3;
      let P22 = c * s0 + d * s1 + e * s2;
      let P23 = wk * s3;
      let P33 = wk * wk * p33 + wanderGain * wanderVar[j]!;
      const P34 = wk * p34;
      if (isDrifting) {
        // the heading moves by D each second, and what follows it follows that, too
        const gS = fg[pair]!;
        H += dtS * rate;
        S += gS * rate;
        P04 += dtS * p44;
        P00 += dtS * (p04 + P04);
        P01 += dtS * a4;
        P22 += gS * (2 * P24 + gS * p44);
        P12 += gS * a4;
        P02 += dtS * P24 + gS * P04;
        P03 += wk * dtS * p34;
        P23 += wk * gS * p34;
        P24 += gS * p44;
      }
      const move = S - S0;
      P22 += qS + roughness * move * move;
      const m = S + W;
      // never below the noise, whatever rounding has done to the covariance
      const v = Math.max(P22 + 2 * P23 + P33, 0) + r;
      const w = weight[j]!;
      mixMean += w * m;
      mixSquare += w * (v + m * m);
      const off = y - m;
      const iv = 1 / v;
      const z2 = off * off * iv;
      const likely = w * tempered(tailSquare(z2, iv), temper);
      weight[j] = likely;
      sum += likely;
      const inv = z2 > 9 ? (9 / z2) * iv : iv;
      const h0 = P02 + P03;
      const h1 = P12 + P13;
      const h2 = P22 + P23;
      const h3 = P23 + P33;
      const g = off * inv;
      A += h1 * g;
      S += h2 * g;
      W += h3 * g;
      P00 -= h0 * h0 * inv;
      P01 -= h0 * h1 * inv;
      P02 -= h0 * h2 * inv;
      P03 -= h0 * h3 * inv;
      P11 -= h1 * h1 * inv;
      P12 -= h1 * h2 * inv;
      P13 -= h1 * h3 * inv;
      P22 -= h2 * h2 * inv;
      P23 -= h2 * h3 * inv;
      P33 -= h3 * h3 * inv;
      state[o] = H + h0 * g;
      state[o + 1] = A;
      state[o + 2] = S;
      state[o + 3] = W;
      state[o + 4] = P00;
      state[o + 5] = P01;
      state[o + 6] = P02;
      state[o + 7] = P03;
      state[o + 8] = P11;
      state[o + 9] = P12;
      state[o + 10] = P13;
      state[o + 11] = P22;
      state[o + 12] = P23;
      state[o + 13] = P33;
      if (isDrifting) {
        const h4 = P24 + P34;
        state[o + 14] = rate + h4 * g;
        state[o + 15] = P04 - h0 * h4 * inv;
        state[o + 16] = a4 - h1 * h4 * inv;
        state[o + 17] = P24 - h2 * h4 * inv;
        state[o + 18] = P34 - h3 * h4 * inv;
        state[o + 19] = p44 + qD - h4 * h4 * inv;
      }
    }
    mix.mean += mixMean;
    mix.square += mixSquare;
    mix.sum += sum;
  };
}

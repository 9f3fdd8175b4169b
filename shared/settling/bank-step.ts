import { FIELDS, type BankGrid, type Members } from './bank-members.ts';

/** Student's t as likelihood: heavy tails, so that one bad block cannot overturn the weights. */
const TAIL_FREEDOM = 5;
const WEIGHT_FLOOR = 1e-4;
/** Weight that members with a drift rate, and those without, keep together. */
const DRIFT_FLOOR = 0.003;
/**
 * Just after a change the model is rough: the turn takes some seconds, begins somewhere within a block, and the sensor is not
 * exactly of first order. Part of the sensor's move (cells) or of the whole move so far (metal), fading.
 */
const TURN_ROUGHNESS = 0.3;
const TURN_SECONDS = 6;
/** variance per second by which the logarithm of the slow constant may walk: more air flows, and it falls */
const LAW_WALK = 1e-6;

/** Likelihood to the power 1, 3/4 or 1/2, from its square: square roots cost less than powers. */
function tempered(square: number, temper: BankGrid['temper']): number {
  const root = Math.sqrt(square);
  if (temper === 1) return root;
  const half = Math.sqrt(root);
  return temper === 0.5 ? half : half * Math.sqrt(half);
}

/** The filter step over all members: exact transitions, one measurement, new weights. */
export function createStep(members: Members, grid: BankGrid) {
  const { size, metal, perPair, firstS, sensorS, wanderVar, walks, drift, state, weight } = members;
  const drifts = grid.drift.some((rate) => rate > 0);
  const pairs = size / perPair;
  // exact transition for the current block spacing, per pair of time constants
  const fa = new Float64Array(pairs);
  const fb = new Float64Array(pairs);
  const fc = new Float64Array(pairs);
  const fd = new Float64Array(pairs);
  const fe = new Float64Array(pairs);
  /** how A follows L, as a part of A; with a drift rate: how A and S follow it */
  const fl = new Float64Array(pairs);
  const fg = new Float64Array(pairs);
  let wk = 0;
  let transitionS = Number.NaN;
  const innovation = { mean: 0, variance: 1, logLikelihood: 0 };

  function setTransition(dtS: number): void {
    transitionS = dtS;
    wk = Math.exp(-dtS / grid.wanderSeconds);
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
  }

  /** A slope may begin and end without an alarm: neither the members that drift nor the others are ever given up. */
  function keepBothOpen(): void {
    let drifting = 0;
    for (let j = 0; j < members.active; j++) if (drift[j]! > 0) drifting += weight[j]!;
    const wanted = Math.min(Math.max(drifting, DRIFT_FLOOR), 1 - DRIFT_FLOOR);
    if (wanted === drifting || drifting <= 0 || drifting >= 1) return;
    for (let j = 0; j < members.active; j++) weight[j]! *= drift[j]! > 0 ? wanted / drifting : (1 - wanted) / (1 - drifting);
  }

  /** Moves on by `dtS` and takes the block mean `y` with noise variance `r`. @returns what was expected before seeing y, and how likely y was */
  return function step(dtS: number, y: number, r: number): Readonly<typeof innovation> {
    if (dtS !== transitionS) setTransition(dtS);
    const { active } = members;
    const qH = grid.headingWalk * dtS;
    const qA = grid.slowWalk * dtS;
    const qS = grid.sensorWalk * dtS;
    const qL = metal ? LAW_WALK * dtS : 0;
    const qD = grid.driftWalk * dtS;
    members.ageS += dtS;
    const rough = grid.coarseness * grid.coarseness;
    const turn = active > size ? TURN_ROUGHNESS * Math.exp(-members.ageS / TURN_SECONDS) : 0;
    // the same for all members where the sensor is quick against the blocks: else those win that forget a misplaced turn soonest
    const turnVar = metal ? (turn * (y - members.before)) ** 2 : 0;
    const roughTurn = metal ? rough : rough + turn * turn;
    const wanderGain = 1 - wk * wk;
    const temper = grid.temper;
    let mixMean = 0;
    let mixSquare = 0;
    let sum = 0;
    for (let j = 0, pair = 0; j < active; pair++) {
      if (pair === pairs) pair = 0;
      const a = fa[pair]!;
      const b = fb[pair]!;
      const c = fc[pair]!;
      const d = fd[pair]!;
      const e = fe[pair]!;
      const l = fl[pair]!;
      const gS = fg[pair]!;
      const roughness = j < size ? rough : roughTurn;
      const qTurn = j < size ? 0 : turnVar;
      for (const end = j + perPair; j < end; j++) {
        const o = j * FIELDS;
        let H = state[o]!;
        const A0 = state[o + 1]!;
        const S0 = state[o + 2]!;
        const rate = state[o + 14]!;
        const isDrifting = drifts && drift[j]! > 0;
        const la = metal ? l * A0 : isDrifting ? l : 0;
        let A = a * A0 + b * H + la * rate;
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
        const p04 = state[o + 15]!;
        const p14 = state[o + 16]!;
        const p24 = state[o + 17]!;
        const p34 = state[o + 18]!;
        const p44 = state[o + 19]!;
        // rows of F P
        const a0 = a * p01 + b * p00 + la * p04;
        const a1 = a * p11 + b * p01 + la * p14;
        const a2 = a * p12 + b * p02 + la * p24;
        const a3 = a * p13 + b * p03 + la * p34;
        const a4 = a * p14 + b * p04 + la * p44;
        const s0 = c * p00 + d * p01 + e * p02;
        const s1 = c * p01 + d * p11 + e * p12;
        const s2 = c * p02 + d * p12 + e * p22;
        const s3 = c * p03 + d * p13 + e * p23;
        const walk = walks[j]!;
        let P00 = p00 + walk * qH;
        let P01 = a0;
        let P02 = s0;
        let P03 = wk * p03;
        let P11 = a * a1 + b * a0 + la * a4 + qA;
        let P12 = c * a0 + d * a1 + e * a2;
        let P13 = wk * a3;
        let P22 = c * s0 + d * s1 + e * s2;
        let P23 = wk * s3;
        let P33 = wk * wk * p33 + wanderGain * wanderVar[j]!;
        let P04 = p04;
        let P24 = c * p04 + d * p14 + e * p24;
        const P34 = wk * p34;
        let qLaw = qL;
        if (isDrifting) {
          // the heading moves by D each second, and what follows it follows that, too
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
          qLaw = qD;
        }
        const move = S - S0;
        P22 += walk * qS + qTurn + roughness * move * move;
        const m = S + W;
        // never below the noise, whatever rounding has done to the covariance
        let v = Math.max(P22 + 2 * P23 + P33, 0) + r;
        const w = weight[j]!;
        mixMean += w * m;
        mixSquare += w * (v + m * m);
        const z2 = ((y - m) * (y - m)) / v;
        const q = 1 + z2 / TAIL_FREEDOM;
        // density squared, without its constant: q to the power -(freedom + 1)
        const likely = w * tempered(1 / (v * q * q * q * q * q * q), temper);
        weight[j] = likely;
        sum += likely;
        if (z2 > 9) v *= z2 / 9;
        const inv = 1 / v;
        const h0 = P02 + P03;
        const h1 = P12 + P13;
        const h2 = P22 + P23;
        const h3 = P23 + P33;
        const h4 = P24 + P34;
        const g = (y - m) * inv;
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
        state[o + 14]! += h4 * g;
        state[o + 15] = P04 - h0 * h4 * inv;
        state[o + 16] = a4 - h1 * h4 * inv;
        state[o + 17] = P24 - h2 * h4 * inv;
        state[o + 18] = P34 - h3 * h4 * inv;
        state[o + 19] = p44 + qLaw - h4 * h4 * inv;
      }
    }
    const floor = WEIGHT_FLOOR / active;
    let total = 0;
    for (let j = 0; j < active; j++) {
      const w = Math.max(weight[j]! / sum, floor);
      weight[j] = w;
      total += w;
    }
    for (let j = 0; j < active; j++) weight[j]! /= total;
    if (drifts) keepBothOpen();
    members.age++;
    innovation.logLikelihood = Math.log(sum);
    innovation.mean = mixMean;
    innovation.variance = Math.max(mixSquare - mixMean * mixMean, 1e-12);
    return innovation;
  };
}

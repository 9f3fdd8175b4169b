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
/** A noise variance beside which any value says nothing. */
export const NO_MEASUREMENT = 1e12;
/** Below this part of an even share a member rests; together they carry less than this. */
const RESTS_BELOW = 1e-3;
/** Members that rest are stepped with one block of so many. */
export const RESTING_BLOCKS = 5;
/** A bank of fewer members costs little. */
const SMALL_BANK = 400;
/** variance per second by which the logarithm of the slow constant may walk: more air flows, and it falls */
const LAW_WALK = 1e-6;

/** Likelihood to the power 1, 3/4 or 1/2, from its square: square roots cost less than powers. */
function tempered(square: number, temper: BankGrid['temper']): number {
  const root = Math.sqrt(square);
  if (temper === 1) return root;
  const half = Math.sqrt(root);
  return temper === 0.5 ? half : half * Math.sqrt(half);
}

type Transition = ReturnType<typeof createTransition>;

/** The exact transition over one span of time, for each pair of time constants. */
function createTransition({ size, metal, perPair, firstS, sensorS }: Members, wanderSeconds: number) {
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

/**
 * The filter step: exact transitions, one measurement, new weights.
 *
 * While no change is in question, the members that hardly count (their time constants do not fit this plant) are stepped with every fifth block only, and take
 * that block alone. As soon as a change may have come all are brought up to the present: which of them fits is open again.
 */
export function createStep(members: Members, grid: BankGrid) {
  const { size, metal, perPair, wanderVar, walks, drift, state, weight, resting } = members;
  const drifts = grid.drift.some((rate) => rate > 0);
  const mayRest = size > SMALL_BANK;
  const now = createTransition(members, grid.wanderSeconds);
  const late = createTransition(members, grid.wanderSeconds);
  const all = Int32Array.from({ length: 2 * size }, (_, j) => j);
  const pairOf = Int32Array.from({ length: 2 * size }, (_, j) => Math.floor((j % size) / perPair));
  const innovation = { mean: 0, variance: 1, logLikelihood: 0 };
  const mix = { mean: 0, square: 0, sum: 0 };

  /** A slope may begin and end without an alarm: neither the members that drift nor the others are ever given up. */
  function keepBothOpen(): void {
    let drifting = 0;
    for (let j = 0; j < members.active; j++) if (drift[j]! > 0) drifting += weight[j]!;
    const wanted = Math.min(Math.max(drifting, DRIFT_FLOOR), 1 - DRIFT_FLOOR);
    if (wanted === drifting || drifting <= 0 || drifting >= 1) return;
    for (let j = 0; j < members.active; j++) weight[j]! *= drift[j]! > 0 ? wanted / drifting : (1 - wanted) / (1 - drifting);
  }

  /** Moves `count` members of `list` on and weighs them; what they expected adds up in `mix`. */
  function pass(list: Int32Array, count: number, transition: Transition, y: number, r: number): void {
    const { dtS, wk, fa, fb, fc, fd, fe, fl, fg } = transition;
    const { active } = members;
    const qH = grid.headingWalk * dtS;
    const qA = grid.slowWalk * dtS;
    const qS = grid.sensorWalk * dtS;
    const qL = metal ? LAW_WALK * dtS : 0;
    const qD = grid.driftWalk * dtS;
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
    for (let k = 0; k < count; k++) {
      const j = list[k]!;
      const pair = pairOf[j]!;
      const a = fa[pair]!;
      const b = fb[pair]!;
      const c = fc[pair]!;
      const d = fd[pair]!;
      const e = fe[pair]!;
      const l = fl[pair]!;
      const gS = fg[pair]!;
      const roughness = j < size ? rough : roughTurn;
      const qTurn = j < size ? 0 : turnVar;
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
    mix.mean += mixMean;
    mix.square += mixSquare;
    mix.sum += sum;
  }

  /** Weights of `count` members of `list` that add up to `total` again; none is ever given up. */
  function weigh(list: Int32Array, count: number, total: number): void {
    const floor = WEIGHT_FLOOR / members.active;
    let sum = 0;
    for (let k = 0; k < count; k++) {
      const j = list[k]!;
      const w = Math.max((weight[j]! * total) / mix.sum, floor);
      weight[j] = w;
      sum += w;
    }
    for (let k = 0; k < count; k++) weight[list[k]!]! *= total / sum;
  }

  function begin(): void {
    mix.mean = 0;
    mix.square = 0;
    mix.sum = 0;
  }

  /** Which members count from here on, and which may rest. */
  function chooseResting(): void {
    resting.behindS = 0;
    resting.blocks = 0;
    resting.count = 0;
    resting.awake = members.active;
    if (!mayRest || members.active > size) return;
    const least = RESTS_BELOW / size;
    let awake = 0;
    for (let j = 0; j < size; j++) {
      if (weight[j]! > least) resting.awakeList[awake++] = j;
      else resting.list[resting.count++] = j;
    }
    resting.awake = awake;
  }

  /** Brings the members that rest up to the present, without a measurement. */
  function bringUp(): void {
    if (resting.count > 0 && resting.behindS > 0) {
      let total = 0;
      for (let k = 0; k < resting.count; k++) total += weight[resting.list[k]!]!;
      begin();
      pass(resting.list, resting.count, late.over(resting.behindS), 0, NO_MEASUREMENT);
      weigh(resting.list, resting.count, total);
    }
    resting.behindS = 0;
    resting.blocks = 0;
    resting.count = 0;
    resting.awake = members.active;
  }

  /** Moves on by `dtS` and takes the block mean `y` with noise variance `r`. @returns what was expected before seeing y, and how likely y was */
  function step(dtS: number, y: number, r: number): Readonly<typeof innovation> {
    members.ageS += dtS;
    begin();
    if (resting.count > 0 && resting.blocks < RESTING_BLOCKS - 1) {
      resting.blocks++;
      resting.behindS += dtS;
      let total = 0;
      for (let k = 0; k < resting.awake; k++) total += weight[resting.awakeList[k]!]!;
      pass(resting.awakeList, resting.awake, now.over(dtS), y, r);
      weigh(resting.awakeList, resting.awake, total);
      mix.mean /= total;
      mix.square /= total;
    } else {
      if (resting.count === 0) pass(all, members.active, now.over(dtS), y, r);
      else {
        pass(resting.awakeList, resting.awake, now.over(dtS), y, r);
        pass(resting.list, resting.count, late.over(resting.behindS + dtS), y, r);
      }
      weigh(all, members.active, 1);
      chooseResting();
    }
    if (drifts) keepBothOpen();
    members.age++;
    innovation.logLikelihood = Math.log(mix.sum);
    innovation.mean = mix.mean;
    innovation.variance = Math.max(mix.square - mix.mean * mix.mean, 1e-12);
    return innovation;
  }

  return { step, bringUp };
}

import { upperTail } from './normal.ts';

/**
 * One bank of Kalman filters for one channel. Every member assumes one set of time constants; together they say where the
 * channel is heading and how sure that is. State per member: heading H, a slow part A, sensor S, wander W.
 *
 * `cell` (a gas channel): A is the first of two lags in series (hose and filter), S the second (the cell).
 *     dA/dt = (H - A)/first,  dS/dt = (A - S)/sensor
 * `metal` (the stack): A is what the metal and water still have to give, and fades by itself.
 *     dA/dt = -A/first,  dS/dt = (H + A - S)/sensor
 *   A change of the heading by D takes A along by -share*D: that part of the change comes slowly. A itself is continuous.
 * Measured is S + W. W fades with `wanderSeconds`.
 */
export type BankGrid = {
  readonly kind: 'cell' | 'metal';
  /** s */
  readonly first: readonly number[];
  /** s */
  readonly sensor: readonly number[];
  /** of a change, carried by the slow part; [0] for cells */
  readonly share: readonly number[];
  /** standard deviation of the wander, inner unit */
  readonly wander: readonly number[];
  readonly wanderSeconds: number;
  /** variance per second by which the heading may walk */
  readonly headingWalk: number;
  /** variance per second added to the slow part and to the sensor, for the coarseness of the grid */
  readonly slowWalk: number;
  readonly sensorWalk: number;
  /** process noise of the sensor in proportion to its rate of change (relative error of a grid constant) */
  readonly coarseness: number;
};

const FIELDS = 14;
const KEPT = 16;
/** Student's t as likelihood: heavy tails, so that one bad block cannot overturn the weights. */
const TAIL_FREEDOM = 5;
const WEIGHT_FLOOR = 1e-4;
const TEMPER = 0.5;
/** Variance of the share within one member: it differs from change to change. */
const SHARE_SPREAD = 0.0025;
/**
 * Just after a change the model is rough: the turn takes some seconds, begins somewhere within a block, and the sensor is not
 * exactly of first order. Part of the sensor's move, fading.
 */
const TURN_ROUGHNESS = 0.3;
const TURN_SECONDS = 6;
const RESUME_ROUGHNESS = 0.01;
/** Blocks after which the question 'has it changed?' is closed, whatever the answer. */
const SPLIT_BLOCKS = 30;

export type Bank = ReturnType<typeof createBank>;

export function createBank(grid: BankGrid) {
  const size = grid.first.length * grid.sensor.length * grid.share.length * grid.wander.length;
  const firstS = new Float64Array(2 * size);
  const sensorS = new Float64Array(2 * size);
  const share = new Float64Array(2 * size);
  const wanderVar = new Float64Array(2 * size);
  let member = 0;
  for (const f of grid.first) {
    for (const s of grid.sensor) {
      for (const h of grid.share) {
        for (const w of grid.wander) {
          firstS[member] = f;
          sensorS[member] = s;
          share[member] = h;
          wanderVar[member] = w * w;
          member++;
        }
      }
    }
  }
  for (const each of [firstS, sensorS, share, wanderVar]) each.copyWithin(size, 0, size);
  const metal = grid.kind === 'metal';

  // exact transition for the current block spacing
  const fa = new Float64Array(2 * size);
  const fb = new Float64Array(2 * size);
  const fc = new Float64Array(2 * size);
  const fd = new Float64Array(2 * size);
  const fe = new Float64Array(2 * size);
  let wanderKeep = 0;
  let transitionS = Number.NaN;

  // the first half of all arrays holds the members as they are; while it is open whether a change has come, the second half
  // holds the same members with the change, and the data decide between the two
  const state = new Float64Array(2 * size * FIELDS);
  const weight = new Float64Array(2 * size).fill(1 / size);
  const logLikelihood = new Float64Array(2 * size);
  const keptState = new Float64Array(KEPT * 2 * size * FIELDS);
  const keptWeight = new Float64Array(KEPT * 2 * size);
  const keptActive = new Int32Array(KEPT);
  const keptAge = new Int32Array(KEPT);
  const asideState = new Float64Array(2 * size * FIELDS);
  const asideWeight = new Float64Array(2 * size);
  let asideActive = size;
  let active = size;
  /** blocks and seconds since the last split */
  let age = 0;
  let ageS = 0;
  const keptAgeS = new Float64Array(KEPT);

  function setTransition(dtS: number): void {
    transitionS = dtS;
    wanderKeep = Math.exp(-dtS / grid.wanderSeconds);
    for (let j = 0; j < 2 * size; j++) {
      const f = firstS[j]!;
      const s = sensorS[j]!;
      const a = f > 0 ? Math.exp(-dtS / f) : 0;
      const e = s > 0 ? Math.exp(-dtS / s) : 0;
      const near = Math.abs(f - s) < 1e-6 * s;
      const d = f === 0 ? 0 : near ? (dtS / s) * e : (f / (f - s)) * (a - e);
      fa[j] = a;
      fb[j] = metal ? 0 : 1 - a;
      fd[j] = d;
      fe[j] = e;
      fc[j] = metal ? 1 - e : 1 - e - d;
    }
  }

  type Spread = { readonly headingSd: number; readonly slowSd: number };

  function begin(from: number, value: number, heading: number, { headingSd, slowSd }: Spread, noiseVar: number): void {
    for (let j = from; j < from + size; j++) {
      const o = j * FIELDS;
      state.fill(0, o, o + FIELDS);
      state[o] = heading;
      state[o + 1] = metal ? 0 : value;
      state[o + 2] = value;
      state[o + 4] = headingSd * headingSd;
      state[o + 8] = metal ? slowSd * slowSd : headingSd * headingSd;
      state[o + 11] = noiseVar + wanderVar[j]!;
      state[o + 12] = -wanderVar[j]!;
      state[o + 13] = wanderVar[j]!;
      if (metal) {
        // the sensor shows H + A: it says something about the sum only
        state[o + 4]! += slowSd * slowSd;
        state[o + 5] = -slowSd * slowSd;
      }
    }
  }

  /** Begins anew at `value`, at rest or moving; the weights (what the run has taught) are kept. */
  function start(value: number, heading: number, rest: Spread, moving: Spread, restProbability: number, noiseVar: number): void {
    if (active > size) merge();
    begin(0, value, value, rest, noiseVar);
    begin(size, value, heading, moving, noiseVar);
    split(1 - restProbability);
  }

  function split(probability: number): void {
    for (let j = 0; j < size; j++) {
      weight[size + j] = weight[j]! * probability;
      weight[j]! *= 1 - probability;
    }
    active = 2 * size;
    age = 0;
    ageS = 0;
  }

  /** One half again: the two of each pair are replaced by one with their common mean and covariance. */
  function merge(): void {
    if (active === size) return;
    for (let j = 0; j < size; j++) {
      const o = j * FIELDS;
      const q = (size + j) * FIELDS;
      const w = weight[j]! + weight[size + j]!;
      const g = w > 0 ? weight[size + j]! / w : 0;
      weight[j] = w;
      const d0 = state[q]! - state[o]!;
      const d1 = state[q + 1]! - state[o + 1]!;
      const d2 = state[q + 2]! - state[o + 2]!;
      const d3 = state[q + 3]! - state[o + 3]!;
      for (let k = 0; k < FIELDS; k++) state[o + k]! += g * (state[q + k]! - state[o + k]!);
      const h = g * (1 - g);
      state[o + 4]! += h * d0 * d0;
      state[o + 5]! += h * d0 * d1;
      state[o + 6]! += h * d0 * d2;
      state[o + 7]! += h * d0 * d3;
      state[o + 8]! += h * d1 * d1;
      state[o + 9]! += h * d1 * d2;
      state[o + 10]! += h * d1 * d3;
      state[o + 11]! += h * d2 * d2;
      state[o + 12]! += h * d2 * d3;
      state[o + 13]! += h * d3 * d3;
    }
    active = size;
  }

  /** Probability `probability` that the heading has jumped by about `sd`; the metal takes its share along. */
  function widen(sd: number, probability: number, resetWander: boolean): void {
    merge();
    state.copyWithin(size * FIELDS, 0, size * FIELDS);
    split(probability);
    const v = sd * sd;
    for (let j = size; j < 2 * size; j++) {
      const o = j * FIELDS;
      state[o + 4]! += v;
      if (metal) {
        const h = share[j]!;
        state[o + 5]! -= h * v;
        state[o + 8]! += (h * h + SHARE_SPREAD) * v;
      }
      if (resetWander) {
        state[o + 2]! += state[o + 3]!;
        state[o + 3] = 0;
        state[o + 11]! += state[o + 13]! + 2 * state[o + 12]! + wanderVar[j]!;
        state[o + 6]! += state[o + 7]!;
        state[o + 9]! += state[o + 10]!;
        state[o + 7] = 0;
        state[o + 10] = 0;
        state[o + 12] = -wanderVar[j]!;
        state[o + 13] = wanderVar[j]!;
      }
    }
  }

  const innovation = { mean: 0, variance: 1 };

  /** Moves on by `dtS` and takes the block mean `y` with noise variance `r`. @returns what was expected before seeing y */
  function step(dtS: number, y: number, r: number): { mean: number; variance: number } {
    if (dtS !== transitionS) setTransition(dtS);
    const qH = grid.headingWalk * dtS;
    const qA = grid.slowWalk * dtS;
    const qS = grid.sensorWalk * dtS;
    ageS += dtS;
    const rough = grid.coarseness * grid.coarseness;
    const roughTurn = rough + (active > size ? (TURN_ROUGHNESS * Math.exp(-ageS / TURN_SECONDS)) ** 2 : 0);
    const wanderGain = 1 - wanderKeep * wanderKeep;
    const wk = wanderKeep;
    let mixMean = 0;
    let mixSquare = 0;
    let best = -Infinity;
    for (let j = 0; j < active; j++) {
      const o = j * FIELDS;
      const a = fa[j]!;
      const b = fb[j]!;
      const c = fc[j]!;
      const d = fd[j]!;
      const e = fe[j]!;
      const H = state[o]!;
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
      const a0 = a * p01 + b * p00;
      const a1 = a * p11 + b * p01;
      const a2 = a * p12 + b * p02;
      const a3 = a * p13 + b * p03;
      const s0 = c * p00 + d * p01 + e * p02;
      const s1 = c * p01 + d * p11 + e * p12;
      const s2 = c * p02 + d * p12 + e * p22;
      const s3 = c * p03 + d * p13 + e * p23;
      const move = S - S0;
      let P00 = p00 + qH;
      let P01 = a0;
      let P02 = s0;
      let P03 = wk * p03;
      let P11 = a * a1 + b * a0 + qA;
      let P12 = c * a0 + d * a1 + e * a2;
      let P13 = wk * a3;
      let P22 = c * s0 + d * s1 + e * s2 + qS + (j < size ? rough : roughTurn) * move * move;
      let P23 = wk * s3;
      let P33 = wk * wk * p33 + wanderGain * wanderVar[j]!;
      const m = S + W;
      // never below the noise, whatever rounding has done to the covariance
      let v = Math.max(P22 + 2 * P23 + P33, 0) + r;
      const w = weight[j]!;
      mixMean += w * m;
      mixSquare += w * (v + m * m);
      const z2 = ((y - m) * (y - m)) / v;
      const ll = -0.5 * (Math.log(v) + (TAIL_FREEDOM + 1) * Math.log(1 + z2 / TAIL_FREEDOM));
      logLikelihood[j] = ll;
      if (ll > best) best = ll;
      if (z2 > 9) v *= z2 / 9;
      const inv = 1 / v;
      const h0 = P02 + P03;
      const h1 = P12 + P13;
      const h2 = P22 + P23;
      const h3 = P23 + P33;
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
    }
    let sum = 0;
    for (let j = 0; j < active; j++) {
      const w = weight[j]! * Math.exp(TEMPER * (logLikelihood[j]! - best));
      weight[j] = w;
      sum += w;
    }
    const floor = WEIGHT_FLOOR / active;
    let total = 0;
    for (let j = 0; j < active; j++) {
      const w = Math.max(weight[j]! / sum, floor);
      weight[j] = w;
      total += w;
    }
    for (let j = 0; j < active; j++) weight[j]! /= total;
    age++;
    if (active > size) {
      let changed = 0;
      for (let j = size; j < active; j++) changed += weight[j]!;
      if (age >= SPLIT_BLOCKS || (age > 8 && (changed < 0.01 || changed > 0.99))) merge();
    }
    innovation.mean = mixMean;
    innovation.variance = Math.max(mixSquare - mixMean * mixMean, 1e-12);
    return innovation;
  }

  /** Keeps the state after block `index` for back-dating. */
  function keep(index: number): void {
    const slot = index % KEPT;
    keptState.set(active === size ? state.subarray(0, size * FIELDS) : state, slot * 2 * size * FIELDS);
    keptWeight.set(weight, slot * 2 * size);
    keptActive[slot] = active;
    keptAge[slot] = age;
    keptAgeS[slot] = ageS;
  }

  /** Goes back to the state after block `index`. */
  function restore(index: number): void {
    const slot = index % KEPT;
    active = keptActive[slot]!;
    age = keptAge[slot]!;
    ageS = keptAgeS[slot]!;
    const from = slot * 2 * size;
    state.set(keptState.subarray(from * FIELDS, (from + active) * FIELDS));
    weight.set(keptWeight.subarray(from, from + 2 * size));
  }

  /** Sets the state after block `index` aside, for a return to it after an interruption. */
  function setAside(index: number): void {
    const from = (index % KEPT) * 2 * size;
    asideActive = keptActive[index % KEPT]!;
    asideState.set(keptState.subarray(from * FIELDS, (from + 2 * size) * FIELDS));
    asideWeight.set(keptWeight.subarray(from, from + 2 * size));
  }

  /** Goes on from what was set aside `dtS` ago: same heading, the sensor somewhere else (at `value`); or the heading is new by `sd`. */
  function resume(dtS: number, value: number, noiseVar: number, sd: number, probability: number): void {
    active = asideActive;
    state.set(asideState);
    weight.set(asideWeight);
    merge();
    step(dtS, value, 1e12);
    for (let j = 0; j < size; j++) {
      const o = j * FIELDS;
      const off = value - state[o]!;
      state[o + 2] = value - state[o + 3]!;
      // S = value - W: whatever goes with W goes against S
      state[o + 6] = -state[o + 7]!;
      state[o + 9] = -state[o + 10]!;
      state[o + 11] = noiseVar + state[o + 13]! + RESUME_ROUGHNESS * off * off;
      state[o + 12] = -state[o + 13]!;
      if (!metal) {
        state[o + 1] = value - 0.2 * off;
        state[o + 5] = 0;
        state[o + 8] = 0.1 * off * off + noiseVar;
        state[o + 9] = 0;
        state[o + 10] = 0;
      }
    }
    widen(sd, probability, false);
  }

  /** P(|heading - centre| > limit) */
  function probabilityOutside(centre: number, limit: number): number {
    let p = 0;
    for (let j = 0; j < active; j++) {
      const w = weight[j]!;
      if (w < 1e-6) continue;
      const o = j * FIELDS;
      const sd = Math.sqrt(Math.max(state[o + 4]!, 1e-12));
      const off = state[o]! - centre;
      p += w * (upperTail((limit - off) / sd) + upperTail((limit + off) / sd));
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
    for (let j = 0; j < active; j++) {
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
    active: () => active,
    age: () => age,
    size,
    metal,
    kept: KEPT,
    fields: FIELDS,
    state,
    weight,
    firstS,
    sensorS,
    share,
    start,
    widen,
    setAside,
    resume,
    step,
    keep,
    restore,
    probabilityOutside,
    summary,
  };
}

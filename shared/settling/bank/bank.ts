import { createMembers, DRIFT_AFTER_TURN, DRIFT_PRIOR, FIELDS, L, L_VAR, type BankGrid } from './bank-members.ts';
import type { KnownChannel } from '../../measurement/knowledge.ts';
import { createMemory } from './bank-memory.ts';
import { createMixture } from './bank-mixture.ts';
import { createStep, NO_MEASUREMENT } from './bank-step.ts';

/** Variance of the share within one member: it differs from change to change. */
const SHARE_SPREAD = 0.0025;
const RESUME_ROUGHNESS = 0.01;
/** Blocks after which the question 'has it changed?' is closed, whatever the answer. */
const SPLIT_BLOCKS = 30;

/** Blocks between two tries whether a slope has ended. */
const REOPEN_BLOCKS = 6;

type Spread = { readonly headingSd: number; readonly slowSd: number };
export type Bank = ReturnType<typeof createBank>;

/** The bank of one channel: its members, the filter step, and what happens to them at a start, a change and an interruption. */
export function createBank(grid: BankGrid, known?: KnownChannel) {
  const members = createMembers(grid, known);
  const { size, metal, state, weight, share, wanderVar, drift } = members;
  const mixture = createMixture(members);
  const filter = createStep(members, grid);
  const memory = createMemory({ members, bringUp: filter.bringUp, step: stepMembers });
  const drifts = grid.drift.length > 1;

  function forgetRate(o: number, j: number): void {
    state.fill(0, o + L, o + L_VAR);
    const rate = members.scale * drift[j]!;
    state[o + L_VAR] = rate * rate;
  }

  /** After a change a slope is at least so likely. */
  function openDrift(least: number): void {
    const drifting = driftWeight();
    if (drifting <= 0 || drifting >= least) return;
    setDrift(least, drifting);
  }
  function driftWeight(): number {
    let drifting = 0;
    for (let j = 0; j < size; j++) if (drift[j]! > 0) drifting += weight[j]!;
    return drifting;
  }
  function setDrift(wanted: number, drifting: number): void {
    for (let j = 0; j < size; j++) weight[j]! *= drift[j]! > 0 ? wanted / drifting : (1 - wanted) / (1 - drifting);
  }

  function begin(from: number, value: number, heading: number, { headingSd, slowSd }: Spread, noiseVar: number): void {
    for (let j = from; j < from + size; j++) {
      const o = j * FIELDS;
      const wander = members.scale * members.scale * wanderVar[j]!;
      // what is known of the constant is kept, with the weights
      state.fill(0, o, o + L);
      state.fill(0, o + L + 1, o + L_VAR);
      if (!metal) forgetRate(o, j);
      state[o] = heading;
      state[o + 1] = metal ? 0 : value;
      state[o + 2] = value;
      state[o + 4] = headingSd * headingSd;
      state[o + 8] = metal ? slowSd * slowSd : headingSd * headingSd;
      state[o + 11] = noiseVar + wander;
      state[o + 12] = -wander;
      state[o + 13] = wander;
      if (metal) {
        // the sensor shows H + A: it says something about the sum only
        state[o + 4]! += slowSd * slowSd;
        state[o + 5] = -slowSd * slowSd;
      }
    }
  }

  /** Begins anew at `value`, at rest or moving; the weights (what the run has taught) are kept. */
  function start(value: number, heading: number, rest: Spread, moving: Spread, restProbability: number, noiseVar: number): void {
    filter.bringUp();
    if (members.active > size) merge();
    if (drifts) setDrift(DRIFT_PRIOR, driftWeight());
    for (let j = 0; j < size; j++) {
      state[(size + j) * FIELDS + L] = state[j * FIELDS + L]!;
      state[(size + j) * FIELDS + L_VAR] = state[j * FIELDS + L_VAR]!;
    }
    begin(0, value, value, rest, noiseVar);
    begin(size, value, heading, moving, noiseVar);
    members.before = value;
    split(1 - restProbability);
  }

  function split(probability: number): void {
    for (let j = 0; j < size; j++) {
      weight[size + j] = weight[j]! * probability;
      weight[j]! *= 1 - probability;
    }
    members.active = 2 * size;
    members.age = 0;
    members.ageS = 0;
  }

  /** One half again: the two of each pair are replaced by one with their common mean and covariance. */
  function merge(): void {
    if (members.active === size) return;
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
      const d4 = state[q + L]! - state[o + L]!;
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
      state[o + 15]! += h * d0 * d4;
      state[o + 16]! += h * d1 * d4;
      state[o + 17]! += h * d2 * d4;
      state[o + 18]! += h * d3 * d4;
      state[o + L_VAR]! += h * d4 * d4;
    }
    members.active = size;
  }

  /**
   * Probability `probability` that the heading has jumped by about `sd`; the metal takes its share along.
   * @param isTurn the burner was turned: a step, hardly ever a slope
   */
  function widen(sd: number, probability: number, resetWander: boolean, isTurn: boolean): void {
    filter.bringUp();
    merge();
    members.before = mixture.summary().now;
    openDrift(isTurn ? DRIFT_AFTER_TURN : DRIFT_PRIOR);
    state.copyWithin(size * FIELDS, 0, size * FIELDS);
    split(probability);
    const v = sd * sd;
    for (let j = size; j < 2 * size; j++) {
      const o = j * FIELDS;
      state[o + 4]! += v;
      if (drift[j]! > 0) forgetRate(o, j);
      if (metal) {
        const h = share[j]!;
        state[o + 5]! -= h * v;
        state[o + 8]! += (h * h + SHARE_SPREAD) * v;
      }
      if (resetWander) {
        const wander = members.scale * members.scale * wanderVar[j]!;
        state[o + 2]! += state[o + 3]!;
        state[o + 3] = 0;
        state[o + 11]! += state[o + 13]! + 2 * state[o + 12]! + wander;
        state[o + 6]! += state[o + 7]!;
        state[o + 9]! += state[o + 10]!;
        state[o + 7] = 0;
        state[o + 10] = 0;
        state[o + 12] = -wander;
        state[o + 13] = wander;
        state[o + 17]! += state[o + 18]!;
        state[o + 18] = 0;
      }
    }
  }

  /** Moves on by `dtS` without a measurement. */
  function predict(dtS: number): void {
    filter.step(dtS, mixture.summary().now, NO_MEASUREMENT);
  }

  /**
   * A slope that has all but gone: the members that do not drift take over where the others stand. They stood where the slope had left them, and
   * would need minutes to come after.
   */
  function reopenRest(): void {
    if (!drifts || members.active > size || ++members.sinceReopened < REOPEN_BLOCKS) return;
    let drifting = 0;
    let rate = 0;
    for (let j = 0; j < size; j++) {
      if (drift[j]! === 0) continue;
      drifting += weight[j]!;
      rate += weight[j]! * state[j * FIELDS + L]!;
    }
    if (drifting < 0.5 || Math.abs(rate) > members.scale * grid.driftRest * drifting) return;
    members.sinceReopened = 0;
    const per = grid.drift.length;
    for (let j = 0; j < size; j += per) {
      let best = j + 1;
      let sum = weight[j]!;
      for (let k = j + 1; k < j + per; k++) {
        sum += weight[k]!;
        if (weight[k]! > weight[best]!) best = k;
      }
      state.copyWithin(j * FIELDS, best * FIELDS, (best + 1) * FIELDS);
      state.fill(0, j * FIELDS + L, (j + 1) * FIELDS);
      for (let k = j + 1; k < j + per; k++) weight[k]! *= 0.5;
      weight[j] = sum - weights(j + 1, j + per);
    }
  }
  const weights = (from: number, to: number): number => {
    let sum = 0;
    for (let k = from; k < to; k++) sum += weight[k]!;
    return sum;
  };

  function stepMembers(dtS: number, y: number, r: number): ReturnType<typeof filter.step> {
    const innovation = filter.step(dtS, y, r);
    reopenRest();
    if (members.active > size) {
      let changed = 0;
      for (let j = size; j < members.active; j++) changed += weight[j]!;
      if (members.age >= SPLIT_BLOCKS || (members.age > 8 && (changed < 0.01 || changed > 0.99))) merge();
    }
    return innovation;
  }

  function step(dtS: number, y: number, r: number): ReturnType<typeof filter.step> {
    memory.stepping(dtS, y, r);
    return stepMembers(dtS, y, r);
  }

  /** Goes on from what was set aside `dtS` ago: same heading, the sensor somewhere else (at `value`); or the heading is new by `sd`. */
  function resume(dtS: number, value: number, noiseVar: number, sd: number, probability: number): void {
    memory.aside.take();
    merge();
    step(dtS, value, NO_MEASUREMENT);
    for (let j = 0; j < size; j++) {
      const o = j * FIELDS;
      const off = value - state[o]!;
      state[o + 2] = value - state[o + 3]!;
      // S = value - W: whatever goes with W goes against S
      state[o + 6] = -state[o + 7]!;
      state[o + 9] = -state[o + 10]!;
      state[o + 11] = noiseVar + state[o + 13]! + RESUME_ROUGHNESS * off * off;
      state[o + 12] = -state[o + 13]!;
      state[o + 17] = -state[o + 18]!;
      if (!metal) {
        state[o + 1] = value - 0.2 * off;
        state[o + 5] = 0;
        state[o + 8] = 0.1 * off * off + noiseVar;
        state[o + 9] = 0;
        state[o + 10] = 0;
        // the slow part is new: what it had in common with the rate of before is gone, too
        state[o + 16] = 0;
      }
    }
    widen(sd, probability, false, false);
  }

  /** Whatever changes the members makes what they say out of date. */
  const changing =
    <In extends unknown[], Out>(work: (...given: In) => Out) =>
    (...given: In): Out => {
      mixture.changed();
      const out = work(...given);
      mixture.changed();
      return out;
    };
  /** Otherwise than by a step of the filter. */
  const changingOtherwise = <In extends unknown[], Out>(work: (...given: In) => Out) =>
    changing((...given: In): Out => {
      const out = work(...given);
      memory.changing();
      return out;
    });

  return {
    members,
    active: () => members.active,
    age: () => members.age,
    size,
    metal,
    fields: FIELDS,
    state,
    weight,
    firstS: members.firstS,
    sensorS: members.sensorS,
    /** @param scale by what the grid's walks, wanders and rates are multiplied from here on */
    scaleTo(scale: number): void {
      members.scale = scale;
    },
    start: changingOtherwise(start),
    widen: changingOtherwise(widen),
    resume: changingOtherwise(resume),
    step: changing(step),
    keep: (index: number) => memory.keep(index),
    restore: changing((index: number) => memory.restore(index)),
    setAside: changing((index: number) => memory.aside.keep(index)),
    keepBeforeTurn: changing((index: number) => memory.beforeTurn.keep(index)),
    takeBeforeTurn: changing(() => memory.beforeTurn.take()),
    predict: changingOtherwise(predict),
    probabilityOutside: mixture.probabilityOutside,
    isOutside: mixture.isOutside,
    slope: mixture.slope,
    summary: mixture.summary,
  };
}

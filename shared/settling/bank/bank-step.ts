import type { BankGrid, Members } from './bank-members.ts';
import type { Mix } from './bank-pass.ts';
import { createTransition } from './bank-transition.ts';
import { createCellPass } from './cell-pass.ts';
import { createMetalPass } from './metal-pass.ts';

const WEIGHT_FLOOR = 1e-4;
/** Weight that members with a drift rate, and those without, keep together. */
const DRIFT_FLOOR = 0.003;
/** A noise variance beside which any value says nothing. */
export const NO_MEASUREMENT = 1e12;
/** Below this part of an even share a member rests; together they carry less than this. */
const RESTS_BELOW = 1e-3;
/** Members that rest are stepped with one block of so many. */
const RESTING_BLOCKS = 5;
/** A bank of fewer members costs little. */
const SMALL_BANK = 400;
/**
 * The filter step: exact transitions, one measurement, new weights.
 *
 * While no change is in question, the members that hardly count (their time constants do not fit this plant) are stepped with every fifth block only, and take
 * that block alone. As soon as a change may have come all are brought up to the present: which of them fits is open again.
 */
export function createStep(members: Members, grid: BankGrid) {
  const { size, drift, weight, resting } = members;
  const drifts = grid.drift.some((rate) => rate > 0);
  const mayRest = size > SMALL_BANK;
  const now = createTransition(members, grid.wanderSeconds);
  const late = createTransition(members, grid.wanderSeconds);
  const all = Int32Array.from({ length: 2 * size }, (_, j) => j);
  const innovation = { mean: 0, variance: 1, logLikelihood: 0 };
  const pairOf = Int32Array.from({ length: 2 * size }, (_, j) => Math.floor((j % size) / members.perPair));
  const mix: Mix = { mean: 0, square: 0, sum: 0 };
  const pass = (members.metal ? createMetalPass : createCellPass)(members, grid, pairOf, mix);

  /** A slope may begin and end without an alarm: neither the members that drift nor the others are ever given up. */
  function keepBothOpen(): void {
    let drifting = 0;
    for (let j = 0; j < members.active; j++) if (drift[j]! > 0) drifting += weight[j]!;
    const wanted = Math.min(Math.max(drifting, DRIFT_FLOOR), 1 - DRIFT_FLOOR);
    if (wanted === drifting || drifting <= 0 || drifting >= 1) return;
    for (let j = 0; j < members.active; j++) weight[j]! *= drift[j]! > 0 ? wanted / drifting : (1 - wanted) / (1 - drifting);
  }

  /** Weights of `count` members of `list` that add up to `total` again; none is ever given up. */
  function weigh(list: Int32Array, count: number, total: number): void {
    const floor = WEIGHT_FLOOR / members.active;
    const part = total / mix.sum;
    let sum = 0;
    for (let k = 0; k < count; k++) {
      const j = list[k]!;
      const w = Math.max(weight[j]! * part, floor);
      weight[j] = w;
      sum += w;
    }
    const again = total / sum;
    for (let k = 0; k < count; k++) weight[list[k]!]! *= again;
  }

  function begin(): void {
    mix.mean = 0;
    mix.square = 0;
    mix.sum = 0;
  }

  /** Which members count from here on, and which may rest. */
  function chooseResting(): void {
    resting.chosen++;
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

import type { BankGrid, Members } from './bank-members.ts';
import type { Transition } from './bank-transition.ts';

/** Student's t as likelihood: heavy tails, so that one bad block cannot overturn the weights. */
const TAIL_FREEDOM = 5;
/**
 * Just after a change the model is rough: the turn takes some seconds, begins somewhere within a block, and the sensor is not
 * exactly of first order. Part of the sensor's move (cells) or of the whole move so far (metal), fading.
 */
const TURN_ROUGHNESS = 0.3;
const TURN_SECONDS = 6;
/** What the members expected, weighed: mean, mean square, and the sum of their new weights; adds up over passes. */
export type Mix = { mean: number; square: number; sum: number };
/** Moves `count` members of `list` on, takes `y` with noise variance `r`, and weighs them; what they expected adds up in a `Mix`. */
export type Pass = (list: Int32Array, count: number, transition: Transition, y: number, r: number) => void;

/** Likelihood to the power 1, 3/4 or 1/2, from its square: square roots cost less than powers. */
export function tempered(square: number, temper: BankGrid['temper']): number {
  const root = Math.sqrt(square);
  if (temper === 1) return root;
  const half = Math.sqrt(root);
  return temper === 0.5 ? half : half * Math.sqrt(half);
}

/** Density squared, without its constant, of a deviation whose square is `z2` variances of 1/`iv`: of power -(freedom + 1). Divisions cost most here. */
export function tailSquare(z2: number, iv: number): number {
  const q = 1 / (1 + z2 * (1 / TAIL_FREEDOM));
  const cube = q * q * q;
  return iv * cube * cube;
}

/** How rough the model is now, after a change. */
export const roughNow = (members: Members): number =>
  members.active > members.size ? TURN_ROUGHNESS * Math.exp(-members.ageS / TURN_SECONDS) : 0;

import type { Known, KnownChannel } from '../../measurement/knowledge.ts';

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
 *
 * A steady slope is a state of its own: some members of a `cell` bank carry a drift rate D, by which the heading moves every second. For them there is
 * no rest as long as D counts.
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
  /** cells: standard deviation of the drift rate, inner unit per second; 0 for members that do not drift */
  readonly drift: readonly number[];
  /** variance per second by which a drift rate may walk */
  readonly driftWalk: number;
  /** a rate below which the slope may have ended */
  readonly driftRest: number;
  readonly wanderSeconds: number;
  /** variance per second by which the heading may walk */
  readonly headingWalk: number;
  /** variance per second added to the slow part and to the sensor, for the coarseness of the grid */
  readonly slowWalk: number;
  readonly sensorWalk: number;
  /** process noise of the sensor in proportion to its rate of change (relative error of a grid constant) */
  readonly coarseness: number;
  /** the likelihood counts to this power: blocks are not as independent as the filters take them */
  readonly temper: 0.5 | 0.75 | 1;
};

/**
 * Numbers per member: H, A, S, W; the upper triangle of their covariance, row by row (4 to 13); then L, by which the logarithm of the
 * slow constant differs from the member's, its covariance with H, A, S, W and its variance. With L the truth may lie between two
 * constants of the grid, and the run teaches where: without it all weight goes to the nearest one, which is then sure and wrong.
 * For a cell the same place holds D, the drift rate.
 */
export const FIELDS = 20;
export const L = 14;
export const L_VAR = 19;
/**
 * `(j * FIELDS) & PLACES` is where the numbers of member `j` begin. No bank has so many members that it changes anything; but the compiler then knows
 * that no sum with it overflows, and leaves out a check at each of the forty places where a pass reads or writes.
 */
export const PLACES = 0xfffff;

/**
 * Where a stream wanders much, heading and sensor may walk much: the walks of the grid hold for this wander (standard deviation), and go
 * with its square. Else the quietest stream teaches its constants no sooner than a rough one.
 */
const WALK_WANDER = 0.2;
const WALK_LEAST = 0.05;

/** How likely a steady slope is at a start and after a change that nothing explains; and after a turn of the burner, which makes a step. */
export const DRIFT_PRIOR = 0.05;
export const DRIFT_AFTER_TURN = 0.005;

/** Few appliances have a slower metal constant than this; so much less are they believed at first. */
const RARELY_SLOWER_S = 450;
const RARE = 0.25;

/**
 * The members of a bank, in order slow constant, sensor constant, share, wander. The first half of all arrays holds the members as
 * they are; while it is open whether a change has come, the second half holds the same members with the change, and the data
 * decide between the two.
 */
export type Members = {
  readonly size: number;
  readonly metal: boolean;
  /** members that share their time constants stand together, so many in a row */
  readonly perPair: number;
  readonly firstS: Float64Array;
  readonly sensorS: Float64Array;
  readonly share: Float64Array;
  readonly wanderVar: Float64Array;
  /** part of the grid's walks that holds for this member */
  readonly walks: Float64Array;
  readonly state: Float64Array;
  readonly weight: Float64Array;
  /** sd of the drift rate before anything is known; 0 for a member that does not drift */
  readonly drift: Float64Array;
  /** variance of L before anything is known */
  lawVar: number;
  /** `size`, or twice that while a change is open */
  active: number;
  /** blocks and seconds since the last split */
  age: number;
  ageS: number;
  /** where the sensor stood at the last split */
  before: number;
  /** by what the grid's walks, wanders and rates are multiplied now: the band of CO grows with its value, and what counts as still with it */
  scale: number;
  /** blocks since it was last looked whether a slope has ended */
  sinceReopened: number;
  readonly resting: Resting;
};

/** Members that hardly count, and wait for the next block with which all are stepped; see `createStep`. */
export type Resting = {
  /** the members that count, of which `awake` are valid */
  readonly awakeList: Int32Array;
  awake: number;
  /** those that rest, of which `count` are valid; none rests while a change is in question */
  readonly list: Int32Array;
  count: number;
  /** how often they have been chosen */
  chosen: number;
  /** how far they are behind: in seconds and blocks */
  behindS: number;
  blocks: number;
};

const metalStep = ({ kind, first }: BankGrid): number => (kind === 'metal' && first.length > 1 ? Math.log(first[1]! / first[0]!) : 0);

/** Part of the belief that stays with what is usual, so that a run that contradicts what was known wins within minutes. */
const DOUBT = 0.3;
/** What was learned once is not known better than this: a burner is cleaned, a probe is placed anew. */
const LEAST_SD = 0.1;

/** How well `value`, which may itself be off by the variance `within`, fits what is known. */
function fits(value: number, known: Known | undefined, within = 0): number {
  if (known === undefined) return 1;
  const variance = Math.max(known.sd, LEAST_SD) ** 2 + within;
  return Math.exp((-0.5 * (value - known.mean) ** 2) / variance) / Math.sqrt(variance);
}

/** Weighs the members by what earlier runs have taught, and puts the slow constant of each where that says, between two of the grid. */
function applyKnown(members: Members, known: KnownChannel): void {
  const { size, weight, state, firstS, sensorS, share, metal, lawVar } = members;
  const first = metal ? known.first : undefined;
  const fit = new Float64Array(size);
  let usual = 0;
  let sum = 0;
  for (let k = 0; k < size; k++) {
    fit[k] =
      weight[k]! * fits(Math.log(firstS[k]!), first, lawVar) * fits(Math.log(sensorS[k]!), known.sensor) * fits(share[k]!, known.share);
    sum += fit[k]!;
    usual += weight[k]!;
  }
  if (!(sum > 1e-12)) return;
  for (let k = 0; k < 2 * size; k++) {
    const doubted = DOUBT * weight[k]!;
    const believed = ((1 - DOUBT) * usual * fit[k % size]!) / sum;
    weight[k] = doubted + believed;
    if (first === undefined) continue;
    const variance = Math.max(first.sd, LEAST_SD) ** 2;
    const gain = lawVar / (lawVar + variance);
    const off = gain * (first.mean - Math.log(firstS[k]!));
    const part = believed / weight[k]!;
    state[k * FIELDS + L] = part * off;
    state[k * FIELDS + L_VAR] = lawVar * (1 - part * gain) + part * (1 - part) * off * off;
  }
}

/** What the members say of their constants now. */
export function learned({ size, active, weight, firstS, sensorS, share, state, metal }: Members): KnownChannel {
  const moments = (of: (j: number) => number, more: (j: number) => number = () => 0): Known => {
    let w = 0;
    let x = 0;
    let xx = 0;
    for (let j = 0; j < active; j++) {
      const value = of(j);
      w += weight[j]!;
      x += weight[j]! * value;
      xx += weight[j]! * (value * value + more(j));
    }
    const mean = x / w;
    const round = (n: number): number => Math.round(1e4 * n) / 1e4;
    return { mean: round(mean), sd: Math.max(0.02, round(Math.sqrt(Math.max(0, xx / w - mean * mean)))) };
  };
  const sensor = moments((j) => Math.log(sensorS[j % size]!));
  if (!metal) return { sensor };
  return {
    first: moments(
      (j) => Math.log(firstS[j % size]!) + state[j * FIELDS + L]!,
      (j) => state[j * FIELDS + L_VAR]!,
    ),
    sensor,
    share: moments((j) => share[j % size]!),
  };
}

export function createMembers(grid: BankGrid, known?: KnownChannel): Members {
  const perPair = grid.share.length * grid.wander.length * grid.drift.length;
  const size = grid.first.length * grid.sensor.length * perPair;
  const members: Members = {
    size,
    metal: grid.kind === 'metal',
    perPair,
    firstS: new Float64Array(2 * size),
    sensorS: new Float64Array(2 * size),
    share: new Float64Array(2 * size),
    wanderVar: new Float64Array(2 * size),
    drift: new Float64Array(2 * size),
    walks: new Float64Array(2 * size).fill(1),
    state: new Float64Array(2 * size * FIELDS),
    weight: new Float64Array(2 * size).fill(1 / size),
    lawVar: 0,
    active: size,
    age: 0,
    ageS: 0,
    before: 0,
    scale: 1,
    sinceReopened: 0,
    resting: { awakeList: new Int32Array(size), awake: size, list: new Int32Array(size), count: 0, chosen: 0, behindS: 0, blocks: 0 },
  };
  let j = 0;
  for (const first of grid.first) {
    for (const sensor of grid.sensor) {
      for (const share of grid.share) {
        for (const wander of grid.wander) {
          for (const drift of grid.drift) {
            members.firstS[j] = first;
            members.sensorS[j] = sensor;
            members.share[j] = share;
            members.wanderVar[j] = wander * wander;
            members.drift[j] = drift;
            if (members.metal) members.walks[j] = Math.max(WALK_LEAST, (wander / WALK_WANDER) ** 2);
            j++;
          }
        }
      }
    }
  }
  // the true constant lies anywhere between two of the grid: a rectangle as wide as a step
  const step = metalStep(grid);
  members.lawVar = (step * step) / 12;
  for (let k = 0; k < 2 * size; k++) members.state[k * FIELDS + L_VAR] = members.metal ? members.lawVar : members.drift[k % size]! ** 2;
  for (const each of [members.firstS, members.sensorS, members.share, members.wanderVar, members.walks, members.drift])
    each.copyWithin(size, 0, size);
  if (grid.drift.some((rate) => rate > 0)) {
    const drifting = members.drift.filter((rate) => rate > 0).length / (2 * size);
    for (let k = 0; k < 2 * size; k++)
      members.weight[k]! *= members.drift[k]! > 0 ? DRIFT_PRIOR / drifting : (1 - DRIFT_PRIOR) / (1 - drifting);
  }
  // constants are geometric in the grid but evenly spread in the world: each stands for the seconds around it
  if (members.metal) {
    // (60-420 s: what lies above is kept for the odd appliance); the same holds for wanders, less strictly
    const believed = Float64Array.from(
      { length: size },
      (_, k) => (members.firstS[k]! > RARELY_SLOWER_S ? RARE : 1) * members.firstS[k]! * members.wanderVar[k]! ** 0.25,
    );
    const sum = believed.reduce((all, one) => all + one, 0);
    for (let k = 0; k < 2 * size; k++) members.weight[k] = believed[k % size]! / sum;
  }
  if (known) applyKnown(members, known);
  return members;
}

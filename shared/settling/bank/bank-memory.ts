import { FIELDS, type Members } from './bank-members.ts';
import { RESTING_BLOCKS } from './bank-step.ts';

/** So many blocks the members are kept, and some more: a block at which some rested needs the last one with which all were stepped. */
const KEPT = 16 + RESTING_BLOCKS - 1;

/**
 * The members as they were after each of the last blocks, for back-dating a change; once more for a return after an interruption, and once
 * more as they were before the turn that is being dated.
 *
 * @param bringUp brings members that rest up to the present
 */
export function createMemory(members: Members, bringUp: () => void) {
  const { size, state, weight, resting } = members;
  // room is made at the first block: most instruments do not send every channel
  let states = new Float64Array(0);
  let weights = new Float64Array(0);
  const active = new Int32Array(KEPT);
  const age = new Int32Array(KEPT);
  const ageS = new Float64Array(KEPT);
  const before = new Float64Array(KEPT);
  const behindS = new Float64Array(KEPT);
  /** the slot in which the members stand that rested at this block */
  const whole = new Int32Array(KEPT);
  let newestWhole = 0;
  /** by slot of a whole block: the members that rest from then on */
  let rests = new Int32Array(0);
  const restCount = new Int32Array(KEPT);

  /** State and weights after block `index`; the members that rested stand at the time of the whole block before. */
  function copyTo(index: number, toState: Float64Array, toWeight: Float64Array): void {
    const slot = index % KEPT;
    const from = slot * 2 * size;
    toState.set(states.subarray(from * FIELDS, (from + active[slot]!) * FIELDS));
    toWeight.set(weights.subarray(from, from + active[slot]!));
    if (behindS[slot] === 0) return;
    const base = whole[slot]!;
    for (let k = 0; k < restCount[base]!; k++) {
      const j = rests[base * size + k]!;
      copyMember(states, base * 2 * size + j, toState, j);
    }
  }

  /** Puts the members that rested at block `index` where they are brought up from. */
  function restFrom(restS: number, list: Int32Array): void {
    resting.list.set(list);
    resting.count = list.length;
    resting.behindS = restS;
    bringUp();
  }
  const listOf = (slot: number): Int32Array =>
    behindS[slot] === 0 ? new Int32Array(0) : rests.slice(whole[slot]! * size, whole[slot]! * size + restCount[whole[slot]!]!);

  const roomFor = (slots: number): [Float64Array<ArrayBuffer>, Float64Array<ArrayBuffer>] => [
    new Float64Array(slots * 2 * size * FIELDS),
    new Float64Array(slots * 2 * size),
  ];
  const createSlot = () => {
    let slotState = new Float64Array(0);
    let slotWeight = new Float64Array(0);
    let slotActive = size;
    let slotRests = new Int32Array(0);
    let slotBehindS = 0;
    return {
      keep(index: number): void {
        slotActive = active[index % KEPT]!;
        if (slotState.length === 0) [slotState, slotWeight] = roomFor(1);
        copyTo(index, slotState, slotWeight);
        slotRests = Int32Array.from(listOf(index % KEPT));
        slotBehindS = behindS[index % KEPT]!;
      },
      take(): void {
        members.active = slotActive;
        state.set(slotState);
        weight.set(slotWeight);
        restFrom(slotBehindS, slotRests);
      },
    };
  };
  return {
    /** Keeps the state after block `index`. */
    keep(index: number): void {
      const slot = index % KEPT;
      if (states.length === 0) {
        [states, weights] = roomFor(KEPT);
        rests = new Int32Array(KEPT * size);
      }
      active[slot] = members.active;
      age[slot] = members.age;
      ageS[slot] = members.ageS;
      before[slot] = members.before;
      behindS[slot] = resting.behindS;
      weights.set(members.active === size ? weight.subarray(0, size) : weight, slot * 2 * size);
      if (resting.behindS > 0) {
        whole[slot] = newestWhole;
        for (let k = 0; k < resting.awake; k++) {
          const j = resting.awakeList[k]!;
          copyMember(state, j, states, slot * 2 * size + j);
        }
        return;
      }
      states.set(members.active === size ? state.subarray(0, size * FIELDS) : state, slot * 2 * size * FIELDS);
      newestWhole = slot;
      whole[slot] = slot;
      restCount[slot] = resting.count;
      rests.set(resting.list.subarray(0, resting.count), slot * size);
    },
    /** Goes back to the state after block `index`. */
    restore(index: number): void {
      const slot = index % KEPT;
      members.active = active[slot]!;
      members.age = age[slot]!;
      members.ageS = ageS[slot]!;
      members.before = before[slot]!;
      copyTo(index, state, weight);
      restFrom(behindS[slot]!, listOf(slot));
    },
    /** the calm state before an interruption */
    aside: createSlot(),
    beforeTurn: createSlot(),
  };
}

function copyMember(from: Float64Array, source: number, to: Float64Array, target: number): void {
  for (let field = 0; field < FIELDS; field++) to[target * FIELDS + field] = from[source * FIELDS + field]!;
}

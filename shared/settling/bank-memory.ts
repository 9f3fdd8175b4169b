import { FIELDS, type Members } from './bank-members.ts';

const KEPT = 16;

/**
 * The members as they were after each of the last blocks, for back-dating a change; once more for a return after an interruption, and once
 * more as they were before the turn that is being dated.
 */
export function createMemory(members: Members) {
  const { size, state, weight } = members;
  // room is made at the first block: most instruments do not send every channel
  let states = new Float64Array(0);
  let weights = new Float64Array(0);
  const active = new Int32Array(KEPT);
  const age = new Int32Array(KEPT);
  const ageS = new Float64Array(KEPT);
  const before = new Float64Array(KEPT);
  const roomFor = (slots: number): [Float64Array<ArrayBuffer>, Float64Array<ArrayBuffer>] => [
    new Float64Array(slots * 2 * size * FIELDS),
    new Float64Array(slots * 2 * size),
  ];
  const createSlot = () => {
    let slotState = new Float64Array(0);
    let slotWeight = new Float64Array(0);
    let slotActive = size;
    return {
      keep(index: number): void {
        const from = (index % KEPT) * 2 * size;
        slotActive = active[index % KEPT]!;
        if (slotState.length === 0) [slotState, slotWeight] = roomFor(1);
        slotState.set(states.subarray(from * FIELDS, (from + 2 * size) * FIELDS));
        slotWeight.set(weights.subarray(from, from + 2 * size));
      },
      take(): void {
        members.active = slotActive;
        state.set(slotState);
        weight.set(slotWeight);
      },
    };
  };
  return {
    /** Keeps the state after block `index`. */
    keep(index: number): void {
      const slot = index % KEPT;
      if (states.length === 0) [states, weights] = roomFor(KEPT);
      states.set(members.active === size ? state.subarray(0, size * FIELDS) : state, slot * 2 * size * FIELDS);
      weights.set(weight, slot * 2 * size);
      active[slot] = members.active;
      age[slot] = members.age;
      ageS[slot] = members.ageS;
      before[slot] = members.before;
    },
    /** Goes back to the state after block `index`. */
    restore(index: number): void {
      const slot = index % KEPT;
      members.active = active[slot]!;
      members.age = age[slot]!;
      members.ageS = ageS[slot]!;
      members.before = before[slot]!;
      const from = slot * 2 * size;
      state.set(states.subarray(from * FIELDS, (from + members.active) * FIELDS));
      weight.set(weights.subarray(from, from + 2 * size));
    },
    /** the calm state before an interruption */
    aside: createSlot(),
    beforeTurn: createSlot(),
  };
}

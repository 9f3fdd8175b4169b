import { FIELDS, type Members } from './bank-members.ts';

const KEPT = 16;

/** The members as they were after each of the last blocks, for back-dating a change, and once more for a return after an interruption. */
export function createMemory(members: Members) {
  const { size, state, weight } = members;
  const states = new Float64Array(KEPT * 2 * size * FIELDS);
  const weights = new Float64Array(KEPT * 2 * size);
  const active = new Int32Array(KEPT);
  const age = new Int32Array(KEPT);
  const ageS = new Float64Array(KEPT);
  const before = new Float64Array(KEPT);
  const asideState = new Float64Array(2 * size * FIELDS);
  const asideWeight = new Float64Array(2 * size);
  let asideActive = size;
  return {
    /** Keeps the state after block `index`. */
    keep(index: number): void {
      const slot = index % KEPT;
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
    /** Sets the state after block `index` aside. */
    setAside(index: number): void {
      const from = (index % KEPT) * 2 * size;
      asideActive = active[index % KEPT]!;
      asideState.set(states.subarray(from * FIELDS, (from + 2 * size) * FIELDS));
      asideWeight.set(weights.subarray(from, from + 2 * size));
    },
    takeAside(): void {
      members.active = asideActive;
      state.set(asideState);
      weight.set(asideWeight);
    },
  };
}

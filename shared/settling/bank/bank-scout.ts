import type { BankGrid } from './bank-members.ts';
import { createBank, type Bank } from './bank.ts';

/** Of the slow constants, one in so many: they hardly matter in the first half minute after a turn. */
const STRIDE = 3;

export type Scout = ReturnType<typeof createScout>;

/** A small part of a metal's bank, with one wander for all, on which the dates of a turn are tried: a twelfth of the members. */
export function createScout(bank: Bank, grid: BankGrid) {
  const first = grid.first.map((_, i) => i).filter((i) => i % STRIDE === 1);
  const wanders = grid.wander.length;
  const perFirst = grid.sensor.length * grid.share.length;
  const scout = createBank({ ...grid, first: first.map((i) => grid.first[i]!), wander: [grid.wander[0]!] });
  const { members } = scout;
  const { size } = members;
  const fields = scout.fields;
  const began = {
    state: new Float64Array(members.state.length),
    weight: new Float64Array(members.weight.length),
    active: size,
    age: 0,
    ageS: 0,
    before: 0,
  };

  function likeliestWander(): number {
    const sums = new Float64Array(wanders);
    for (let j = 0; j < bank.members.active; j++) sums[j % wanders]! += bank.members.weight[j]!;
    return sums.indexOf(Math.max(...sums));
  }

  return {
    ...scout,
    /** Takes over what the bank holds now. */
    begin(): void {
      const from = bank.members;
      const wander = likeliestWander();
      const halves = from.active > from.size ? 2 : 1;
      let sum = 0;
      for (let half = 0; half < 2; half++) {
        for (let k = 0; k < size; k++) {
          const source = (first[Math.floor(k / perFirst)]! * perFirst + (k % perFirst)) * wanders + wander;
          const at = half * size + k;
          members.wanderVar[at] = from.wanderVar[source]!;
          members.walks[at] = from.walks[source]!;
          if (half >= halves) continue;
          const there = half * from.size + source;
          began.state.set(from.state.subarray(there * fields, (there + 1) * fields), at * fields);
          began.weight[at] = from.weight[there]!;
          sum += from.weight[there]!;
        }
      }
      for (let at = 0; at < halves * size; at++) began.weight[at]! /= sum;
      Object.assign(began, { active: halves * size, age: from.age, ageS: from.ageS, before: from.before });
    },
    /** Back to what was taken over. */
    again(): void {
      members.state.set(began.state);
      members.weight.set(began.weight);
      members.active = began.active;
      members.age = began.age;
      members.ageS = began.ageS;
      members.before = began.before;
    },
  };
}

import { FIELDS, type Members } from './bank-members.ts';

/** So many blocks back the members can be had again. */
const BACK = 16;
/**
 * The members are saved at one block of so many, and stepped on from there when another is asked for: the same steps give the same members, to the
 * last digit. Saved at every block they took a fifteenth of the time, and of a stack's bank 9 MB.
 */
const SPACING = 8;
/** of so many blocks the step is known: from the oldest that is saved */
const STEPS = BACK + SPACING;

/** The members as they were after one block, with those that rested then. */
type Saved = {
  index: number;
  active: number;
  age: number;
  ageS: number;
  before: number;
  sinceReopened: number;
  awake: number;
  count: number;
  behindS: number;
  blocks: number;
  readonly state: Float64Array;
  readonly weight: Float64Array;
  /** the half with the change: counts while one is open */
  changed: { readonly state: Float64Array; readonly weight: Float64Array } | undefined;
  readonly awakeList: Int32Array;
  readonly list: Int32Array;
};

export type MemoryParts = {
  readonly members: Members;
  /** brings members that rest up to the present */
  readonly bringUp: () => void;
  /** the filter step with all that follows it */
  readonly step: (dtS: number, y: number, r: number) => void;
};

/**
 * The members after each of the last blocks, for back-dating a change; once more for a return after an interruption, and once more as they were
 * before the turn that is being dated.
 */
export function createMemory({ members, bringUp, step }: MemoryParts) {
  const { size, state, weight, resting } = members;
  const half = size * FIELDS;
  /** oldest first; none is older than needed */
  const saved: Saved[] = [];
  const unused: Saved[] = [];
  const dtS = new Float64Array(STEPS);
  const values = new Float64Array(STEPS);
  const variances = new Float64Array(STEPS);
  const scales = new Float64Array(STEPS);
  let newest = Number.NaN;
  /** what has happened to the members since the newest block was kept: nothing, one step, or something else */
  let since: 'nothing' | 'step' | 'other' = 'other';
  const last = { dtS: 0.5, y: 0.5, r: 0.5 };

  const createSaved = (): Saved => ({
    index: 0,
    active: size,
    age: 0,
    ageS: 0.5,
    before: 0.5,
    sinceReopened: 0,
    awake: 0,
    count: 0,
    behindS: 0.5,
    blocks: 0,
    state: new Float64Array(half),
    weight: new Float64Array(size),
    changed: undefined,
    awakeList: new Int32Array(size),
    list: new Int32Array(size),
  });

  function save(to: Saved, index: number): Saved {
    to.index = index;
    to.active = members.active;
    to.age = members.age;
    to.ageS = members.ageS;
    to.before = members.before;
    to.sinceReopened = members.sinceReopened;
    to.awake = resting.awake;
    to.count = resting.count;
    to.behindS = resting.behindS;
    to.blocks = resting.blocks;
    to.state.set(state.subarray(0, half));
    to.weight.set(weight.subarray(0, size));
    if (members.active > size) {
      to.changed ??= { state: new Float64Array(half), weight: new Float64Array(size) };
      to.changed.state.set(state.subarray(half));
      to.changed.weight.set(weight.subarray(size));
    }
    to.awakeList.set(resting.awakeList);
    to.list.set(resting.list);
    return to;
  }

  /** The members alone: how long ago the last change was is the caller's to say. */
  function loadMembers(from: Saved): void {
    members.active = from.active;
    state.set(from.state);
    weight.set(from.weight);
    if (from.active > size && from.changed !== undefined) {
      state.set(from.changed.state, half);
      weight.set(from.changed.weight, size);
    }
    resting.awakeList.set(from.awakeList);
    resting.list.set(from.list);
    resting.awake = from.awake;
    resting.count = from.count;
    resting.behindS = from.behindS;
    resting.blocks = from.blocks;
    // what was added up of those that rested is of other ones
    resting.chosen++;
  }

  function load(from: Saved): void {
    loadMembers(from);
    members.age = from.age;
    members.ageS = from.ageS;
    members.before = from.before;
    members.sinceReopened = from.sinceReopened;
  }

  /** Back to what was after block `index`. */
  function goBack(index: number): void {
    const { scale, sinceReopened } = members;
    const from = saved.findLast((one) => one.index <= index);
    if (from === undefined) throw new Error(`block ${index} is no longer kept`);
    load(from);
    for (let i = from.index + 1; i <= index; i++) {
      const at = i % STEPS;
      members.scale = scales[at]!;
      step(dtS[at]!, values[at]!, variances[at]!);
    }
    members.scale = scale;
    members.sinceReopened = sinceReopened;
  }

  const createSlot = () => {
    let slot: Saved | undefined;
    return {
      keep(index: number): void {
        slot ??= createSaved();
        if (index === newest && since === 'nothing') {
          save(slot, index);
          return;
        }
        const now = save(unused.pop() ?? createSaved(), newest);
        goBack(index);
        save(slot, index);
        load(now);
        unused.push(now);
      },
      take(): void {
        if (slot === undefined) throw new Error('nothing was set aside');
        since = 'other';
        loadMembers(slot);
        bringUp();
      },
    };
  };

  return {
    /** One step is about to be made. */
    stepping(seconds: number, y: number, r: number): void {
      since = since === 'nothing' ? 'step' : 'other';
      last.dtS = seconds;
      last.y = y;
      last.r = r;
    },
    /** The members are changed otherwise than by a step. */
    changing(): void {
      since = 'other';
    },
    /** Keeps what is after block `index`. */
    keep(index: number): void {
      while (saved.length > 0 && saved.at(-1)!.index >= index) unused.push(saved.pop()!);
      const isStep = since === 'step' && index === newest + 1 && saved.length > 0;
      since = 'nothing';
      newest = index;
      if (isStep && index - saved.at(-1)!.index < SPACING) {
        const at = index % STEPS;
        dtS[at] = last.dtS;
        values[at] = last.y;
        variances[at] = last.r;
        scales[at] = members.scale;
        return;
      }
      while (saved.length > 1 && saved[1]!.index <= index - BACK + 1) unused.push(saved.shift()!);
      saved.push(save(unused.pop() ?? createSaved(), index));
    },
    /** Goes back to the state after block `index`; members that rested then are brought up to it. */
    restore(index: number): void {
      goBack(index);
      bringUp();
      since = 'other';
    },
    /** the calm state before an interruption */
    aside: createSlot(),
    beforeTurn: createSlot(),
  };
}

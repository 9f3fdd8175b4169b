/** What the set-up screen shows, worked out from what is typed and chosen, from the lists and from the open runs. Pure. */
import type { GasUse, Room } from '../../../../shared/bench/bench-test.ts';
import { benchChannels, type Instrument, type ReferenceGas } from '../../../../shared/bench/instrument.ts';
import { exampleLimits, type BenchLimits } from '../../../../shared/bench/limits.ts';
import { examplePlans, slotsOf, type BenchPlan, type BottleSlot } from '../../../../shared/bench/plan.ts';
import { practiceGases } from '../../../../shared/bench/practice.ts';
import { outsideRange } from '../../../../shared/bench/references.ts';
import { MOST_INSTRUMENTS, startFlaw, type StartSeat } from '../../../../shared/bench/session/start.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { startFlawText } from '../../../../shared/words/bench/bench-start.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { sourceLabel } from '../../../state/source-state.ts';
import type { BenchLists } from '../bench-screen.ts';
import { errorOf, type Typed, typedText, typedWithin, valueOf } from '../../../fields/typed.ts';
import { defined } from '../../../../shared/defined.ts';
import type { SetUpDraft } from './set-up-draft.ts';

const words = benchSetUp;

/** The channels of a run that the bench can test. */
export const channelsIn = (found: readonly string[]): string[] => found.filter((one) => (benchChannels as readonly string[]).includes(one));

export type RoomNumbers = Readonly<Record<'airC' | 'humidity' | 'pressure', Typed>>;

export type SetUpFacts = {
  /** the runs on the bench, each with its instrument once it is chosen */
  readonly records: readonly RunRecord[];
  readonly seats: readonly StartSeat[];
  /** every run is simulated: simulated bottles may be used */
  readonly isPractice: boolean;
  readonly plans: readonly BenchPlan[];
  readonly plan: BenchPlan | undefined;
  readonly slots: readonly BottleSlot[];
  readonly gases: readonly GasUse[];
  readonly bottleFor: (slot: BottleSlot) => ReferenceGas | undefined;
  readonly numbers: RoomNumbers;
  readonly room: Room;
  readonly cards: readonly BenchLimits[];
  readonly card: BenchLimits | undefined;
  /** undefined: not chosen; 'none': measured, not judged */
  readonly limits: BenchLimits | 'none' | undefined;
  /** the first thing that is still needed before the test may start */
  readonly missing: string | undefined;
  /** gases beyond what an instrument can show */
  readonly warnings: readonly string[];
};

type Known = {
  readonly draft: SetUpDraft;
  readonly lists: BenchLists;
  readonly runs: Readonly<Record<string, RunRecord>>;
  /** ISO date */
  readonly today: string;
};

const practiceInstrument = (number: number): Instrument => ({
  format: 1,
  name: words.practiceName(number),
  cells: [
    { channel: 'o2', rangeLow: 0, rangeHigh: 25, resolution: 0.1 },
    { channel: 'co', rangeLow: 0, rangeHigh: 4000, resolution: 1 },
  ],
});

export function setUpFacts({ draft, lists, runs, today }: Known): SetUpFacts {
  const records = Object.values(runs)
    .filter(({ info }) => info.phase !== 'ended' && !draft.offBench.includes(info.runId))
    .slice(0, MOST_INSTRUMENTS);
  const seats = records.map((record, index) => seatOf(record, index, { draft, lists }));
  const isPractice = records.length > 0 && records.every(({ info }) => info.source.kind === 'simulated');
  const plans = [...lists['bench-plan'].map(({ body }) => body), ...examplePlans];
  const plan = plans.find(({ name }) => name === draft.planName) ?? plans[0];
  const slots = plan === undefined ? [] : slotsOf(plan);
  const bottleFor = (slot: BottleSlot): ReferenceGas | undefined => {
    const chosen = draft.bottles[slot];
    if (chosen === undefined) return isPractice ? practiceGases[slot] : undefined;
    return chosen === 'practice' ? practiceGases[slot] : lists.gas.find(({ id }) => id === chosen)?.body;
  };
  const gases = slots.flatMap((slot): GasUse[] => {
    const gas = bottleFor(slot);
    const reason = draft.reasons[slot]?.trim() ?? '';
    return gas === undefined ? [] : [{ slot, gas, ...(reason.length >= 3 ? { reason } : {}) }];
  });
  const numbers: RoomNumbers = {
    airC: typedWithin(draft.room.airC, { low: -30, high: 60 }),
    humidity: typedWithin(draft.room.humidity, { low: 0, high: 100 }),
    pressure: typedWithin(draft.room.pressure, { low: 500, high: 1100 }),
  };
  const room = roomOf(draft, numbers, isPractice);
  const cards = [...lists['bench-limits'].map(({ body }) => body), ...exampleLimits];
  const card = cards.find(({ name }) => name === draft.limitsName);
  const limits = limitsOf(draft, card);
  const flaw = startFlaw({ seats, plan, gases, room, limits }, today);
  const wrongNumber = Object.values(numbers)
    .map(errorOf)
    .find((error) => error !== undefined);
  // in the order of the screen: a wrong figure of the room is said before the place and the rule, and after the rest
  const comesAfterNumbers = flaw === undefined || flaw.kind === 'place' || flaw.kind === 'rule';
  const sourceOf = (runId: string): string => {
    const info = runs[runId]?.info;
    return info === undefined ? '' : sourceLabel(info);
  };
  return {
    records,
    seats,
    isPractice,
    plans,
    plan,
    slots,
    gases,
    bottleFor,
    numbers,
    room,
    cards,
    card,
    limits,
    missing: comesAfterNumbers && wrongNumber !== undefined ? wrongNumber : flaw === undefined ? undefined : startFlawText(flaw, sourceOf),
    warnings: seats.flatMap(({ instrument }) =>
      instrument === undefined
        ? []
        : gases.flatMap(({ gas }) =>
            outsideRange(instrument.cells, gas).map((channel) => words.warnRange(instrument.name, bench.channels[channel], gas.name)),
          ),
    ),
  };
}

/** A run on the bench with the instrument that is chosen for it; a simulated run has one of its own. */
function seatOf({ info, face }: RunRecord, index: number, { draft, lists }: Pick<Known, 'draft' | 'lists'>): StartSeat {
  const chosen = draft.which[info.runId];
  const known = lists.instrument.find(({ id }) => id === chosen)?.body;
  const mayBePractice = info.source.kind === 'simulated' && (chosen === undefined || chosen === 'practice');
  return {
    run: {
      runId: info.runId,
      kind: info.source.kind,
      startWallMs: info.startWallMs,
      timeMs: face.timeMs,
      zoneMinutes: info.zoneMinutes,
      isRead: channelsIn(info.channels).length > 0,
    },
    instrumentId: chosen !== undefined && chosen !== 'practice' ? chosen : `practice-${index + 1}`,
    instrument: known ?? (mayBePractice ? practiceInstrument(index + 1) : undefined),
  };
}

/** The simulated inlet is dry unless a person says otherwise. */
function roomOf({ room, dried }: SetUpDraft, numbers: RoomNumbers, isPractice: boolean): Room {
  const pressureHpa = valueOf(numbers.pressure);
  return {
    dried: dried ?? isPractice,
    ...defined({
      airC: valueOf(numbers.airC),
      relativeHumidityPercent: valueOf(numbers.humidity),
      pressurePa: pressureHpa === undefined ? undefined : pressureHpa * 100,
      place: valueOf(typedText(room.place)),
    }),
  };
}

/** Limits without a decision rule judge nothing, so they count as not chosen. */
function limitsOf({ limitsName, rule }: SetUpDraft, card: BenchLimits | undefined): BenchLimits | 'none' | undefined {
  if (limitsName === '') return undefined;
  if (card === undefined) return 'none';
  return rule === '' ? undefined : { ...card, decisionRule: rule };
}

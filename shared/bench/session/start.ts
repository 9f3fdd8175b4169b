/** When a bench test may start, and what it is then: the rules behind the set-up screen, and behind the host's answer to it. */
import type { BenchTest, GasUse, Room } from '../bench-test.ts';
import { gasFlaws, type GasFlaw, type Instrument } from '../instrument.ts';
import type { BenchLimits } from '../limits.ts';
import { slotsOf, type BenchPlan, type BottleSlot } from '../plan.ts';
import { inletFor, practiceGases } from '../practice.ts';
import { channelsOf } from '../references.ts';
import { defined } from '../../defined.ts';

/** More instruments than this do not stand on one manifold. */
export const MOST_INSTRUMENTS = 4;

/** A run, as far as a test cares. */
export type StartRun = {
  readonly runId: string;
  readonly kind: 'serial' | 'simulated' | 'typed' | 'replay';
  readonly startWallMs: number;
  readonly timeMs: number;
  readonly zoneMinutes: number;
  /** the lines give something that the bench can test */
  readonly isRead: boolean;
};
export type StartSeat = { readonly run: StartRun; readonly instrumentId: string; readonly instrument: Instrument | undefined };
export type StartDraft = {
  readonly seats: readonly StartSeat[];
  readonly plan: BenchPlan | undefined;
  readonly gases: readonly GasUse[];
  readonly room: Room;
  /** undefined: not chosen; 'none': measured, not judged */
  readonly limits: BenchLimits | 'none' | undefined;
  readonly person?: string | undefined;
  readonly bench?: string | undefined;
};

export type StartFlaw =
  | { readonly kind: 'instrument' | 'which' | 'twice' | 'channels' | 'practice' | 'practice-move' | 'place' | 'rule' }
  | { readonly kind: 'lines'; readonly runId: string }
  | { readonly kind: 'gas'; readonly slot: BottleSlot }
  | { readonly kind: 'inlet'; readonly gas: string }
  | { readonly kind: 'reason'; readonly gas: string; readonly flaws: readonly GasFlaw[] };

const isPracticeGas = ({ slot, gas }: GasUse): boolean =>
  slot !== 'air' && gas.serial !== undefined && gas.serial === practiceGases[slot].serial && gas.name === practiceGases[slot].name;

/** The first thing that a start still needs, in the order of the screen. @param today ISO date */
export function startFlaw({ seats, plan, gases, room, limits }: StartDraft, today: string): StartFlaw | undefined {
  if (seats.length === 0 || seats.length > MOST_INSTRUMENTS) return { kind: 'instrument' };
  if (seats.some(({ instrument }) => instrument === undefined)) return { kind: 'which' };
  const unread = seats.find(({ run }) => run.kind !== 'simulated' && !run.isRead);
  if (unread !== undefined) return { kind: 'lines', runId: unread.run.runId };
  const ids = seats.map(({ instrumentId }) => instrumentId);
  if (new Set(ids).size < ids.length || new Set(seats.map(({ run }) => run.runId)).size < seats.length) return { kind: 'twice' };
  if (seats.some(({ instrument }) => instrument !== undefined && channelsOf(instrument.cells).length === 0)) return { kind: 'channels' };
  const isReal = seats.some(({ run }) => run.kind !== 'simulated');
  for (const slot of plan === undefined ? [] : slotsOf(plan)) {
    const use = gases.find((one) => one.slot === slot);
    if (use === undefined) return { kind: 'gas', slot };
    if (isReal && isPracticeGas(use)) return { kind: 'practice' };
    if (!isReal && inletFor(use.gas) === undefined) return { kind: 'inlet', gas: use.gas.name };
    const flaws = gasFlaws(use.gas, today);
    if (flaws.length > 0 && (use.reason?.trim().length ?? 0) < 3) return { kind: 'reason', gas: use.gas.name, flaws };
  }
  if (isReal && (room.place ?? '').trim() === '') return { kind: 'place' };
  if (limits === undefined) return { kind: 'rule' };
  return undefined;
}

/**
 * Why a test cannot go on with this run. What a test says of itself was true from its first line: a real instrument does not go on at a
 * simulated burner or a replay, nor the other way round.
 *
 * @param others runs of the tests beside it
 */
export function moveFlaw(test: BenchTest, run: StartRun, others: readonly string[]): StartFlaw | undefined {
  if (watermarkOf(run) !== test.watermark) return { kind: 'practice-move' };
  if (run.kind !== 'simulated' && !run.isRead) return { kind: 'lines', runId: run.runId };
  return others.includes(run.runId) ? { kind: 'twice' } : undefined;
}

/** Bottles that were good when the test was started and are not now. @param startDay, today ISO dates */
export const expiredSince = ({ gases }: Pick<BenchTest, 'gases'>, startDay: string, today: string): string[] =>
  gases.flatMap(({ gas }) => (gas.expires !== undefined && gas.expires >= startDay && gas.expires < today ? [gas.name] : []));

const watermarkOf = ({ kind }: StartRun): BenchTest['watermark'] =>
  kind === 'simulated' ? 'simulated' : kind === 'replay' ? 'replayed' : undefined;

/** One test per instrument. What was simulated or replayed carries its mark from the first moment. */
export function testsFor({ seats, plan, gases, room, limits, person, bench }: StartDraft, session: string): BenchTest[] {
  return seats.flatMap(({ run, instrumentId, instrument }): BenchTest[] => {
    const watermark = watermarkOf(run);
    return instrument === undefined || plan === undefined
      ? []
      : [
          {
            format: 1,
            session,
            startedWallMs: Math.round(run.startWallMs + run.timeMs),
            zoneMinutes: run.zoneMinutes,
            status: 'open',
            ...defined({ watermark }),
            instrumentId,
            instrument,
            plan,
            gases: [...gases],
            room,
            ...defined({
              bench: bench === undefined || bench === '' ? undefined : bench,
              person: person === undefined || person === '' ? undefined : person,
              limits: limits === undefined || limits === 'none' ? undefined : limits,
            }),
            rounds: [{ kind: 'as-found', startedMs: 0, steps: [] }],
            runId: run.runId,
          },
        ];
  });
}

/** The plan as it runs: what the one sentence says, and what the one main button does. Pure. */
import { nextStepIndex, type BenchTest } from '../../../../shared/bench/bench-test.ts';
import { isTimed, type GasSlot, type PlanStep } from '../../../../shared/bench/plan.ts';
import { formatTimeLeft } from '../../../../shared/format/duration.ts';
import type { BenchColumn } from '../../../../shared/ipc/bench-commands.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchRun } from '../../../../shared/words/bench/bench-run.ts';
import { source } from '../../../../shared/words/source.ts';
import { isSilent } from '../../../state/channels.ts';
import type { RunRecord } from '../../../state/run-record.ts';

const words = benchRun;

export type ColumnFacts = { id: string; test: BenchTest; record: RunRecord | undefined; state: BenchColumn | undefined };
export type RunFacts = {
  columns: readonly ColumnFacts[];
  step: PlanStep | undefined;
  stepIndex: number;
  gasName: (slot: GasSlot) => string;
  /** this step goes on with the gas of the one before */
  same: boolean;
};

export const isLost = (record: RunRecord | undefined): boolean =>
  record === undefined || record.info.phase === 'lost' || record.info.phase === 'ended';

/** Columns that this step is not over for. */
const openOf = ({ columns, stepIndex }: Pick<RunFacts, 'columns' | 'stepIndex'>): readonly ColumnFacts[] =>
  columns.filter(({ test }) => nextStepIndex(test) <= stepIndex);
/** Columns that wait for a hand at the gas. */
export const waitingOf = (facts: Pick<RunFacts, 'columns' | 'stepIndex'>): readonly ColumnFacts[] =>
  openOf(facts).filter(({ state }) => state === undefined || ['switch', 'no-change', 'other-gas'].includes(state.phase));

/** What to do now, in one sentence: trouble first, then the gas, then waiting. */
export function runSays(facts: RunFacts): string {
  const { step, gasName, same } = facts;
  if (step === undefined) return words.allDone;
  const gas = gasName(step.slot);
  const open = openOf(facts);
  const lost = open.find(({ record }) => isLost(record));
  if (lost !== undefined) return words.lost(lost.test.instrument.name);
  const silent = open.find(({ record }) => record !== undefined && isSilent(record));
  if (silent !== undefined) return words.silentNow(silent.test.instrument.name);
  const wrong = open.find(({ state }) => state?.phase === 'other-gas');
  if (wrong !== undefined)
    return wrong.state?.looksLike === undefined
      ? words.unknownGas(wrong.test.instrument.name)
      : words.otherGas(wrong.test.instrument.name, gasName(wrong.state.looksLike as GasSlot), gas);
  const still = open.find(({ state }) => state?.phase === 'no-change');
  if (still !== undefined) return words.noChange(still.test.instrument.name, gas);
  if (!same && open.some(({ state }) => state?.phase === 'switch') && step.purpose === 'warm-up') return words.warmFirst;
  if (!same && open.some(({ state }) => state?.phase === 'switch')) return step.slot === 'air' ? words.takeProbe : words.switchTo(gas);
  const absent = open.find(({ state }) => (state?.absent.length ?? 0) > 0);
  if (absent !== undefined)
    return words.overRange(absent.test.instrument.name, (absent.state?.absent ?? []).map((channel) => bench.channels[channel]).join(', '));
  if (open.some(({ state }) => state?.phase === 'arriving' || state?.phase === 'switch')) return words.arriving(gas);
  const left = Math.max(0, ...open.map(({ state }) => state?.leftS ?? 0));
  return isTimed(step) ? words.timed(bench.purposes[step.purpose], formatTimeLeft(left)) : words.holding(formatTimeLeft(left));
}

/** `off`: it can be seen and not pressed, because the sentence asks for something else. */
export type RunDeed = { does: 'result' | 'source' | 'press'; text: string; off: boolean };

export function runDeed(facts: RunFacts): RunDeed {
  const { step } = facts;
  if (step === undefined) return { does: 'result', text: words.result, off: false };
  const open = openOf(facts);
  if (open.some(({ record }) => isLost(record))) return { does: 'source', text: source.pickPort, off: false };
  const isMute = open.some(({ record }) => record !== undefined && isSilent(record));
  return {
    does: 'press',
    text: step.purpose === 'warm-up' ? words.warmed : words.pressed,
    off: isMute || waitingOf(facts).length === 0,
  };
}

/** What a bench session asks of the runs that it is measured with: what was captured before, a mark, the gas at a simulated inlet. */
import { nextStepIndex, type BenchTest } from '../../shared/bench/bench-test.ts';
import { samplesOf } from '../../shared/bench/session/history-samples.ts';
import { benchChannels } from '../../shared/bench/instrument.ts';
import { pastFromMs, type Heard, type Past } from '../../shared/bench/session/plan-session.ts';
import type { PlanStep } from '../../shared/bench/plan.ts';
import { inletFor } from '../../shared/bench/practice.ts';
import { gasOf } from '../../shared/bench/references.ts';
import { expiredSince, type StartFlaw, type StartRun } from '../../shared/bench/session/start.ts';
import { isoDay } from '../../shared/format/date.ts';
import type { Caller } from '../../shared/ipc/contract.ts';
import type { LiveBatch } from '../../shared/ipc/run-documents.ts';
import type { RunInfo } from '../../shared/ipc/run-info.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { ok, type Result } from '../../shared/result.ts';
import { bench as words } from '../../shared/words/bench/bench.ts';
import { benchRun } from '../../shared/words/bench/bench-run.ts';
import { startFlawText } from '../../shared/words/bench/bench-start.ts';
import type { RunHandlers } from '../runs/open-runs.ts';

export type RunsParts = {
  readonly runs: () => readonly RunInfo[];
  readonly runHandlers: Pick<RunHandlers, 'run.history' | 'run.mark' | 'run.continue' | 'simulator.part'>;
};

export interface BenchRuns {
  /** a run that goes on */
  running(runId: string): RunInfo | undefined;
  /** a run that is open, whether it has ended or not */
  known(runId: string): RunInfo | undefined;
  pastOf(test: BenchTest): Promise<{ startWallMs: number | undefined; past: Past }>;
  /** A run that was cut off by a crash goes on first; a simulated inlet is set to the gas that the plan has on. */
  goOn(test: BenchTest): Promise<void>;
  /** The gas of this step was switched. @returns run time; in a simulation the gas is switched with `setGas` */
  mark(test: BenchTest, step: PlanStep): Promise<Result<number, Problem>>;
  setGas(test: BenchTest, slot: PlanStep['slot']): Promise<void>;
}

const HISTORY_BUCKETS = 4000;
const byHost: Caller = { clientId: 'host', role: 'operator' };

export function createBenchRuns({ runs, runHandlers }: RunsParts): BenchRuns {
  const known = (runId: string): RunInfo | undefined => runs().find((run) => run.runId === runId);
  const running = (runId: string): RunInfo | undefined => {
    const run = known(runId);
    return run?.phase === 'ended' ? undefined : run;
  };
  async function setGas(test: BenchTest, slot: PlanStep['slot']): Promise<void> {
    const gas = slot === 'air' ? ('air' as const) : gasOf(test.gases, slot);
    const inlet = gas === undefined ? undefined : inletFor(gas);
    if (inlet !== undefined) await runHandlers['simulator.part']({ runId: test.runId, part: 'inlet', value: inlet }, byHost);
  }

  return {
    known,
    running,
    setGas,
    async pastOf(test) {
      const run = known(test.runId);
      if (run === undefined || run.phase === 'ended')
        return { startWallMs: run?.startWallMs, past: { nowMs: run?.timeMs ?? 0, samples: [], gapsFromMs: [] } };
      const nowMs = run.timeMs;
      const history = await runHandlers['run.history'](
        { runId: test.runId, fromMs: pastFromMs(test, run.startWallMs, nowMs), toMs: Math.max(1, nowMs), buckets: HISTORY_BUCKETS },
        byHost,
      );
      const read = history.ok ? history.value : undefined;
      return {
        startWallMs: run.startWallMs,
        past: {
          nowMs,
          samples: read === undefined ? [] : samplesOf(read),
          gapsFromMs: read === undefined ? [] : read.gaps.map(({ fromMs }) => fromMs),
        },
      };
    },
    async goOn(test) {
      if (known(test.runId) !== undefined) return;
      const info = await runHandlers['run.continue']({ runId: test.runId }, byHost);
      if (!info.ok || info.value.source.kind !== 'simulated') return;
      const index = nextStepIndex(test);
      const on = test.plan.steps[test.mark?.stepId === test.plan.steps[index]?.id ? index : index - 1]?.slot ?? 'air';
      await setGas(test, on);
    },
    async mark(test, step) {
      const name = step.slot === 'air' ? words.slots.air : (gasOf(test.gases, step.slot)?.name ?? words.slots[step.slot]);
      const mark = await runHandlers['run.mark'](
        { runId: test.runId, body: { kind: 'note', text: `${benchRun.pressed}: ${name}` } },
        byHost,
      );
      return mark.ok ? ok(mark.value.timeMs) : mark;
    },
  };
}

type Raise = (key: string, what: Problem) => void;
/** Another port, or another device at it, may be another instrument: a person looks. */
export function sayOtherSource(raise: Raise, testId: string, before: RunInfo | undefined, now: RunInfo): void {
  if (before?.source.kind !== 'serial' || now.source.kind !== 'serial') return;
  const [one, other] = [before.source, now.source];
  if (one.path === other.path && one.device?.serialNumber === other.device?.serialNumber) return;
  raise(`bench-source:${testId}`, problem('bench-other-source', benchRun.otherSource(one.path, other.path)));
}
/** A test that is gone on with days later may meet a bottle that is no longer what its certificate says. */
export function sayExpired(raise: Raise, testId: string, test: BenchTest, nowWallMs: number): void {
  const names = expiredSince(test, isoDay(test.startedWallMs, test.zoneMinutes), isoDay(nowWallMs, test.zoneMinutes));
  if (names.length > 0) raise(`bench-gas:${testId}`, problem('bench-gas-expired', `${names.join(', ')}.`));
}

/** What the rules of a start ask of a run. */
export const startRunOf = ({ runId, source, startWallMs, timeMs, zoneMinutes, channels }: RunInfo): StartRun => ({
  runId,
  kind: source.kind,
  startWallMs,
  timeMs,
  zoneMinutes,
  isRead: channels.some((channel) => (benchChannels as readonly string[]).includes(channel)),
});

/** What a session reads of what every window is told. */
export const heardOf = ({ runId, samples, gaps, restarted, droppedCount }: LiveBatch): Heard => ({
  runId,
  samples,
  gapsFromMs: [
    ...gaps.map(({ fromMs }) => fromMs),
    // what did not fit into the batch was not seen here
    ...(droppedCount > 0 && samples[0] !== undefined ? [samples[0].timeMs - 0.5] : []),
  ],
  restarted: restarted === true,
});

export const notReady = (flaw: StartFlaw): Problem =>
  problem(
    'bench-not-ready',
    startFlawText(flaw, (runId) => runId),
  );

/** What a run under way is made of, and what it can be asked. How it works: `live-run.ts`. */
import type { Clock } from '../../../shared/clock.ts';
import type { LineReport, LiveBatch } from '../../../shared/ipc/run-documents.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { StampedLine } from '../../../shared/measurement/line.ts';
import type { Mark } from '../../../shared/measurement/mark.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { GapEntry, RunEntry, RunHeader, UnusedWhy } from '../../../shared/measurement/run.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { ChannelState } from '../../../shared/measurement/state.ts';
import type { LookAtLines } from '../../../shared/pipeline/propose.ts';
import type { FoldSettings, RunFold } from '../../../shared/pipeline/run-fold.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { LineSource } from '../../source/source.ts';
import type { RunWriter } from '../file/run-writer.ts';
import type { RunTrace } from '../stored/run-trace.ts';
import type { LineWatches } from './line-watches.ts';
import type { RecipeChoice } from './recipe-choice.ts';

/** What the chain of a run says, in order, before it goes to any window. `resumed`: what came before was read back from the file. */
export type RunNews =
  | { kind: 'sample'; sample: Sample }
  | { kind: 'states'; states: readonly ChannelState[] }
  | { kind: 'mark'; mark: Mark }
  | { kind: 'edit' | 'reading' | 'restarted' | 'resumed' | 'changed' | 'batch' };

export interface LiveRunParts {
  readonly clock: Clock;
  /** when something is sent to who looks on; the time of who sits before the window */
  readonly windowClock: Clock;
  readonly header: RunHeader;
  readonly source: LineSource;
  /** absent: nothing is kept (a replay keeps nothing) */
  readonly writer: RunWriter | undefined;
  readonly foldSettings: FoldSettings;
  /** run time at which this segment begins, and the clock's time then */
  readonly originMs: number;
  readonly originClockMs: number;
  readonly batchEveryMs: number;
  readonly onBatch: (batch: LiveBatch) => void;
  readonly onLines: (lines: LineReport[], droppedCount: number) => void;
  /** something that `info` shows has changed */
  readonly onChange: () => void;
  readonly onNews?: ((news: RunNews) => void) | undefined;
  /** has a person compared these columns of this instrument with its display? absent: nothing to compare with */
  readonly isDisplayKnown?: ((recipe: LineRecipe) => boolean) | undefined;
  /** a polled instrument: why a line is kept and not used */
  readonly judgeLine?: (line: StampedLine) => UnusedWhy | undefined;
  /** looks at lines that no recipe describes; absent: at once, in this thread */
  readonly lookAtLines?: LookAtLines | undefined;
  /** changes the port's speed; absent where there is no port */
  readonly setBaud?: ((baud: number) => void) | undefined;
  readonly onProblem: (kind: 'source' | 'silent', found: Problem | undefined) => void;
}

export interface LiveRun {
  readonly runId: string;
  readonly fold: RunFold;
  readonly trace: RunTrace;
  readonly source: LineSource;
  readonly header: RunHeader;
  readonly writer: RunWriter | undefined;
  start(): void;
  /** before `start`: what the file holds already, and the gap that follows it */
  readBack(entries: AsyncIterable<RunEntry>, gap: GapEntry): Promise<void>;
  /** keeps the entry and pushes it through the chain; its time is now unless it is said */
  record(entry: DistributiveOmit<RunEntry, 'timeMs'>, timeMs?: number): void;
  /** run time now */
  timeMs(): number;
  info(): RunInfo;
  readonly isEnded: boolean;
  /** the port is away */
  readonly isLost: boolean;
  /** which recipe reads the lines, and what is open about it */
  readonly choice: RecipeChoice;
  readonly watches: LineWatches;
  /** listens at the usual speeds, one after the other; nothing is sent */
  trySpeeds(): void;
  watchLines(isWatched: boolean): void;
  flushBatch(): void;
  /** the next batch comes though nothing happened: a window that is new here shows what was measured last, not the line after it */
  tellAnew(): void;
  /** a replay that jumps begins its chain anew */
  restart(): void;
  /** @param keepsOpen true leaves the file without an end, to be gone on with */
  end(keepsOpen: boolean): Promise<void>;
}

type DistributiveOmit<T, K extends keyof never> = T extends unknown ? Omit<T, K> : never;

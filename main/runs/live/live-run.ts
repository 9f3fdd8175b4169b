/**
 * One run under way. Whatever the source brings is kept raw first, then pushed through the chain; the windows get batches.
 * A replayed run has no writer and is fed entries instead of bytes; everything else is the same.
 */
import type { Clock } from '../../../shared/clock.ts';
import type { LiveBatch, LineReport } from '../../../shared/ipc/run-commands.ts';
import type { Counters, RunInfo } from '../../../shared/ipc/run-info.ts';
import { createLineSplitter, LONGEST_UNKNOWN, type LineSplitter } from '../../../shared/lines/line-splitter.ts';
import type { StampedLine } from '../../../shared/measurement/line.ts';
import type { Mark } from '../../../shared/measurement/mark.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { GapEntry, RunEntry, RunHeader, UnusedWhy } from '../../../shared/measurement/run.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { ChannelState } from '../../../shared/measurement/state.ts';
import { encodeEntry } from '../../../shared/measurement/run-format.ts';
import { createRunFold } from '../../../shared/pipeline/fold-run.ts';
import { type FoldSettings, type RunFold } from '../../../shared/pipeline/run-fold.ts';
import {
  lostOf,
  nextSource,
  shownPhase,
  startOfSource,
  type SourceDeed,
  type SourceHappening,
} from '../../../shared/pipeline/source-phase.ts';
import type { LookAtLines } from '../../../shared/pipeline/propose.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import type { LineSource, SourceEvent } from '../../source/source.ts';
import { createPauses } from '../../pauses.ts';
import { createClockWatch } from './clock-watch.ts';
import { createLineWatches, type LineWatches } from './line-watches.ts';
import { createRecipeChoice, type RecipeChoice } from './recipe-choice.ts';
import { createRunBatch } from './run-batch.ts';
import { createSpeedTrial, type SpeedTrial } from './try-speeds.ts';
import { createRunTrace, type RunTrace } from '../stored/run-trace.ts';
import type { RunWriter } from '../file/run-writer.ts';
import { defined } from '../../../shared/defined.ts';

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
  /** a replay that jumps begins its chain anew */
  restart(): void;
  /** @param keepsOpen true leaves the file without an end, to be gone on with */
  end(keepsOpen: boolean): Promise<void>;
}

type DistributiveOmit<T, K extends keyof never> = T extends unknown ? Omit<T, K> : never;

const CLOCK_EVERY_MS = 10_000;
const TICK_MS = 500;
const HEARTBEAT_MS = 1000;

export function createLiveRun(parts: LiveRunParts): LiveRun {
  const { clock, header, source, writer } = parts;
  const isReplay = source.info.kind === 'replay';
  let zeroMs = parts.originClockMs - parts.originMs;
  let at = startOfSource;
  let lastRecordedMs = parts.originMs;
  let splitter = newSplitter(header.recipe);
  let replayTimeMs: (() => number) | undefined;
  const stops: (() => void)[] = [];
  const batch = createRunBatch();
  let isWatched = false;
  let lastBatchMs = -Infinity;

  let baud = source.info.kind === 'serial' ? source.info.settings.baud : undefined;
  let speedTrial: SpeedTrial | undefined;
  const watches = createLineWatches({
    baud: () => (speedTrial === undefined ? baud : undefined),
    hasRecipe: () => fold.recipe !== undefined && fold.recipe.onKey !== true,
    onChange: () => parts.onChange(),
    onConfirmed({ roomAir, probe }) {
      const confirmed = { roomAir: roomAir === 'confirmed', probe: probe === 'confirmed' };
      choice.confirm(confirmed);
      record({ kind: 'change', change: { confirmed } });
    },
  });

  let trace = createRunTrace();
  const newFold = (): RunFold =>
    createRunFold(header, parts.foldSettings, {
      sample(sample) {
        trace.sample(sample);
        batch.sample(sample);
        watches.sample(sample);
        parts.onNews?.({ kind: 'sample', sample });
      },
      gap(atMs) {
        trace.gap();
        batch.break(atMs);
      },
      states(states) {
        batch.touch();
        parts.onNews?.({ kind: 'states', states });
      },
      reading(reading) {
        batch.reading(reading);
        parts.onNews?.({ kind: 'reading' });
      },
      mark(mark) {
        batch.mark(mark);
        parts.onNews?.({ kind: 'mark', mark });
      },
      edit(edit) {
        batch.edit(edit);
        parts.onNews?.({ kind: 'edit' });
      },
      line(logged) {
        if (isWatched) batch.line(logged);
      },
    });
  let fold = newFold();

  const isEnded = (): boolean => at.phase.kind === 'ended';
  const timeMs = (): number => {
    if (isEnded() || replayTimeMs !== undefined) return replayTimeMs?.() ?? lastRecordedMs;
    return Math.max(lastRecordedMs, Math.round(clock.nowMs() - zeroMs));
  };
  const record: LiveRun['record'] = (entry, atMs) => {
    if (isEnded()) return;
    // times never go back, whatever the clocks do
    lastRecordedMs = Math.max(lastRecordedMs, Math.round(atMs ?? timeMs()));
    const whole = { ...entry, timeMs: lastRecordedMs };
    writer?.append(encodeEntry(whole));
    fold.push(whole);
  };

  const choice = createRecipeChoice({
    fold: () => fold,
    timeMs,
    learns: !isReplay,
    isDisplayKnown: parts.isDisplayKnown,
    frameAs: (recipe) => carryOver(recipe),
    onChange: () => parts.onChange(),
    lookAtLines: parts.lookAtLines,
    guarded,
    isEnded,
    use(recipe) {
      const before = fold.recipe?.framing;
      record({ kind: 'change', change: { recipe } });
      watches.startAnew();
      // While nothing was known lines of any length were taken; a learned recipe changes no more than it must.
      const isAsBefore =
        before === undefined
          ? recipe.framing.terminator === undefined
          : before.terminator === recipe.framing.terminator && before.longestLine === recipe.framing.longestLine;
      if (!isAsBefore) carryOver(recipe);
      happened({ kind: 'recipe-used' });
      parts.onChange();
    },
  });

  const gap = (reason: GapEntry['reason'], fromMs: number, atMs: number): void => {
    renewSplitter(fold.recipe ?? choice.trial);
    record({ kind: 'gap', gap: { reason, fromMs: Math.min(fromMs, atMs) } }, atMs);
    batch.touch();
  };
  const carryOut = (deed: SourceDeed): void => {
    switch (deed.kind) {
      case 'gap':
        return gap(deed.reason, deed.fromMs, deed.atMs);
      case 'watch-anew':
        choice.reopened();
        return watches.startAnew();
      case 'keep-half-line':
        return keepHalfLine();
      case 'problem':
        return parts.onProblem(deed.about, deed.problem);
      case 'changed':
        return parts.onChange();
    }
  };
  const happened = (what: SourceHappening): void => {
    const { state, deeds } = nextSource(at, what, parts.originMs);
    at = state;
    for (const deed of deeds) carryOut(deed);
  };
  const onSource = (event: SourceEvent): void => {
    if (isEnded()) return;
    const atMs = Math.round(event.atMs - zeroMs);
    switch (event.kind) {
      case 'opened':
        return happened({ kind: 'opened', atMs, lastRecordedMs, isLearning: fold.isLearning && !isReplay });
      case 'bytes':
        for (const line of splitter.push(event.bytes, atMs)) takeLine(line);
        return;
      case 'lost':
        return happened({ kind: 'lost', atMs, lastRecordedMs, problem: event.problem });
    }
  };
  const takeLine = (line: { timeMs: number; bytes: string; cutBytes?: number | undefined }): void => {
    const unused = parts.judgeLine?.(line);
    record(
      {
        kind: 'line',
        bytes: line.bytes,
        ...(line.cutBytes !== undefined && { cutBytes: line.cutBytes }),
        ...(unused !== undefined && { unused }),
      },
      line.timeMs,
    );
    happened({ kind: 'line' });
    batch.touch();
    if (unused === undefined) watches.line(line);
    speedTrial?.line(line);
    choice.line({ ...line, timeMs: lastRecordedMs });
  };

  /** What came of a line that was cut off is kept raw, and marked as cut so that nobody takes half a number for a whole one. */
  const keepHalfLine = (atMs?: number): void => {
    for (const { bytes, cutBytes = 0 } of splitter.end()) record({ kind: 'line', bytes, cutBytes: cutBytes + 1 }, atMs);
  };

  /** Another speed or a gap: what has come of a line is kept raw, at its time, and what follows is another line. */
  const renewSplitter = (recipe: LineRecipe | undefined): void => {
    keepHalfLine(lastRecordedMs);
    splitter = newSplitter(recipe);
  };
  /** Other line ends or longer lines: what has come of a line goes on in the same line. */
  const carryOver = (recipe: LineRecipe): void => {
    const rest = splitter.end();
    splitter = newSplitter(recipe);
    for (const { bytes, timeMs: atMs } of rest) for (const line of splitter.push(Buffer.from(bytes, 'latin1'), atMs)) takeLine(line);
  };

  const tick = (): void => {
    if (isEnded() || isReplay) return;
    fold.tick(timeMs());
    // nobody types every second, and an instrument that sends on a key is quiet until it is pressed
    if (header.source.kind === 'typed' || fold.recipe?.onKey === true) return;
    const isQuiet = fold.counters.lastGoodMs !== undefined && fold.states().some(({ state }) => state === 'silent');
    happened({ kind: 'looked', atMs: timeMs(), isQuiet, lines: fold.counters.lines });
  };

  /** What one run cannot take must not end the others: it is told, and this run goes on with its next line. */
  function guarded(work: () => void): void {
    try {
      work();
    } catch (bug) {
      parts.onProblem('source', problem('internal', String(bug).slice(0, 200)));
    }
  }

  const flushBatch = (): void => {
    const timeNowMs = timeMs();
    const watched = batch.takeLines();
    if (watched !== undefined) parts.onLines(watched.lines, watched.droppedCount);
    if (!batch.isDue && clock.nowMs() - lastBatchMs < HEARTBEAT_MS) return;
    lastBatchMs = clock.nowMs();
    parts.onBatch(batch.take(fold, { runId: header.runId, timeMs: timeNowMs, counters: countersOf(fold, timeNowMs) }));
    parts.onNews?.({ kind: 'batch' });
  };

  const run: LiveRun = {
    runId: header.runId,
    get fold() {
      return fold;
    },
    get trace() {
      return trace;
    },
    source,
    header,
    writer,
    async readBack(entries, since) {
      // a long run takes its time; the others and the windows must not wait for it
      const pauses = createPauses();
      for await (const entry of entries) {
        fold.push(entry);
        if (pauses.isDue()) await pauses.take();
      }
      gap(since.reason, since.fromMs, parts.originMs);
      parts.onNews?.({ kind: 'resumed' });
      // the windows ask for the history; it is not sent to them again
      batch.forget();
    },
    start() {
      stops.push(
        parts.windowClock.every(parts.batchEveryMs, () => guarded(flushBatch)),
        clock.every(TICK_MS, () => guarded(tick)),
      );
      if (!isReplay) {
        const watch = createClockWatch(clock, {
          everyMs: CLOCK_EVERY_MS,
          onClock: (entry) => record({ kind: 'clock', clock: entry }),
          onJump(reason, aheadMs) {
            const fromMs = lastRecordedMs;
            // a machine that slept: the run's time goes on with the wall clock, so that the gap is as long as it was
            if (reason === 'suspended') zeroMs -= aheadMs;
            gap(reason, fromMs, timeMs());
          },
        });
        stops.push(watch);
      }
      source.start((event) => guarded(() => onSource(event)));
    },
    record(entry, atMs) {
      record(entry, atMs);
      batch.touch();
    },
    timeMs,
    info: () => {
      const lost = lostOf(at.phase);
      const setting = fold.setting();
      const notices = watches.notices();
      return {
        runId: header.runId,
        phase: shownPhase(at.phase),
        source: source.info,
        startWallMs: header.startWallMs,
        zoneMinutes: header.zoneMinutes,
        timeMs: timeMs(),
        ...defined({ recipeName: fold.recipe !== undefined ? fold.recipe.name : undefined, recipeConfidence: choice.confidence }),
        ...choice.about(),
        fuelId: fold.fuel.id,
        ...defined({ co2MaxPercent: fold.fuel.co2MaxSetPercent, typedAirC: fold.typedAirC, tolerances: fold.settings.tolerances, setting }),
        channels: fold.recipe?.fields.map(({ channel }) => channel) ?? [],
        counters: countersOf(fold, timeMs()),
        ...defined({
          problem: lost?.problem,
          lostSinceMs: lost?.sinceMs,
          visitId: header.visitId,
          knownVisits: header.known !== undefined ? header.known.visits : undefined,
          knowsInstrument: header.known?.benchWallMs !== undefined ? true : undefined,
        }),
        marks: [...fold.marks],
        ...(notices.length > 0 && { notices }),
        ...defined({ check: watches.check, tryingSpeeds: speedTrial !== undefined ? { ...speedTrial.state } : undefined }),
      };
    },
    get isLost() {
      return at.phase.kind === 'lost';
    },
    get isEnded() {
      return isEnded();
    },
    choice,
    watches,
    trySpeeds() {
      const { setBaud } = parts;
      if (setBaud === undefined || baud === undefined || speedTrial !== undefined) return;
      speedTrial = createSpeedTrial({
        clock,
        baudNow: baud,
        setBaud(next) {
          happened({ kind: 'speed-changes' });
          renewSplitter(fold.recipe);
          setBaud(next);
        },
        onChange: () => parts.onChange(),
        onDone(found) {
          speedTrial = undefined;
          if (found !== undefined) baud = found;
          watches.startAnew();
          choice.learnAnew();
          parts.onChange();
        },
      });
    },
    watchLines(watched) {
      isWatched = watched;
      fold.watchLines(watched);
    },
    flushBatch,
    restart() {
      trace = createRunTrace();
      fold = newFold();
      fold.watchLines(isWatched);
      lastRecordedMs = 0;
      batch.restart();
      parts.onNews?.({ kind: 'restarted' });
    },
    async end(keepsOpen) {
      if (isEnded()) return;
      speedTrial?.stop();
      await source.stop();
      for (const stop of stops) stop();
      guarded(() => keepHalfLine());
      if (!keepsOpen) guarded(() => record({ kind: 'end' }));
      guarded(flushBatch);
      const { state, deeds } = nextSource(at, { kind: 'ended' }, parts.originMs);
      at = state;
      // windows hear of the end when the file is whole
      await writer?.close();
      for (const deed of deeds) carryOut(deed);
    },
  };
  if (source.info.kind === 'replay') replayTimeMs = () => lastRecordedMs;
  return run;
}

function countersOf(fold: RunFold, nowMs: number): Counters {
  const { lines, understood, rejected, ignored, bytes, lastGoodMs } = fold.counters;
  return {
    lines,
    understood,
    rejected,
    ignored,
    bytes,
    linesPerSecond: Math.round(fold.linesPerSecond(nowMs) * 10) / 10,
    ...defined({ lastGoodMs }),
  };
}

const newSplitter = (recipe: LineRecipe | undefined): LineSplitter =>
  createLineSplitter({
    terminator: recipe?.framing.terminator,
    longestLine: recipe === undefined ? LONGEST_UNKNOWN : recipe.framing.longestLine,
  });

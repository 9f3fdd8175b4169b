/**
 * One run under way. Whatever the source brings is kept raw first, then pushed through the chain; the windows get batches.
 * A replayed run has no writer and is fed entries instead of bytes; everything else is the same.
 */
import type { Clock } from '../../shared/clock.ts';
import type { LiveBatch, LineReport } from '../../shared/ipc/run-commands.ts';
import type { Counters, RunInfo } from '../../shared/ipc/run-info.ts';
import { createLineSplitter, LONGEST_UNKNOWN, type LineSplitter } from '../../shared/lines/line-splitter.ts';
import type { StampedLine } from '../../shared/measurement/line.ts';
import type { Mark, MarkEdit } from '../../shared/measurement/mark.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import type { GapEntry, RunEntry, RunHeader, UnusedWhy } from '../../shared/measurement/run.ts';
import type { Sample } from '../../shared/measurement/sample.ts';
import type { ChannelState, Reading } from '../../shared/measurement/state.ts';
import { encodeEntry } from '../../shared/measurement/run-format.ts';
import { createRunFold, type FoldSettings, type RunFold } from '../../shared/pipeline/fold-run.ts';
import type { LoggedLine } from '../../shared/pipeline/line-log.ts';
import {
  columnsOfRecipe,
  createLiveLearner,
  shownColumns,
  withAnswers,
  type ColumnAnswer,
  type Judgement,
  type LiveLearner,
  type LookAtLines,
} from '../../shared/pipeline/propose.ts';
import type { ColumnVerdict } from '../../shared/lines/learning/evidence.ts';
import { createLineReader, type LineReader } from '../../shared/lines/read-line.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { createBatcher } from '../pipeline/batcher.ts';
import type { LineSource, SourceEvent } from '../source/source.ts';
import { createPauses } from '../pauses.ts';
import { createClockWatch } from './clock-watch.ts';
import { lineReport } from './line-report.ts';
import { createLineWatches, type LineWatches } from './line-watches.ts';
import { createSpeedTrial, type SpeedTrial } from './try-speeds.ts';
import { createRunTrace, type RunTrace } from './run-trace.ts';
import type { RunWriter } from './run-writer.ts';

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
  readonly judged: Judgement | undefined;
  /** a person's answers to the question about the columns. @returns false when they leave no channel */
  answerColumns(answers: readonly ColumnAnswer[]): boolean;
  /** the recipe that waits for a look at the display */
  readonly trial: LineRecipe | undefined;
  /** yes: the lines count from their first one; no: nothing is used, the columns are asked about */
  compareDisplay(agrees: boolean): void;
  useRecipe(recipe: LineRecipe, confidence?: number): void;
  /** a person chose it: the first figures of this instrument still wait for a look at its display */
  chooseRecipe(recipe: LineRecipe): void;
  readonly watches: LineWatches;
  /** the one in use, those before it, and what was confirmed of it */
  recipes(): {
    recipe?: LineRecipe;
    columns?: ReturnType<typeof copied>[];
    earlier: LineRecipe[];
    confirmed?: { roomAir: boolean; probe: boolean };
  };
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

const SAMPLES_PER_BATCH = 2000;
const LINES_PER_BATCH = 200;
const CLOCK_EVERY_MS = 10_000;
const TICK_MS = 500;
const HEARTBEAT_MS = 1000;
/** a port that is open and brings nothing at all */
const NOTHING_YET_MS = 5000;
const GRACE_MS = 3000;
/** a source that takes longer to open leaves a gap at the beginning */
const OPENS_AT_ONCE_MS = 50;

export function createLiveRun(parts: LiveRunParts): LiveRun {
  const { clock, header, source, writer } = parts;
  const isReplay = source.info.kind === 'replay';
  let zeroMs = parts.originClockMs - parts.originMs;
  let phase: RunInfo['phase'] = 'connecting';
  let problemNow: Problem | undefined;
  let lostSinceMs: number | undefined;
  let openedMs = parts.originMs;
  let hasOpened = false;
  let isSilent = false;
  let lastRecordedMs = parts.originMs;
  let splitter = newSplitter(header.recipe);
  let learner: LiveLearner | undefined;
  let learned: Judgement | undefined;
  let trial: Trial | undefined;
  let hasDiffered = false;
  let evidence: ReturnType<typeof shown> | undefined;
  let recipeConfidence: number | undefined;
  let isEnded = false;
  let replayTimeMs: (() => number) | undefined;
  const stops: (() => void)[] = [];

  const samples = createBatcher<Sample>(SAMPLES_PER_BATCH);
  const lines = createBatcher<LoggedLine>(LINES_PER_BATCH);
  let readings: Reading[] = [];
  let marks: Mark[] = [];
  let edits: MarkEdit[] = [];
  let breaks: number[] = [];
  let isDirty = true;
  let isWatched = false;
  let hasRestarted = false;
  let lastBatchMs = -Infinity;

  const earlierRecipes: LineRecipe[] = [];
  let confirmed: { roomAir: boolean; probe: boolean } | undefined;
  let baud = source.info.kind === 'serial' ? source.info.settings.baud : undefined;
  let speedTrial: SpeedTrial | undefined;
  let isChangingSpeed = false;
  const watches = createLineWatches({
    baud: () => (speedTrial === undefined ? baud : undefined),
    hasRecipe: () => fold.recipe !== undefined && fold.recipe.onKey !== true,
    onChange: () => parts.onChange(),
    onConfirmed({ roomAir, probe }) {
      confirmed = { roomAir: roomAir === 'confirmed', probe: probe === 'confirmed' };
      record({ kind: 'change', change: { confirmed } });
    },
  });

  let trace = createRunTrace();
  const newFold = (): RunFold =>
    createRunFold(header, parts.foldSettings, {
      sample(sample) {
        trace.sample(sample);
        samples.add(sample);
        watches.sample(sample);
        isDirty = true;
        parts.onNews?.({ kind: 'sample', sample });
      },
      gap(atMs) {
        trace.gap();
        breaks.push(atMs);
      },
      states(states) {
        isDirty = true;
        parts.onNews?.({ kind: 'states', states });
      },
      reading(reading) {
        readings = readings.filter(({ id }) => id !== reading.id).concat(reading);
        isDirty = true;
        parts.onNews?.({ kind: 'reading' });
      },
      mark(mark) {
        marks.push(mark);
        isDirty = true;
        parts.onNews?.({ kind: 'mark', mark });
      },
      edit(edit) {
        edits.push(edit);
        isDirty = true;
        parts.onNews?.({ kind: 'edit' });
      },
      line(logged) {
        if (isWatched) lines.add(logged);
      },
    });
  let fold = newFold();
  if (fold.isLearning && !isReplay) startLearning();

  const timeMs = (): number => {
    if (isEnded || replayTimeMs !== undefined) return replayTimeMs?.() ?? lastRecordedMs;
    return Math.max(lastRecordedMs, Math.round(clock.nowMs() - zeroMs));
  };
  const record: LiveRun['record'] = (entry, atMs) => {
    if (isEnded) return;
    // times never go back, whatever the clocks do
    lastRecordedMs = Math.max(lastRecordedMs, Math.round(atMs ?? timeMs()));
    const whole = { ...entry, timeMs: lastRecordedMs };
    writer?.append(encodeEntry(whole));
    fold.push(whole);
  };
  const setPhase = (next: RunInfo['phase']): void => {
    if (phase === next) return;
    phase = next;
    parts.onChange();
  };

  const useRecipe = (recipe: LineRecipe, confidence?: number, columns?: readonly ColumnVerdict[]): void => {
    const before = fold.recipe?.framing;
    if (fold.recipe !== undefined) earlierRecipes.push(fold.recipe);
    confirmed = undefined;
    learner = undefined;
    learned = undefined;
    trial = undefined;
    recipeConfidence = confidence;
    evidence = columns === undefined ? undefined : shown(columns);
    record({ kind: 'change', change: { recipe } });
    watches.startAnew();
    // While nothing was known lines of any length were taken; a learned recipe changes no more than it must.
    const isAsBefore =
      before === undefined
        ? recipe.framing.terminator === undefined
        : before.terminator === recipe.framing.terminator && before.longestLine === recipe.framing.longestLine;
    if (!isAsBefore) carryOver(recipe);
    if (phase === 'learning') phase = 'running';
    parts.onChange();
  };
  const learnFrom = (line: { timeMs: number; bytes: string }): void => {
    if (trial !== undefined) return tryLine(trial, line);
    learner?.push(line);
  };
  function startLearning(): void {
    const mine = createLiveLearner(
      (judgement) =>
        guarded(() => {
          // a recipe came into use meanwhile, or learning began anew
          if (learner !== mine || isEnded) return;
          learned = judgement;
          // what did not agree with the display is not used without a person
          if (judgement.kind !== 'adopt' || hasDiffered || trial !== undefined) return parts.onChange();
          const { recipe, confidence, columns } = judgement.proposal;
          adopt(recipe, confidence, columns);
        }),
      parts.lookAtLines,
    );
    learner = mine;
  }
  /** The first figures of an instrument count after a look at its display; until then they are shown, and the lines wait. */
  const adopt = (recipe: LineRecipe, confidence: number, columns: readonly ColumnVerdict[]): void => {
    if (parts.isDisplayKnown?.(recipe) !== false) return useRecipe(recipe, confidence, columns);
    trial = { recipe, confidence, columns, reader: createLineReader(recipe), values: {}, line: '', toldMs: -Infinity };
    for (const { line } of fold.lastLines(TRIAL_LINES)) tryLine(trial, line);
    parts.onChange();
  };
  const tryLine = (one: Trial, line: StampedLine): void => {
    const read = one.reader.read(line);
    if (read.kind !== 'sample') return;
    one.values = read.sample.values;
    one.line = line.bytes;
    if (timeMs() - one.toldMs < TRIAL_EVERY_MS) return;
    one.toldMs = timeMs();
    parts.onChange();
  };

  const setSilent = (silent: boolean): void => {
    if (silent === isSilent) return;
    isSilent = silent;
    parts.onProblem('silent', silent ? problem('source-silent') : undefined);
  };
  const gap = (reason: GapEntry['reason'], fromMs: number, atMs: number): void => {
    renewSplitter(fold.recipe ?? trial?.recipe);
    record({ kind: 'gap', gap: { reason, fromMs: Math.min(fromMs, atMs) } }, atMs);
    isDirty = true;
  };

  const onSource = (event: SourceEvent): void => {
    if (isEnded) return;
    const atMs = Math.round(event.atMs - zeroMs);
    switch (event.kind) {
      case 'opened':
        if (hasOpened || lostSinceMs !== undefined || atMs - parts.originMs > OPENS_AT_ONCE_MS)
          gap(isChangingSpeed ? 'restarted' : 'unplugged', lostSinceMs ?? lastRecordedMs, atMs);
        isChangingSpeed = false;
        if (lostSinceMs !== undefined) watches.startAnew();
        hasOpened = true;
        openedMs = atMs;
        lostSinceMs = undefined;
        problemNow = undefined;
        parts.onProblem('source', undefined);
        setPhase(fold.isLearning && !isReplay ? 'learning' : 'running');
        return;
      case 'bytes':
        for (const line of splitter.push(event.bytes, atMs)) takeLine(line);
        return;
      case 'lost':
        keepHalfLine();
        lostSinceMs ??= Math.max(lastRecordedMs, atMs);
        problemNow = event.problem;
        parts.onProblem('source', event.problem);
        setSilent(false);
        phase = 'lost';
        parts.onChange();
        return;
    }
  };
  const takeLine = (line: { timeMs: number; bytes: string; cutBytes?: number | undefined }): void => {
    const unused = parts.judgeLine?.(line);
    record(
      {
        kind: 'line',
        bytes: line.bytes,
        ...(line.cutBytes === undefined ? {} : { cutBytes: line.cutBytes }),
        ...(unused === undefined ? {} : { unused }),
      },
      line.timeMs,
    );
    setSilent(false);
    isDirty = true;
    if (unused === undefined) watches.line(line);
    speedTrial?.line(line);
    learnFrom({ ...line, timeMs: lastRecordedMs });
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
    if (isEnded || isReplay) return;
    fold.tick(timeMs());
    if (phase === 'lost' || header.source.kind === 'typed' || fold.recipe?.onKey === true) return;
    // a port that was opened just now gets the time to speak
    if (!hasOpened || timeMs() - openedMs < GRACE_MS) return;
    const isFoldSilent = fold.counters.lastGoodMs !== undefined && fold.states().some(({ state }) => state === 'silent');
    const hasNothing = fold.counters.lines === 0 && timeMs() - openedMs > NOTHING_YET_MS;
    if (isFoldSilent || hasNothing) setSilent(true);
  };

  /** What one run cannot take must not end the others: it is told, and this run goes on with its next line. */
  function guarded(work: () => void): void {
    try {
      work();
    } catch (bug) {
      parts.onProblem('source', problem('internal', String(bug).slice(0, 200)));
    }
  }

  const counters = (): Counters => {
    const { lines: count, understood, rejected, ignored, bytes, lastGoodMs } = fold.counters;
    const now = timeMs();
    return {
      lines: count,
      understood,
      rejected,
      ignored,
      bytes,
      linesPerSecond: Math.round(fold.linesPerSecond(now) * 10) / 10,
      ...(lastGoodMs === undefined ? {} : { lastGoodMs }),
    };
  };

  const flushBatch = (): void => {
    const now = timeMs();
    if (!lines.isEmpty) {
      const { items, droppedCount } = lines.take();
      parts.onLines(items.map(lineReport), droppedCount);
    }
    if (!isDirty && clock.nowMs() - lastBatchMs < HEARTBEAT_MS) return;
    isDirty = false;
    lastBatchMs = clock.nowMs();
    const { items, droppedCount } = samples.take();
    const openReading = fold.openReading();
    const batch: LiveBatch = {
      runId: header.runId,
      timeMs: now,
      samples: items,
      droppedCount,
      states: [...fold.states()],
      ...(fold.lastSample === undefined ? {} : { derived: fold.derived(now) }),
      readings,
      ...(openReading === undefined ? {} : { openReading }),
      marks,
      edits,
      gaps: fold.gaps.takeChanged(),
      excluded: fold.excluded.takeChanged(),
      settled: fold.settled.takeChanged(),
      ...(breaks.length === 0 ? {} : { breaks }),
      counters: counters(),
      ...(hasRestarted ? { restarted: true } : {}),
    };
    hasRestarted = false;
    readings = [];
    marks = [];
    edits = [];
    breaks = [];
    parts.onBatch(batch);
    parts.onNews?.({ kind: 'batch' });
  };

  /** What is open about the lines: the columns, the display, or why there is nothing. */
  const learning = (): Pick<RunInfo, 'question' | 'refusal' | 'display'> => {
    // a recipe that was chosen before the first line waits for it
    if (trial !== undefined && trial.line === '') return {};
    if (trial !== undefined)
      return { display: { values: { ...trial.values }, columns: shown(trial.columns), line: trial.line.slice(0, 400) } };
    if (learned === undefined) return {};
    if (learned.kind === 'refuse')
      return { refusal: { trouble: learned.trouble, columns: shown(learned.ruledOut), lines: learned.lineCount } };
    if (learned.kind === 'adopt' && !hasDiffered) return {};
    const { columns, hidden } = shownColumns(learned.proposal.columns);
    return { question: { columns: columns.map(copied), hidden } };
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
      samples.take();
      readings = [];
      marks = [];
      edits = [];
      breaks = [];
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
      isDirty = true;
    },
    timeMs,
    info: () => ({
      runId: header.runId,
      phase: isEnded ? 'ended' : phase,
      source: source.info,
      startWallMs: header.startWallMs,
      zoneMinutes: header.zoneMinutes,
      timeMs: timeMs(),
      ...(fold.recipe === undefined ? {} : { recipeName: fold.recipe.name }),
      ...(recipeConfidence === undefined ? {} : { recipeConfidence }),
      ...learning(),
      fuelId: fold.fuel.id,
      ...(fold.typedAirC === undefined ? {} : { typedAirC: fold.typedAirC }),
      ...(fold.settings.tolerances === undefined ? {} : { tolerances: fold.settings.tolerances }),
      ...(fold.setting() === undefined ? {} : { setting: fold.setting() }),
      channels: fold.recipe?.fields.map(({ channel }) => channel) ?? [],
      counters: counters(),
      ...(problemNow === undefined ? {} : { problem: problemNow }),
      ...(lostSinceMs === undefined ? {} : { lostSinceMs }),
      ...(header.visitId === undefined ? {} : { visitId: header.visitId }),
      ...(header.known === undefined ? {} : { knownVisits: header.known.visits }),
      marks: [...fold.marks],
      ...(watches.notices().length === 0 ? {} : { notices: watches.notices() }),
      ...(watches.check === undefined ? {} : { check: watches.check }),
      ...(speedTrial === undefined ? {} : { tryingSpeeds: { ...speedTrial.state } }),
    }),
    get isLost() {
      return phase === 'lost';
    },
    get isEnded() {
      return isEnded;
    },
    get judged() {
      return learned;
    },
    answerColumns(answers) {
      if (learned === undefined || learned.kind === 'refuse') return false;
      const { recipe, columns } = learned.proposal;
      const answered = withAnswers(recipe, answers);
      if (answered === undefined) return false;
      adopt(answered, 1, columns);
      return true;
    },
    get trial() {
      return trial?.recipe;
    },
    compareDisplay(agrees) {
      if (trial === undefined) return;
      const { recipe, confidence, columns } = trial;
      trial = undefined;
      hasDiffered = !agrees;
      if (agrees) useRecipe(recipe, confidence, columns);
      else parts.onChange();
    },
    useRecipe,
    chooseRecipe(recipe) {
      // where figures count already, a person corrects them with the lines before their eyes
      // (an instrument that has to be asked sends nothing before its recipe is in use)
      if (fold.recipe !== undefined || recipe.polling !== undefined || parts.isDisplayKnown?.(recipe) !== false) useRecipe(recipe);
      else {
        // it says how lines end and how long they are, as it will when it is in use
        carryOver(recipe);
        adopt(recipe, 1, columnsOfRecipe(recipe));
      }
    },
    watches,
    recipes: () => ({
      ...(fold.recipe === undefined ? {} : { recipe: fold.recipe }),
      ...(evidence === undefined ? {} : { columns: evidence }),
      earlier: [...earlierRecipes],
      ...(confirmed === undefined ? {} : { confirmed }),
    }),
    trySpeeds() {
      const { setBaud } = parts;
      if (setBaud === undefined || baud === undefined || speedTrial !== undefined) return;
      speedTrial = createSpeedTrial({
        clock,
        baudNow: baud,
        setBaud(next) {
          isChangingSpeed = true;
          renewSplitter(fold.recipe);
          setBaud(next);
        },
        onChange: () => parts.onChange(),
        onDone(found) {
          speedTrial = undefined;
          if (found !== undefined) baud = found;
          watches.startAnew();
          // what came at the wrong speeds teaches nothing
          if (fold.isLearning) startLearning();
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
      samples.take();
      lines.take();
      readings = [];
      marks = [];
      edits = [];
      breaks = [];
      hasRestarted = true;
      isDirty = true;
      parts.onNews?.({ kind: 'restarted' });
    },
    async end(keepsOpen) {
      if (isEnded) return;
      speedTrial?.stop();
      await source.stop();
      for (const stop of stops) stop();
      guarded(() => keepHalfLine());
      if (!keepsOpen) guarded(() => record({ kind: 'end' }));
      guarded(flushBatch);
      isEnded = true;
      await writer?.close();
      setSilent(false);
      parts.onProblem('source', undefined);
      parts.onChange();
    },
  };
  if (source.info.kind === 'replay') replayTimeMs = () => lastRecordedMs;
  return run;
}

const newSplitter = (recipe: LineRecipe | undefined): LineSplitter =>
  createLineSplitter({
    terminator: recipe?.framing.terminator,
    longestLine: recipe === undefined ? LONGEST_UNKNOWN : recipe.framing.longestLine,
  });

/** A recipe whose figures are shown and not used yet. */
type Trial = {
  recipe: LineRecipe;
  confidence: number;
  columns: readonly ColumnVerdict[];
  reader: LineReader;
  values: Sample['values'];
  line: string;
  toldMs: number;
};
/** lines before the trial that show the first figures at once */
const TRIAL_LINES = 20;
/** the figures to compare change no faster than a person can read */
const TRIAL_EVERY_MS = 1000;

const copied = (one: ColumnVerdict) => ({ ...one, examples: [...one.examples], evidence: [...one.evidence] });
const shown = (columns: readonly ColumnVerdict[]) => shownColumns(columns).columns.map(copied);

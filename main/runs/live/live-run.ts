/**
 * One run under way. Whatever the source brings is kept raw first, then pushed through the chain; the windows get batches.
 * A replayed run has no writer and is fed entries instead of bytes; everything else is the same.
 */
import { encodeEntry } from '../../../shared/measurement/run-format.ts';
import type { GapEntry } from '../../../shared/measurement/run.ts';
import { createRunFold } from '../../../shared/pipeline/fold-run.ts';
import type { RunFold } from '../../../shared/pipeline/run-fold.ts';
import { nextSource, startOfSource, type SourceDeed, type SourceHappening } from '../../../shared/pipeline/source-phase.ts';
import { problem } from '../../../shared/problem.ts';
import { createPauses } from '../../pauses.ts';
import type { SourceEvent } from '../../source/source.ts';
import { createRunTrace } from '../stored/run-trace.ts';
import { createClockWatch } from './clock-watch.ts';
import { countersOf } from './counters-of.ts';
import { createFoldSink } from './fold-sink.ts';
import { createLineFraming } from './line-framing.ts';
import { createLineWatches } from './line-watches.ts';
import type { LiveRun, LiveRunParts } from './live-run-parts.ts';
import { createRecipeChoice } from './recipe-choice.ts';
import { runInfoOf } from './run-info-of.ts';
import { createRunBatch } from './run-batch.ts';
import { createSpeedTrial, type SpeedTrial } from './try-speeds.ts';

const CLOCK_EVERY_MS = 10_000;
const TICK_MS = 500;
const HEARTBEAT_MS = 1000;

export function createLiveRun(parts: LiveRunParts): LiveRun {
  const { clock, header, source, writer } = parts;
  const isReplay = source.info.kind === 'replay';
  let zeroMs = parts.originClockMs - parts.originMs;
  let at = startOfSource;
  let lastRecordedMs = parts.originMs;
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
  const sink = createFoldSink({ trace: () => trace, batch, watches, isWatched: () => isWatched, onNews: parts.onNews });
  const newFold = (): RunFold => createRunFold(header, parts.foldSettings, sink);
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

  const framing = createLineFraming(header.recipe, {
    line: (line) => takeLine(line),
    halfLine: ({ bytes, cutBytes = 0 }, atMs) => record({ kind: 'line', bytes, cutBytes: cutBytes + 1 }, atMs),
  });
  const choice = createRecipeChoice({
    fold: () => fold,
    timeMs,
    learns: !isReplay,
    isDisplayKnown: parts.isDisplayKnown,
    frameAs: (recipe) => framing.carryOver(recipe),
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
      if (!isAsBefore) framing.carryOver(recipe);
      happened({ kind: 'recipe-used' });
      parts.onChange();
    },
  });

  const gap = (reason: GapEntry['reason'], fromMs: number, atMs: number): void => {
    framing.renew(fold.recipe ?? choice.trial, lastRecordedMs);
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
        return framing.keepHalfLine();
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
        return framing.push(event.bytes, atMs);
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
    info: () => runInfoOf({ header, source: source.info, fold, phase: at.phase, timeMs: timeMs(), choice, watches, speedTrial }),
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
          framing.renew(fold.recipe, lastRecordedMs);
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
    tellAnew: () => batch.touch(),
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
      guarded(() => framing.keepHalfLine());
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

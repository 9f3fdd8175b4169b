/**
 * The one chain from a run's entries to samples, states and readings. Pure: the entries carry the time. Live capture, replay,
 * re-reading a stored run and the command line `read` all push the very same entries through here, so they all get the very same
 * readings, to the last digit.
 */
import { changedFuel, withCo2Max } from '../combustion/co2-max.ts';
import { findFuel, fuels, type Fuel } from '../combustion/fuel.ts';
import { defined } from '../defined.ts';
import type { LineRead } from '../lines/reading/line-read.ts';
import { createLineReader, type LineReader } from '../lines/reading/read-line.ts';
import type { StampedLine } from '../measurement/line.ts';
import type { LineRecipe } from '../measurement/recipe.ts';
import type { RunChange, RunEntry, RunHeader } from '../measurement/run.ts';
import type { Sample } from '../measurement/sample.ts';
import type { Reading } from '../measurement/state.ts';
import { createSettling } from '../settling/settling.ts';
import { type SettlingUpdate } from '../settling/detector.ts';
import { datedKnowledge } from './dated-knowledge.ts';
import { deriveMoment, deriveReading } from './derive-now.ts';
import { createLineLog, createLineRate, type LoggedLine } from './line-log.ts';
import { createMarkBook } from './mark-book.ts';
import { noSettling } from './no-settling.ts';
import type { FoldCounters, FoldSettings, FoldSink, GapStretch, RunFold } from './run-fold.ts';
import { createSilenceWatch } from './silence.ts';
import { createSpanList } from './spans.ts';
import { createExcludedStretches, createSettledStretches, excludingReason } from './stretches.ts';
import { typedReading } from './typed-reading.ts';
import { createWaitingEntries } from './waiting-entries.ts';

/** A port that brings a line at once after it was opened brings the end of one that began before. */
const PARTIAL_MS = 100;
const MOST_READINGS = 5000;

/**
 * @param fallback for files that do not say what they were measured with
 * @param parts `samples`: samples, marks and gaps are those of the whole fold; states and readings stay empty
 */
export function createRunFold(
  header: RunHeader,
  fallback: FoldSettings = {},
  sink: FoldSink = {},
  parts: 'all' | 'samples' = 'all',
): RunFold {
  const settings: FoldSettings = header.measuredWith ?? fallback;
  const counters: FoldCounters = { lines: 0, understood: 0, rejected: 0, ignored: 0, bytes: 0, lastGoodMs: undefined };
  const log = createLineLog();
  const rate = createLineRate();
  const marks = createMarkBook(header.setting);
  const gaps = createSpanList<GapStretch>();
  const excluded = createExcludedStretches();
  const settled = createSettledStretches();
  const readings = new Map<string, Reading>();
  const isTyped = header.source.kind === 'typed';
  const comesFromPort = header.source.kind === 'serial';

  let recipe: LineRecipe | undefined = header.recipe;
  let reader: LineReader | undefined;
  let fuel: Fuel = withCo2Max(findFuel(header.fuelId) ?? fuels.no2, header.co2MaxPercent);
  let typedAirC = header.typedAirC;
  const waiting = createWaitingEntries();
  let segmentMs = 0;
  let timeMs = 0;
  let lastSample: Sample | undefined;
  let lastTaken: Reading | undefined;
  let isPaused = false;
  let isWatched = false;
  const isAfterSilence = createSilenceWatch();

  const settling =
    parts === 'samples'
      ? noSettling
      : createSettling({
          ...defined({ bands: settings.bands, tolerances: settings.tolerances, mode: settings.mode, typedAirC, known: header.known }),
        });

  const keepReading = (reading: Reading): void => {
    readings.set(reading.id, reading);
    if (readings.size > MOST_READINGS) readings.delete(readings.keys().next().value as string);
    sink.reading?.(reading, { fuel, typedAirC, tolerances: settings.tolerances });
  };
  const take = ({ changed, readings: found }: SettlingUpdate): void => {
    settled.changed(changed);
    if (changed.length > 0) sink.states?.(changed);
    found.forEach(keepReading);
  };
  /** Nothing joins over missing time. */
  const breakStream = (): void => {
    take(settling.gap(timeMs));
    settled.broken(Math.min(timeMs, lastSample?.timeMs ?? timeMs));
    sink.gap?.(timeMs);
  };
  const watchSilence = (nextMs: number): void => {
    const wasSilent = recipe?.onKey !== true && isAfterSilence(nextMs);
    if (wasSilent) {
      settled.silent(lastSample?.timeMs ?? nextMs, nextMs);
      sink.gap?.(nextMs);
    }
    settled.seenAgain(nextMs, wasSilent);
  };

  const takeSample = (sample: Sample): void => {
    counters.understood++;
    counters.lastGoodMs = sample.timeMs;
    watchSilence(sample.timeMs);
    lastSample = sample;
    if (!isPaused) {
      take(settling.push(sample));
      settled.goOn(sample.timeMs);
    }
    excluded.now(isPaused ? 'paused' : excludingReason(sample, settled.states()), sample.timeMs);
    sink.sample?.(sample);
  };
  const takeRead = (read: LineRead, logged: LoggedLine): void => {
    logged.read = read;
    if (read.kind === 'sample') takeSample(read.sample);
    else if (read.kind === 'rejected') counters.rejected++;
    else if (read.kind === 'ignored') counters.ignored++;
    sink.line?.(logged);
  };
  const startReader = (dropFirstLine: boolean): void => {
    if (recipe !== undefined) reader = createLineReader(recipe, { dropFirstLine, wasCoCorrected: reader?.isCoCorrected });
  };
  let isFirstOfSegment = true;
  const readLine = (line: StampedLine, logged: LoggedLine): void => {
    if (isFirstOfSegment) {
      isFirstOfSegment = false;
      startReader(comesFromPort && line.timeMs - segmentMs < PARTIAL_MS);
    }
    if (reader === undefined) return;
    takeRead(isWatched ? reader.readWithSpans(line) : reader.read(line), logged);
  };
  /** What a half-done cycle still holds belongs to the segment that ends. */
  const endReader = (): void => {
    const rest = reader?.end();
    if (rest?.kind === 'sample') takeSample({ ...rest.sample, timeMs: Math.max(rest.sample.timeMs, lastSample?.timeMs ?? 0) });
    isFirstOfSegment = true;
  };

  const applyChange = (change: RunChange): void => {
    fuel = changedFuel(fuel, change);
    if (change.typedAirC !== undefined) {
      typedAirC = change.typedAirC ?? undefined;
      settling.typeAir(typedAirC);
    }
    if (change.recipe === undefined) return;
    const isFirstRecipe = recipe === undefined;
    recipe = change.recipe;
    if (!isFirstRecipe) {
      endReader();
      isFirstOfSegment = false;
      startReader(false);
      return;
    }
    for (const { entry, logged } of waiting.takeAll()) process(entry, logged, true);
  };

  const takeByHand = (entry: Extract<RunEntry, { kind: 'take' }>): void => {
    // what is being offered is what the person takes; the last seconds only where nothing has settled
    const offered = settling.openReading();
    const settled = offered?.settled === true ? { ...offered, takenMs: entry.timeMs } : undefined;
    const taken = isTyped ? typedReading(lastSample, entry, settings.tolerances) : (settled ?? settling.takeByHand(entry.timeMs));
    lastTaken = taken === undefined ? undefined : { ...taken, id: entry.readingId };
    if (lastTaken === undefined) return;
    keepReading(lastTaken);
  };

  /** @param wasShown the mark itself was shown when it came; only its effect on the lines had to wait */
  const process = (entry: RunEntry, logged: LoggedLine | undefined, wasShown = false): void => {
    timeMs = Math.max(timeMs, entry.timeMs);
    switch (entry.kind) {
      case 'line':
        if (logged === undefined) return;
        if (entry.unused === undefined) readLine(entry, logged);
        else takeRead({ kind: 'ignored', why: entry.unused }, logged);
        return;
      case 'mark':
        if (!wasShown) marks.add(entry.mark);
        take(settling.mark(entry.mark));
        if (entry.mark.body.kind === 'pause') {
          isPaused = entry.mark.body.on;
          if (isPaused) excluded.now('paused', entry.timeMs);
          breakStream();
        }
        if (!wasShown) sink.mark?.(entry.mark);
        return;
      case 'edit':
        if (wasShown) return;
        marks.edit(entry.edit);
        sink.edit?.(entry.edit);
        return;
      case 'change':
        applyChange(entry.change);
        return;
      case 'take':
        takeByHand(entry);
        return;
      case 'gap':
        endReader();
        segmentMs = entry.timeMs;
        gaps.begin({ fromMs: entry.gap.fromMs, toMs: entry.timeMs, reason: entry.gap.reason });
        breakStream();
        return;
      case 'clock':
        return;
      case 'end':
        endReader();
        breakStream();
        excluded.now(undefined, entry.timeMs);
        return;
    }
  };

  const countLine = (line: Extract<RunEntry, { kind: 'line' }>): LoggedLine => {
    counters.lines++;
    counters.bytes += line.bytes.length + (line.cutBytes ?? 0);
    rate.count(line.timeMs);
    return log.add(line);
  };

  return {
    push(entry) {
      const logged = entry.kind === 'line' ? countLine(entry) : undefined;
      const mustWait = recipe === undefined && !(entry.kind === 'change' && entry.change.recipe !== undefined);
      if (!mustWait) return process(entry, logged);
      timeMs = Math.max(timeMs, entry.timeMs);
      // What the lines mean is not known yet. Everything but lines is shown at once; its effect on the lines waits with them.
      waiting.add({ entry, logged });
      if (logged !== undefined) sink.line?.(logged);
      if (entry.kind === 'mark') {
        marks.add(entry.mark);
        sink.mark?.(entry.mark);
      }
      if (entry.kind === 'edit') {
        marks.edit(entry.edit);
        sink.edit?.(entry.edit);
      }
      if (entry.kind === 'change') fuel = changedFuel(fuel, entry.change);
    },
    tick(atMs) {
      if (recipe === undefined || recipe.onKey) return;
      const { changed } = settling.tick(atMs);
      if (changed.length === 0) return;
      // what is shown only: the states themselves follow from the lines
      settled.spans.end(() => true, lastSample?.timeMs ?? atMs);
      sink.states?.(changed);
    },
    watchLines(watched) {
      isWatched = watched;
    },
    counters,
    linesPerSecond: (atMs) => rate.at(atMs),
    lastLines: (count) => log.last(count),
    get timeMs() {
      return timeMs;
    },
    get recipe() {
      return recipe;
    },
    get fuel() {
      return fuel;
    },
    get typedAirC() {
      return typedAirC;
    },
    get lastSample() {
      return lastSample;
    },
    get isLearning() {
      return recipe === undefined;
    },
    get marks() {
      return marks.all;
    },
    setting: () => marks.setting(),
    states: () => settling.states(),
    derived(atMs) {
      // typed figures are no stream: what was read off the display is what the figures are computed from
      const typed = isTyped ? typedReading(lastSample, { kind: 'take', timeMs: atMs, readingId: 'now' }, settings.tolerances) : undefined;
      if (typed !== undefined) return deriveReading({ reading: typed, fuel, typedAirC, tolerances: settings.tolerances });
      return deriveMoment({
        timeMs: atMs,
        fuel,
        states: settling.states(),
        sample: lastSample,
        typedAirC,
        tolerances: settings.tolerances,
      });
    },
    readings: () => [...readings.values()],
    settings,
    openReading: () => settling.openReading(),
    knowledge: () => datedKnowledge(settling.knowledge(), header),
    get lastTaken() {
      return lastTaken;
    },
    gaps,
    excluded: excluded.spans,
    settled: settled.spans,
  };
}

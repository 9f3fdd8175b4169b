/** The work of `read`: lines or stored entries through the very chain that live capture uses. */
import { createFileTimes, type Timed } from '../../shared/pipeline/file-times.ts';
import { createRunFold } from '../../shared/pipeline/fold-run.ts';
import { type FoldSink, type RunFold } from '../../shared/pipeline/run-fold.ts';
import { judgeLines } from '../../shared/pipeline/propose.ts';
import type { Proposal } from '../../shared/lines/learning/proposal.ts';
import { columnReasons, questionText, toCompare, troubleText } from '../../shared/words/lines/learning.ts';
import { lineReason } from '../../shared/words/lines/line-reasons.ts';
import { createLineReader, type LineReader } from '../../shared/lines/reading/read-line.ts';
import { isWholeLike } from '../../shared/lines/last-line.ts';
import { createLineSplitter, LONGEST_UNKNOWN } from '../../shared/lines/line-splitter.ts';
import type { StampedLine } from '../../shared/measurement/line.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import { RUN_FORMAT, RUN_VERSION, type RunEntry, type RunHeader } from '../../shared/measurement/run.ts';
import type { SettlingKnowledge } from '../../shared/measurement/knowledge.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { ReadInput } from './input/read-input.ts';
import { readRunTexts } from '../../shared/words/commands/runs.ts';
import { defined } from '../../shared/defined.ts';

export type UsedRecipe = {
  recipe: LineRecipe;
  assumed: boolean;
  confidence?: number;
  reasons?: readonly string[];
  /** what a person should check of it; '' = nothing */
  toCompare?: string;
  alternatives?: readonly Proposal[];
};

export type ReadWishes = {
  readonly recipe: LineRecipe | undefined;
  readonly fuelId: string | undefined;
  readonly co2MaxPercent: number | undefined;
  readonly airC: number | undefined;
  readonly linesPerSecond: number;
  /** what earlier runs have taught; counts before what a run file says */
  readonly known?: SettlingKnowledge | undefined;
  /** told once, before anything else */
  readonly onRecipe: (used: UsedRecipe) => void;
  /** run time of the first line, which the command line calls 0 */
  readonly onFirstLine: (timeMs: number) => void;
  /** the clock in the lines was set back; a gap of unknown length */
  readonly onClockSet: (atMs: number, byMs: number) => void;
  readonly sink: FoldSink;
  readonly isStopped: () => boolean;
  /** since the start */
  readonly elapsedMs: () => number;
};

/** a file is read so far before its recipe is learned: a warm-up shows how the numbers move */
const LEARN_FROM_FILE = 20_000;
/** a stream that is slower than a file is learned from so many lines */
const LEARN_FROM_STREAM = 200;
const STREAM_WAITS_MS = 2000;
/** before the last line of a file */
const LINES_LOOKED_AT = 10;
/** a smaller step back is a clock that is corrected, not one that is set */
const CLOCK_STEP_MS = 60_000;

/** A recipe for lines that came without one. @returns the question as a Problem when no proposal is sure enough */
function chooseRecipe(lines: readonly StampedLine[]): Result<UsedRecipe, Problem> {
  if (lines.length === 0) return err(problem('no-samples', readRunTexts.noLines));
  const judged = judgeLines(lines);
  switch (judged.kind) {
    case 'refuse':
      return err(problem('lines-refused', troubleText(judged.trouble, judged.ruledOut, judged.lineCount)));
    case 'ask':
      return err(problem('recipe-unclear', questionText(judged.proposal.columns)));
    case 'adopt': {
      const { recipe, confidence, reasons, columns } = judged.proposal;
      return ok({
        recipe,
        assumed: true,
        confidence,
        reasons: [...reasons.map(lineReason), ...columnReasons(columns)],
        toCompare: toCompare(columns),
        alternatives: judged.others,
      });
    }
  }
}

/** @returns the chain after the last entry */
export async function readRun(input: ReadInput, wishes: ReadWishes): Promise<Result<RunFold, Problem>> {
  return input.kind === 'run' ? readStored(input, wishes) : readText(input.chunks, wishes);
}

async function readStored({ header, entries }: Extract<ReadInput, { kind: 'run' }>, wishes: ReadWishes): Promise<Result<RunFold, Problem>> {
  const { recipe: given } = wishes;
  const recipe = given ?? header.recipe;
  const used: RunHeader = {
    ...header,
    ...defined({ fuelId: wishes.fuelId, co2MaxPercent: wishes.co2MaxPercent, typedAirC: wishes.airC, known: wishes.known }),
  };
  if (wishes.co2MaxPercent === undefined && wishes.fuelId !== undefined && wishes.fuelId !== header.fuelId) delete used.co2MaxPercent;
  if (recipe === undefined) delete used.recipe;
  else used.recipe = recipe;
  const fold = createRunFold(used, {}, wishes.sink);
  if (recipe !== undefined) wishes.onRecipe({ recipe, assumed: false });
  let seen: StampedLine[] = [];
  const learn = (): Result<undefined, Problem> => {
    const found = chooseRecipe(seen);
    seen = [];
    if (!found.ok) return found;
    wishes.onRecipe(found.value);
    fold.push({ kind: 'change', timeMs: fold.timeMs, change: { recipe: found.value.recipe } });
    return ok(undefined);
  };
  const ending: RunEntry[] = [];
  for await (const entry of entries) {
    if (wishes.isStopped()) break;
    if (entry.kind === 'end') {
      ending[0] = entry;
      continue;
    }
    if (entry.kind === 'line' && fold.counters.lines === 0) wishes.onFirstLine(entry.timeMs);
    const change = entry.kind === 'change' ? overruled(entry, wishes) : entry;
    if (change.kind === 'change' && change.change.recipe !== undefined && fold.isLearning)
      wishes.onRecipe({ recipe: change.change.recipe, assumed: false });
    fold.push(change);
    if (entry.kind === 'line' && fold.isLearning && seen.length < LEARN_FROM_FILE) seen.push(entry);
  }
  if (fold.isLearning) {
    const learned = learn();
    if (!learned.ok) return learned;
  }
  fold.push(ending[0] ?? { kind: 'end', timeMs: fold.timeMs });
  return ok(fold);
}

/** What was said on the command line counts, also against what the run says later. */
function overruled(entry: Extract<RunEntry, { kind: 'change' }>, { recipe, fuelId, co2MaxPercent, airC }: ReadWishes): RunEntry {
  const change = { ...entry.change };
  if (recipe !== undefined) delete change.recipe;
  if (fuelId !== undefined) delete change.fuelId;
  // what was set for the run's own fuel says nothing about another one
  if (co2MaxPercent !== undefined || fuelId !== undefined) delete change.co2MaxPercent;
  if (airC !== undefined) delete change.typedAirC;
  return { ...entry, change };
}

async function readText(chunks: AsyncIterable<Uint8Array>, wishes: ReadWishes): Promise<Result<RunFold, Problem>> {
  const { framing } = wishes.recipe ?? {};
  const splitter = createLineSplitter({ terminator: framing?.terminator, longestLine: framing?.longestLine ?? LONGEST_UNKNOWN });
  const setBacks: { atMs: number; byMs: number }[] = [];
  const times = createFileTimes<StampedLine>(1000 / wishes.linesPerSecond, (atMs, byMs) => {
    if (byMs > CLOCK_STEP_MS) setBacks.push({ atMs, byMs });
  });
  let waiting: StampedLine[] = [];
  let lastTexts: string[] = [];
  let fold: RunFold | undefined;
  let clockReader: LineReader | undefined;

  const push = (timed: readonly Timed<StampedLine>[]): void => {
    for (const { item, timeMs } of timed) {
      // nothing is joined across a clock that was set: how long it was is not known
      while (fold !== undefined && setBacks[0] !== undefined && setBacks[0].atMs <= timeMs) {
        const { atMs, byMs } = setBacks.shift() as { atMs: number; byMs: number };
        fold.push({ kind: 'gap', timeMs: atMs, gap: { reason: 'clock-set', fromMs: fold.timeMs } });
        wishes.onClockSet(atMs, byMs);
      }
      fold?.push({ kind: 'line', timeMs, bytes: item.bytes, cutBytes: item.cutBytes });
    }
  };
  const take = (line: StampedLine): void => {
    const read = clockReader?.read(line);
    push(times.push(line, read?.kind === 'sample' ? read.sample.instrumentMs : undefined, read?.kind !== 'ignored'));
  };
  const begin = (used: UsedRecipe): void => {
    wishes.onRecipe(used);
    clockReader = createLineReader(used.recipe);
    fold = createRunFold(textHeader(used.recipe, wishes), {}, wishes.sink);
    waiting.forEach(take);
    waiting = [];
  };
  const handle = (lines: readonly StampedLine[]): Result<undefined, Problem> => {
    for (const line of lines) {
      if (fold !== undefined) take(line);
      else waiting.push(line);
    }
    const isEnough = waiting.length >= LEARN_FROM_FILE || (waiting.length >= LEARN_FROM_STREAM && wishes.elapsedMs() > STREAM_WAITS_MS);
    return fold !== undefined || !isEnough ? ok(undefined) : learn();
  };
  const learn = (): Result<undefined, Problem> => {
    const found = chooseRecipe(waiting);
    if (!found.ok) return found;
    begin(found.value);
    return ok(undefined);
  };

  if (wishes.recipe !== undefined) begin({ recipe: wishes.recipe, assumed: false });
  try {
    for await (const chunk of chunks) {
      if (wishes.isStopped()) break;
      const lines = splitter.push(chunk, 0);
      lastTexts = [...lastTexts, ...lines.slice(-LINES_LOOKED_AT).map(({ bytes }) => bytes)].slice(-LINES_LOOKED_AT);
      const handled = handle(lines);
      if (!handled.ok) return handled;
    }
  } catch (cause) {
    return err(problem('file-damaged', (cause as NodeJS.ErrnoException).code ?? String(cause)));
  }
  const handled = handle(
    splitter.end().map((line) => (isWholeLike(line.bytes, lastTexts) ? line : { ...line, cutBytes: line.cutBytes ?? 1 })),
  );
  if (!handled.ok) return handled;
  if (fold === undefined) {
    const learned = learn();
    if (!learned.ok) return learned;
  }
  push(times.end());
  const done = fold as unknown as RunFold;
  done.push({ kind: 'end', timeMs: done.timeMs });
  return ok(done);
}

const textHeader = (recipe: LineRecipe, { fuelId, co2MaxPercent, airC, known }: ReadWishes): RunHeader => ({
  format: RUN_FORMAT,
  version: RUN_VERSION,
  runId: 'text',
  startWallMs: 0,
  zoneMinutes: 0,
  source: { kind: 'replay', runId: 'text', label: 'text file', of: 'text' },
  recipe,
  fuelId: fuelId ?? 'no2',
  ...defined({ co2MaxPercent, typedAirC: airC, known }),
  appVersion: '',
});

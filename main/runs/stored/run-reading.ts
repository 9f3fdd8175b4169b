/**
 * A stored run on its way through the chain. Twice: the curves first, because they take a fifth of the time and are what a person looks for,
 * then what has settled. What has been read so far can be looked at all the while. It rests while nobody looks or waits, with its file closed,
 * and goes on from there.
 */
import type { ReadProgress } from '../../../shared/ipc/run-documents.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { RunEntry } from '../../../shared/measurement/run.ts';
import { createRunFold } from '../../../shared/pipeline/fold-run.ts';
import { type FoldSettings, type RunFold } from '../../../shared/pipeline/run-fold.ts';
import { createPauses } from '../../pauses.ts';
import type { TraceRecord } from './kept-trace.ts';
import { createTimeLeft } from './time-left.ts';
import { asCaptured, rereadRecipeOf, underRecipe } from './reread.ts';
import type { FilePlace, RunFile } from '../file/run-file.ts';
import { createRunTrace, type RunTrace, type ToldOfRun } from './run-trace.ts';
import { defined } from '../../../shared/defined.ts';

/** what is asked of a run that has been read */
export type ReadFold = ToldOfRun & Pick<RunFold, 'lastLines' | 'recipe' | 'counters'>;
export type OpenedRun = {
  readonly fold: ReadFold;
  readonly trace: RunTrace;
  readonly earlier: readonly LineRecipe[];
  /** not read now, but found as it was read before */
  readonly isFound?: boolean | undefined;
};
/** `progress` is missing once all has been read */
export type RunSoFar = { readonly told: ToldOfRun; readonly trace: RunTrace; readonly progress?: ReadProgress };

export interface RunReading<Fold extends ReadFold = ReadFold> {
  /** @throws what the disk throws */
  whole(): Promise<OpenedRun & { readonly fold: Fold }>;
  /** What there is after `waitMs` at most. @throws what the disk throws */
  soFar(waitMs: number): Promise<RunSoFar>;
}

/** a whole day at ten a second can be looked at sample by sample: 17 bytes each, taken as they are needed */
const SAMPLES_KEPT = 1 << 20;
/** a window that looks on asks more often than this */
const LOOKED_ON_MS = 3000;
export const newTrace = (): RunTrace => createRunTrace(SAMPLES_KEPT);
const nothingYet: ToldOfRun = { marks: [], readings: () => [], gaps: { all: [] }, excluded: { all: [] }, settled: { all: [] } };

/** @param how as it was captured, or through another recipe; without it as it was read last */
export function readRun(
  file: RunFile,
  settings: FoldSettings,
  how?: 'captured' | LineRecipe,
  nowMs: () => number = () => performance.now(),
  record?: TraceRecord,
): RunReading<RunFold> {
  const trace = newTrace();
  let told = (): ToldOfRun => nothingYet;
  let stage: ReadProgress['stage'] = 'curves';
  let timeLeft = createTimeLeft();
  let waiters = 0;
  let lookedMs = -Infinity;
  let wake: (() => void) | undefined;
  let result: (OpenedRun & { readonly fold: RunFold }) | undefined;

  const isWanted = (): boolean => waiters > 0 || nowMs() - lookedMs < LOOKED_ON_MS;
  const wanted = async (): Promise<void> => {
    if (!isWanted()) await new Promise<void>((resolve) => (wake = resolve));
  };
  const pass = async (push: (entry: RunEntry) => void): Promise<void> => {
    let place: FilePlace | undefined;
    const pauses = createPauses();
    timeLeft = createTimeLeft();
    for (let isThrough = false; !isThrough;) {
      await wanted();
      isThrough = true;
      timeLeft.begin();
      for await (const { entries, share, end } of file.groups(place)) {
        for (const entry of entries) {
          push(entry);
          if (pauses.isDue()) await pauses.take();
        }
        timeLeft.reached(share);
        place = end;
        if (isWanted()) continue;
        isThrough = false;
        break;
      }
      timeLeft.pause();
    }
  };
  const read = async (): Promise<OpenedRun & { readonly fold: RunFold }> => {
    const recipe = how === undefined ? await rereadRecipeOf(file) : how === 'captured' ? undefined : how;
    const seen = recipe === undefined ? { header: file.header, entry: asCaptured } : underRecipe(file.header, recipe);
    const earlier: LineRecipe[] = file.header.recipe === undefined ? [] : [file.header.recipe];

    const curves = createRunFold(
      seen.header,
      settings,
      {
        sample(sample) {
          trace.sample(sample);
          record?.sample(sample);
        },
        gap() {
          trace.gap();
          record?.gap();
        },
      },
      'samples',
    );
    told = () => curves;
    await pass((entry) => {
      if (entry.kind === 'change' && entry.change.recipe !== undefined) earlier.push(entry.change.recipe);
      const one = seen.entry(entry);
      if (one !== undefined) curves.push(one);
    });

    const fold = createRunFold(seen.header, settings);
    // what has not ended yet may end in the next line that is read
    const soFarIn = <T extends { toMs?: number | undefined }>(spans: readonly T[]): T[] =>
      spans.map((span) => ({ ...span, toMs: span.toMs ?? fold.timeMs }));
    told = () => ({
      marks: curves.marks,
      gaps: curves.gaps,
      readings: () => fold.readings(),
      excluded: { all: soFarIn(fold.excluded.all) },
      settled: { all: soFarIn(fold.settled.all) },
    });
    stage = 'readings';
    await pass((entry) => {
      const one = seen.entry(entry);
      if (one !== undefined) fold.push(one);
    });
    told = () => fold;
    const used = fold.recipe === undefined ? '' : JSON.stringify(fold.recipe);
    return (result = { fold, trace, earlier: earlier.filter((one) => JSON.stringify(one) !== used) });
  };

  let reading: ReturnType<typeof read> | undefined;
  const goOn = (): ReturnType<typeof read> => {
    wake?.();
    wake = undefined;
    return (reading ??= read());
  };
  return {
    async whole() {
      waiters++;
      try {
        return await goOn();
      } finally {
        waiters--;
      }
    },
    async soFar(waitMs) {
      lookedMs = nowMs();
      const going = goOn();
      await Promise.race([going, new Promise((resolve) => setTimeout(resolve, waitMs))]);
      const leftMs = timeLeft.leftMs();
      return {
        told: told(),
        trace,
        ...defined({
          progress: result === undefined ? { stage, share: timeLeft.share, ...defined({ leftMs }) } : undefined,
        }),
      };
    },
  };
}

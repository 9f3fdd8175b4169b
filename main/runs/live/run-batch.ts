/** What has come since the windows were told last: collected here, given out as one batch. */
import type { LiveBatch, LineReport } from '../../../shared/ipc/run-documents.ts';
import type { Counters } from '../../../shared/ipc/run-info.ts';
import type { Mark, MarkEdit } from '../../../shared/measurement/mark.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import type { RunFold } from '../../../shared/pipeline/run-fold.ts';
import type { LoggedLine } from '../../../shared/pipeline/line-log.ts';
import { createBatcher } from '../../pipeline/batcher.ts';
import { lineReport } from './line-report.ts';
import { defined } from '../../../shared/defined.ts';

const SAMPLES_PER_BATCH = 2000;
const LINES_PER_BATCH = 200;

export type RunBatch = {
  sample(sample: Sample): void;
  /** a line as it was logged, for who watches the lines */
  line(line: LoggedLine): void;
  /** the newest state of a reading takes the place of the one before */
  reading(reading: Reading): void;
  mark(mark: Mark): void;
  edit(edit: MarkEdit): void;
  /** no curve is drawn across this time */
  break(atMs: number): void;
  /** there is something to tell that is not in the lists */
  touch(): void;
  readonly isDue: boolean;
  takeLines(): { lines: LineReport[]; droppedCount: number } | undefined;
  take(fold: RunFold, at: { runId: string; timeMs: number; counters: Counters }): LiveBatch;
  /** forgets what has come: the windows ask for the history themselves */
  forget(): void;
  /** the chain began anew: the windows hear of it with the next batch */
  restart(): void;
};

export function createRunBatch(): RunBatch {
  const samples = createBatcher<Sample>(SAMPLES_PER_BATCH);
  const lines = createBatcher<LoggedLine>(LINES_PER_BATCH);
  const none = (): { readings: Reading[]; marks: Mark[]; edits: MarkEdit[]; breaks: number[] } => ({
    readings: [],
    marks: [],
    edits: [],
    breaks: [],
  });
  let listed = none();
  let isDue = true;
  let hasRestarted = false;
  const forget = (): void => {
    samples.take();
    listed = none();
  };
  return {
    sample(sample) {
      samples.add(sample);
      isDue = true;
    },
    line: (line) => lines.add(line),
    reading(reading) {
      listed.readings = listed.readings.filter(({ id }) => id !== reading.id).concat(reading);
      isDue = true;
    },
    mark(mark) {
      listed.marks.push(mark);
      isDue = true;
    },
    edit(edit) {
      listed.edits.push(edit);
      isDue = true;
    },
    break: (atMs) => void listed.breaks.push(atMs),
    touch() {
      isDue = true;
    },
    get isDue() {
      return isDue;
    },
    takeLines() {
      if (lines.isEmpty) return undefined;
      const { items, droppedCount } = lines.take();
      return { lines: items.map(lineReport), droppedCount };
    },
    take(fold, { runId, timeMs, counters }) {
      const { items, droppedCount } = samples.take();
      const openReading = fold.openReading();
      const { breaks, ...lists } = listed;
      const batch: LiveBatch = {
        runId,
        timeMs,
        samples: items,
        droppedCount,
        states: [...fold.states()],
        ...defined({ derived: fold.lastSample !== undefined ? fold.derived(timeMs) : undefined }),
        ...lists,
        ...defined({ openReading }),
        gaps: fold.gaps.takeChanged(),
        excluded: fold.excluded.takeChanged(),
        settled: fold.settled.takeChanged(),
        ...(breaks.length > 0 && { breaks }),
        counters,
        ...(hasRestarted && { restarted: true }),
      };
      listed = none();
      isDue = false;
      hasRestarted = false;
      return batch;
    },
    forget,
    restart() {
      forget();
      lines.take();
      hasRestarted = true;
      isDue = true;
    },
  };
}

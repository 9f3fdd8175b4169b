/** Where what the fold of a live run says goes: into the trace, the next batch, the watches, and to the sessions of the host. */
import type { FoldSink } from '../../../shared/pipeline/run-fold.ts';
import type { RunTrace } from '../stored/run-trace.ts';
import type { LineWatches } from './line-watches.ts';
import type { LiveRunParts } from './live-run-parts.ts';
import type { RunBatch } from './run-batch.ts';

type SinkParts = {
  /** a replay that jumps begins a new one */
  readonly trace: () => RunTrace;
  readonly batch: RunBatch;
  readonly watches: LineWatches;
  /** does a window look at the lines? */
  readonly isWatched: () => boolean;
  readonly onNews: LiveRunParts['onNews'];
};

export const createFoldSink = ({ trace, batch, watches, isWatched, onNews }: SinkParts): FoldSink => ({
  sample(sample) {
    trace().sample(sample);
    batch.sample(sample);
    watches.sample(sample);
    onNews?.({ kind: 'sample', sample });
  },
  gap(atMs) {
    trace().gap();
    batch.break(atMs);
  },
  states(states) {
    batch.touch();
    onNews?.({ kind: 'states', states });
  },
  reading(reading) {
    batch.reading(reading);
    onNews?.({ kind: 'reading' });
  },
  mark(mark) {
    batch.mark(mark);
    onNews?.({ kind: 'mark', mark });
  },
  edit(edit) {
    batch.edit(edit);
    onNews?.({ kind: 'edit' });
  },
  line(logged) {
    if (isWatched()) batch.line(logged);
  },
});

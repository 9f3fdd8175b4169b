import type { StateCreator } from 'zustand/vanilla';
import type { History, LiveBatch, PortInfo } from '../../shared/ipc/run-documents.ts';
import type { RunInfo, RunSummary } from '../../shared/ipc/run-info.ts';
import type { Mark, MarkEdit } from '../../shared/measurement/mark.ts';
import type { Reading } from '../../shared/measurement/state.ts';
import { applyEdits, mergeBy, recordOf, withBatch, withHistory, withInfo, type Readiness, type RunRecord } from './run-record.ts';

export type RunsSlice = {
  runs: Readonly<Record<string, RunRecord>>;
  /** the run on screen */
  runId: string | undefined;
  interrupted: readonly RunSummary[];
  ports: readonly PortInfo[];
  runsWelcomed: (runs: readonly RunInfo[], interrupted: readonly RunSummary[]) => void;
  runChanged: (info: RunInfo) => void;
  runChosen: (runId: string | undefined) => void;
  batchesCame: (batches: readonly LiveBatch[]) => void;
  historyCame: (runId: string, history: History) => void;
  markMade: (runId: string, mark: Mark) => void;
  markEdited: (runId: string, edit: MarkEdit) => void;
  readingTaken: (runId: string, reading: Reading, ready: Readiness) => void;
  portsChanged: (ports: readonly PortInfo[]) => void;
  interruptedLeft: (runId: string) => void;
};

const update = (runs: RunsSlice['runs'], runId: string, change: (record: RunRecord) => RunRecord): Pick<RunsSlice, 'runs'> | object => {
  const record = runs[runId];
  return record === undefined ? {} : { runs: { ...runs, [runId]: change(record) } };
};

export const createRunsSlice: StateCreator<RunsSlice> = (set) => ({
  runs: {},
  runId: undefined,
  interrupted: [],
  ports: [],
  runsWelcomed: (infos, interrupted) =>
    set({
      runs: Object.fromEntries(infos.map((info) => [info.runId, recordOf(info)])),
      runId: (infos.findLast(({ phase }) => phase !== 'ended') ?? infos[infos.length - 1])?.runId,
      interrupted,
    }),
  runChanged: (info) =>
    set(({ runs, runId }) => {
      const known = runs[info.runId];
      return { runs: { ...runs, [info.runId]: known === undefined ? recordOf(info) : withInfo(known, info) }, runId: runId ?? info.runId };
    }),
  runChosen: (runId) => set({ runId }),
  batchesCame: (batches) =>
    set(({ runs }) => {
      const next = { ...runs };
      for (const batch of batches) {
        const record = next[batch.runId];
        if (record !== undefined) next[batch.runId] = withBatch(record, batch);
      }
      return { runs: next };
    }),
  historyCame: (runId, history) => set(({ runs }) => update(runs, runId, (record) => withHistory(record, history))),
  markMade: (runId, mark) =>
    set(({ runs }) =>
      update(runs, runId, (record) => ({
        ...record,
        marks: [...mergeBy(record.marks, [mark], ({ id }) => id)].sort((a, b) => a.timeMs - b.timeMs),
        info: mark.body.kind === 'adjustment' ? { ...record.info, setting: mark.body.setting } : record.info,
      })),
    ),
  markEdited: (runId, edit) => set(({ runs }) => update(runs, runId, (record) => ({ ...record, marks: applyEdits(record.marks, [edit]) }))),
  readingTaken: (runId, reading, ready) =>
    set(({ runs }) =>
      update(runs, runId, (record) => ({
        ...record,
        readings: mergeBy(record.readings, [reading], ({ id }) => id),
        taken: [...record.taken, { id: reading.id, ready, timeMs: reading.takenMs }],
      })),
    ),
  portsChanged: (ports) => set({ ports }),
  interruptedLeft: (left) => set(({ interrupted }) => ({ interrupted: interrupted.filter(({ runId }) => runId !== left) })),
});

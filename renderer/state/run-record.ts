/** What the window knows of one run, at human speed. Samples are in live/run-buffers.ts. Pure merging; the store only keeps it. */
import type { History, LiveBatch } from '../../shared/ipc/run-documents.ts';
import type { Counters, ExcludedSpan, GapSpan, RunInfo, SettledSpan } from '../../shared/ipc/run-info.ts';
import type { SettlingChannel } from '../../shared/measurement/channel.ts';
import type { Derived } from '../../shared/measurement/derived.ts';
import type { Mark, MarkEdit, Setting } from '../../shared/measurement/mark.ts';
import type { ChannelState, Reading } from '../../shared/measurement/state.ts';

/** The face of a run: what changes a few times a second and is shown as it is. */
export type Face = {
  timeMs: number;
  states: Partial<Record<SettlingChannel, ChannelState>>;
  derived: Derived | undefined;
  openReading: Reading | undefined;
  counters: Counters;
  droppedCount: number;
};

/** Which reading can be taken: O2 and CO at rest, or everything. */
export type Readiness = 'none' | 'gas' | 'full';

export type RunRecord = {
  info: RunInfo;
  /** where the adjusters stood before the first adjustment; undefined when this window came later */
  startSetting: Setting | undefined;
  face: Face;
  marks: readonly Mark[];
  readings: readonly Reading[];
  gaps: readonly GapSpan[];
  excluded: readonly ExcludedSpan[];
  settled: readonly SettledSpan[];
  /** readings that a person took in this window, and what was ready then; the sentence says what comes next */
  taken: readonly { id: string; ready: Readiness; timeMs: number }[];
};

/** The simulated burner knows its positions even when nobody has marked one. */
const settingOf = ({ setting, simulator }: RunInfo): Setting | undefined =>
  setting ??
  (simulator === undefined ? undefined : { stage: '1', positions: simulator.adjusters.map(({ name, value }) => ({ name, value })) });

export const recordOf = (info: RunInfo): RunRecord => ({
  info,
  startSetting: info.marks.some(({ body }) => body.kind === 'adjustment') ? undefined : settingOf(info),
  face: { timeMs: info.timeMs, states: {}, derived: undefined, openReading: undefined, counters: info.counters, droppedCount: 0 },
  marks: info.marks,
  readings: [],
  gaps: [],
  excluded: [],
  settled: [],
  taken: [],
});

/** Adds or replaces by key; keeps the order of first sight. Returns the same array when there is nothing new. */
export function mergeBy<T>(known: readonly T[], news: readonly T[], keyOf: (item: T) => string): readonly T[] {
  if (news.length === 0) return known;
  const merged = new Map(known.map((item) => [keyOf(item), item]));
  for (const item of news) merged.set(keyOf(item), item);
  return [...merged.values()];
}

export function applyEdits(marks: readonly Mark[], edits: readonly MarkEdit[]): readonly Mark[] {
  return edits.reduce<readonly Mark[]>((current, edit) => {
    switch (edit.kind) {
      case 'undone':
        return current.filter(({ id }) => id !== edit.markId);
      case 'moved':
        return current.map((mark) => (mark.id === edit.markId ? { ...mark, timeMs: edit.timeMs } : mark));
    }
  }, marks);
}

const byTime = <T extends { timeMs: number }>(items: readonly T[]): readonly T[] => [...items].sort((a, b) => a.timeMs - b.timeMs);
const spanKey = (span: { fromMs: number; reason?: string; channel?: string }): string =>
  `${span.channel ?? ''}|${span.reason ?? ''}|${span.fromMs}`;

type Facts = Pick<LiveBatch, 'readings' | 'marks' | 'gaps' | 'excluded' | 'settled'>;
function withFacts(record: RunRecord, facts: Facts, edits: readonly MarkEdit[]): RunRecord {
  const marks =
    facts.marks.length + edits.length === 0
      ? record.marks
      : byTime(
          applyEdits(
            mergeBy(record.marks, facts.marks, ({ id }) => id),
            edits,
          ),
        );
  return {
    ...record,
    marks,
    readings: mergeBy(record.readings, facts.readings, ({ id }) => id),
    gaps: mergeBy(record.gaps, facts.gaps, spanKey),
    excluded: mergeBy(record.excluded, facts.excluded, spanKey),
    settled: mergeBy(record.settled, facts.settled, spanKey),
  };
}

export function withBatch(record: RunRecord, batch: LiveBatch): RunRecord {
  const known = batch.restarted === true ? {} : record.face.states;
  const states = batch.states.length === 0 ? known : { ...known };
  for (const state of batch.states) states[state.channel] = state;
  const before: RunRecord =
    batch.restarted === true ? { ...record, marks: [], readings: [], gaps: [], excluded: [], settled: [], taken: [] } : record;
  return {
    ...withFacts(before, batch, batch.edits),
    face: {
      timeMs: batch.timeMs,
      states,
      derived: batch.derived ?? record.face.derived,
      openReading: batch.openReading,
      counters: batch.counters,
      droppedCount: record.face.droppedCount + batch.droppedCount,
    },
  };
}

export const withHistory = (record: RunRecord, history: History): RunRecord => withFacts(record, history, []);

/** A newer info never takes the face back; its marks are the whole list. */
export const withInfo = (record: RunRecord, info: RunInfo): RunRecord => ({ ...record, info, marks: byTime(info.marks) });

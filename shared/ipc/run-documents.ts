/** What commands and events of a run carry. */
import { z } from 'zod';
import { ChannelId } from '../measurement/channel-schema.ts';
import { Derived } from '../measurement/derived.ts';
import { FieldSpanShape, LineMark } from './line-report.ts';
import { GeometryLeft } from '../measurement/geometry-left.ts';
import { Mark, MarkEdit } from '../measurement/mark.ts';
import { DeviceIdentity, SerialSettings } from '../measurement/run.ts';
import { Sample } from '../measurement/sample.ts';
import { ChannelState, Reading } from '../measurement/state.ts';
import { Counters, ExcludedSpan, GapSpan, SettledSpan } from './run-info.ts';

export const runId = z.string().min(1).max(100);

export const PortInfo = z.object({
  path: z.string(),
  /** what a person recognises it by */
  label: z.string(),
  maker: z.string().optional(),
  device: DeviceIdentity,
  inUseByRun: z.string().optional(),
});
export type PortInfo = z.infer<typeof PortInfo>;

/** What to start a run from. The window never sends file paths; a serial port's name is not a file to it. */
export const SourceChoice = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('serial'), path: z.string().min(1).max(400), settings: SerialSettings.prefault({}) }),
  z.strictObject({
    kind: z.literal('simulated'),
    scenario: z.string().max(100).default('tune-up'),
    seed: z.number().int().default(1),
    shape: z.string().max(40).default('columns'),
    ratePerSecond: z.number().min(0.5).max(10).default(1),
    /** what electrodes, nozzle and head were left at */
    geometry: GeometryLeft.optional(),
  }),
  z.strictObject({ kind: z.literal('replay'), runId, speed: z.number().min(0.1).max(1000).default(1) }),
  z.strictObject({ kind: z.literal('typed') }),
]);
export type SourceChoice = z.infer<typeof SourceChoice>;

export const ScenarioInfo = z.object({ name: z.string(), title: z.string(), about: z.string() });

/** A stored run is read in two passes, curves first; `leftMs` of this pass, once that can be said. */
export const ReadProgress = z.object({
  stage: z.enum(['curves', 'readings']),
  share: z.number().min(0).max(1),
  leftMs: z.number().optional(),
});
export type ReadProgress = z.infer<typeof ReadProgress>;

/** Thinned columns for the trend after a reload or for a long look back; one row per bucket, low and high kept. */
export const History = z.object({
  fromMs: z.number(),
  toMs: z.number(),
  /** `breaks`: indices of rows that must not be joined with the row before */
  series: z.array(
    z.object({
      channel: ChannelId,
      timeMs: z.array(z.number()),
      low: z.array(z.number()),
      high: z.array(z.number()),
      breaks: z.array(z.number().int()),
    }),
  ),
  marks: z.array(Mark),
  readings: z.array(Reading),
  gaps: z.array(GapSpan),
  excluded: z.array(ExcludedSpan),
  settled: z.array(SettledSpan),
  /** of a run that is open: its newest sample, as it was measured; the rows above are thinned */
  last: Sample.optional(),
  /** only when it was asked for `partly`: the run is still being read, and this is what there is of it */
  progress: ReadProgress.optional(),
});
export type History = z.infer<typeof History>;

export const LineReport = z.object({
  number: z.number().int(),
  timeMs: z.number(),
  bytes: z.string(),
  mark: LineMark,
  /** why it was not understood or ignored, in words */
  why: z.string().optional(),
  spans: z.array(FieldSpanShape).optional(),
});
export type LineReport = z.infer<typeof LineReport>;

/** What a run's lines give with one recipe. */
export const RunStory = z.object({
  recipeName: z.string().optional(),
  understood: z.number().int(),
  rejected: z.number().int(),
  readings: z.array(Reading),
});
export type RunStory = z.infer<typeof RunStory>;

/** About ten times a second per run. `droppedCount` samples did not fit and were left out here (never in the run file). */
export const LiveBatch = z.object({
  runId: z.string(),
  timeMs: z.number(),
  samples: z.array(Sample),
  droppedCount: z.number().int(),
  states: z.array(ChannelState),
  derived: Derived.optional(),
  readings: z.array(Reading),
  openReading: Reading.optional(),
  marks: z.array(Mark),
  edits: z.array(MarkEdit),
  gaps: z.array(GapSpan),
  excluded: z.array(ExcludedSpan),
  settled: z.array(SettledSpan),
  /** run times of samples that are not joined with what came before them: lines are missing there */
  breaks: z.array(z.number()).optional(),
  counters: Counters,
  /** a replay went back: what was shown before is void, its chain begins anew with this batch */
  restarted: z.boolean().optional(),
});
export type LiveBatch = z.infer<typeof LiveBatch>;

/** Of an export that takes longer than a moment; it is over when its `run.export` is answered. */
export const ExportProgress = z.object({ jobId: z.string(), share: z.number().min(0).max(1), leftMs: z.number().optional() });
export type ExportProgress = z.infer<typeof ExportProgress>;

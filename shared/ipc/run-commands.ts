import { z } from 'zod';
import { amountNames, switchNames } from '../burner/parts.ts';
import { ChannelId } from '../measurement/channel-schema.ts';
import { Derived } from '../measurement/derived.ts';
import { FieldSpanShape, LineMark } from './line-report.ts';
import { GeometryLeft } from '../measurement/geometry-left.ts';
import { Mark, MarkBody, MarkEdit, Setting } from '../measurement/mark.ts';
import { troubles } from '../lines/learning/evidence.ts';
import { FieldPlace, LineRecipe } from '../measurement/recipe.ts';
import { SentUnit } from '../measurement/sent-unit.ts';
import { DeviceIdentity, SerialSettings } from '../measurement/run.ts';
import { Sample } from '../measurement/sample.ts';
import { ChannelState, Reading } from '../measurement/state.ts';
import { Counters, ExcludedSpan, GapSpan, RunInfo, RunSummary, SettledSpan, ShownColumn } from './run-info.ts';

const nothing = z.strictObject({});
const runId = z.string().min(1).max(100);
const ofRun = z.strictObject({ runId });

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

const ScenarioInfo = z.object({ name: z.string(), title: z.string(), about: z.string() });

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

export const runCommands = {
  'source.list': {
    input: nothing,
    output: z.object({
      ports: z.array(PortInfo),
      scenarios: z.array(ScenarioInfo),
      shapes: z.array(z.string()),
      runs: z.array(RunSummary),
      recipes: z.array(z.string()),
    }),
  },
  'run.start': {
    input: z.strictObject({
      source: SourceChoice,
      recipe: z.union([z.string().max(200), LineRecipe]).optional(),
      fuelId: z.string().max(60).optional(),
      typedAirC: z.number().min(-60).max(80).optional(),
      setting: Setting.optional(),
      visitId: z.string().max(100).optional(),
    }),
    output: RunInfo,
  },
  /** after a crash: same run file, new segment with a gap */
  'run.continue': { input: ofRun, output: RunInfo },
  'run.end': { input: ofRun, output: nothing },
  'run.reconnect': { input: z.strictObject({ runId, path: z.string().min(1).max(400).optional() }), output: nothing },
  'run.mark': {
    input: z.strictObject({
      runId,
      body: MarkBody,
      timeMs: z.number().int().optional(),
      setsSimulator: z.boolean().optional(),
      /** the trial that was on screen when it was typed: refused where it would come to another one */
      trialId: z.string().max(200).optional(),
    }),
    output: Mark,
  },
  'run.editMark': { input: z.strictObject({ runId, edit: MarkEdit }), output: nothing },
  'run.takeReading': { input: ofRun, output: Reading },
  'run.typeValues': {
    input: z.strictObject({ runId, values: z.partialRecord(ChannelId, z.number()) }),
    output: nothing,
  },
  'run.change': {
    input: z.strictObject({
      runId,
      fuelId: z.string().max(60).optional(),
      /** null: from the fuel's analysis again */
      co2MaxPercent: z.number().min(5).max(25).nullable().optional(),
      typedAirC: z.number().min(-60).max(80).nullable().optional(),
    }),
    output: RunInfo,
  },
  'run.useRecipe': { input: z.strictObject({ runId, recipe: LineRecipe }), output: RunInfo },
  /** `command` is what the user has seen; the consent holds for this recipe at this device */
  'run.allowPolling': { input: z.strictObject({ runId, allowed: z.boolean(), command: z.string().min(1).max(200) }), output: RunInfo },
  /** what a person says about columns; those that are not named stay as the question showed them */
  'run.answerQuestion': {
    input: z.strictObject({
      runId,
      answers: z
        .array(z.strictObject({ at: FieldPlace, channel: z.union([ChannelId, z.literal('none')]), unit: SentUnit.optional() }))
        .max(512),
    }),
    output: RunInfo,
  },
  /** the figures were compared with the instrument's display; false goes to the table of columns, nothing is used */
  'run.compareDisplay': { input: z.strictObject({ runId, agrees: z.boolean() }), output: RunInfo },
  /** the recipe as it is used now, and those that were used before it */
  'run.recipe': {
    input: ofRun,
    output: z.object({
      recipe: LineRecipe.optional(),
      /** the evidence that it was learned from */
      columns: z.array(ShownColumn).optional(),
      earlier: z.array(LineRecipe),
      confirmed: z.object({ roomAir: z.boolean(), probe: z.boolean() }).optional(),
    }),
  },
  /** a stored run through another recipe; `keep` writes that into the run file, behind what was there */
  'run.reread': {
    input: z.strictObject({ runId, recipe: LineRecipe, keep: z.boolean() }),
    output: z.object({ before: RunStory, after: RunStory, kept: z.boolean() }),
  },
  /** listens at the usual speeds, one after the other; nothing is sent */
  'run.trySpeeds': { input: ofRun, output: RunInfo },
  'run.check': { input: z.strictObject({ runId, step: z.enum(['start', 'warm', 'stop']) }), output: RunInfo },
  'run.waveOff': {
    input: z.strictObject({ runId, notice: z.enum(['wrong-speed', 'stale', 'sentinel', 'reads-nothing', 'contradiction', 'clock-set']) }),
    output: RunInfo,
  },
  'run.history': {
    input: z.strictObject({
      runId,
      fromMs: z.number(),
      toMs: z.number(),
      buckets: z.number().int().min(10).max(4000),
      /** do not wait for a long stored run: what has been read of it, with its `progress`; reading goes on while it is asked for */
      partly: z.boolean().optional(),
    }),
    output: History,
  },
  'run.lines': {
    input: z.strictObject({ runId, count: z.number().int().min(1).max(500), watch: z.boolean() }),
    output: z.object({ lines: z.array(LineReport) }),
  },
  'run.export': {
    /** `jobId`: chosen by the window, to follow a long export and to stop it */
    input: z.strictObject({ runId, form: z.enum(['run', 'csv', 'json', 'text']), jobId: z.string().min(1).max(80).optional() }),
    output: z.object({ fileName: z.string(), download: z.string() }),
  },
  'run.stopExport': { input: z.strictObject({ jobId: z.string().min(1).max(80) }), output: nothing },
  'simulator.adjust': { input: z.strictObject({ runId, name: z.string().max(40), value: z.number() }), output: nothing },
  'simulator.part': {
    input: z.strictObject({
      runId,
      part: z.string().max(40),
      value: z.union([z.number(), z.boolean(), z.string().max(100)]),
      /** amounts move there over this time, s; at once without it */
      overS: z.number().min(0).max(3600).optional(),
    }),
    output: nothing,
  },
  /** how every part of the simulated burner stands now, whoever set it: the scenario, a visit, an instructor */
  'simulator.parts': {
    input: ofRun,
    output: z.object({
      amounts: z.record(z.enum(amountNames), z.number()),
      switches: z.record(z.enum(switchNames), z.boolean()),
      /** a gas by its name, 'probe' for the flue gas, 'other' for a gas without a name */
      inlet: z.string(),
    }),
  },
  /** what the smoke pump and the draft gauge would show now: the simulated burner only */
  'simulator.look': {
    input: ofRun,
    output: z.object({
      smoke: z.array(z.object({ number: z.number(), oilTrace: z.boolean() })),
      overFirePa: z.number(),
      breechPa: z.number(),
    }),
  },
  'replay.control': {
    input: z.strictObject({
      runId,
      playing: z.boolean().optional(),
      speed: z.number().min(0.1).max(1000).optional(),
      stepLines: z.number().int().min(1).max(1000).optional(),
      seekMs: z.number().optional(),
    }),
    output: nothing,
  },
  /** `shipped`: names that cannot be removed; `earlier`: the revisions before the ones in `recipes` */
  'recipe.list': {
    input: nothing,
    output: z.object({ recipes: z.array(LineRecipe), shipped: z.array(z.string()), earlier: z.array(LineRecipe) }),
  },
  'recipe.save': { input: z.strictObject({ recipe: LineRecipe }), output: z.object({ revision: z.number().int() }) },
  'recipe.remove': { input: z.strictObject({ name: z.string().max(200) }), output: nothing },
  'recipe.propose': {
    input: ofRun,
    output: z.object({
      proposals: z.array(
        z.object({
          recipe: LineRecipe,
          confidence: z.number(),
          reasons: z.array(z.string()),
          columns: z.array(ShownColumn),
          isOpen: z.boolean(),
        }),
      ),
      refusal: z.object({ trouble: z.enum(troubles), columns: z.array(ShownColumn), lines: z.number().int() }).optional(),
    }),
  },
  'recipe.preview': {
    input: z.strictObject({ runId, recipe: LineRecipe, count: z.number().int().min(1).max(200) }),
    output: z.object({ lines: z.array(LineReport), understood: z.number().int(), rejected: z.number().int() }),
  },
} as const;

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

export const runEvents = {
  'export.progress': ExportProgress,
  'live.batch': LiveBatch,
  'run.changed': RunInfo,
  'sources.changed': z.object({ ports: z.array(PortInfo) }),
  'lines.batch': z.object({ runId: z.string(), lines: z.array(LineReport), droppedCount: z.number().int() }),
} as const;

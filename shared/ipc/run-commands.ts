import { z } from 'zod';
import { amountNames, switchNames } from '../burner/parts.ts';
import { ChannelId } from '../measurement/channel-schema.ts';
import { Mark, MarkBody, MarkEdit, Setting } from '../measurement/mark.ts';
import { channelRange, markRange, withinRange } from '../measurement/typed-range.ts';
import { troubles } from '../lines/learning/evidence.ts';
import { FieldPlace, LineRecipe } from '../measurement/recipe.ts';
import { SentUnit } from '../measurement/sent-unit.ts';
import { Reading } from '../measurement/state.ts';
import { RunInfo, RunSummary, ShownColumn } from './run-info.ts';
import { PortInfo, SourceChoice, History, LineReport, RunStory, LiveBatch, ExportProgress, runId, ScenarioInfo } from './run-documents.ts';

const nothing = z.strictObject({});
const ofRun = z.strictObject({ runId });

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
      setting: Setting.superRefine(withinRange(markRange)).optional(),
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
      body: MarkBody.superRefine(withinRange(markRange)),
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
    input: z.strictObject({ runId, values: z.partialRecord(ChannelId, z.number()).superRefine(withinRange(channelRange)) }),
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

export const runEvents = {
  'export.progress': ExportProgress,
  'live.batch': LiveBatch,
  'run.changed': RunInfo,
  'sources.changed': z.object({ ports: z.array(PortInfo) }),
  'lines.batch': z.object({ runId: z.string(), lines: z.array(LineReport), droppedCount: z.number().int() }),
} as const;

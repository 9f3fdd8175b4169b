/** A bench test as it is kept: what was agreed at the start, and what every closed step gave. Nothing in it is computed from limits. */
import { z } from 'zod';
import { WallMs, ZoneMinutes } from '../wall-clock.ts';
import { BenchChannel, Instrument, ReferenceGas } from './instrument.ts';
import { BenchLimits } from './limits.ts';
import { BenchPlan, GasSlot } from './plan.ts';

const Timed = z.strictObject({ value: z.number(), expanded: z.number() });
const StoredResponse = z.strictObject({
  dead: Timed,
  tau: Timed,
  t10: Timed,
  t90: Timed,
  rise: Timed,
  from: z.number(),
  plateau: Timed,
  firstOrder: z.boolean(),
});
const StoredPlateau = z.strictObject({
  mean: z.number(),
  sd: z.number(),
  n: z.number(),
  nEff: z.number(),
  u: z.number(),
  fromS: z.number(),
  toS: z.number(),
});
const perChannel = <T extends z.ZodType>(schema: T) => z.partialRecord(BenchChannel, schema);

/** One gas at the inlet once. Times in ms since the start of the test. */
export const StoredApplication = z.strictObject({
  markMs: z.number().optional(),
  fromMs: z.number(),
  toMs: z.number(),
  channels: perChannel(z.strictObject({ plateau: StoredPlateau, response: StoredResponse.optional(), resolution: z.number() })),
});
export type StoredApplication = z.infer<typeof StoredApplication>;

const stepEnds = ['reached', 'not-reached', 'left-out'] as const;
export const DoneStep = z.strictObject({
  stepId: z.string().max(40),
  end: z.enum(stepEnds),
  /** typed, or a sentence of the program */
  why: z.string().max(500).optional(),
  atMs: z.number(),
  application: StoredApplication.optional(),
  /** the way there: [s after the switch, value] */
  curve: perChannel(z.array(z.tuple([z.number(), z.number()])).max(200)).optional(),
  /** lines were missing on the way: no response time was taken, and the curve has the hole */
  linesMissing: z.array(BenchChannel).max(6).optional(),
  /** repeatability: single readings */
  readings: perChannel(z.array(z.number()).max(50)).optional(),
  /** noise: averaging time, s, and Allan deviation */
  noise: perChannel(z.array(z.strictObject({ averagingS: z.number(), deviation: z.number(), pairs: z.number() })).max(40)).optional(),
  /** warm-up: what was read so many minutes after the start of the step */
  warmUp: z
    .array(z.strictObject({ afterMin: z.number(), values: perChannel(z.number()) }))
    .max(20)
    .optional(),
  /** channels that gave no value: over range, error words */
  absent: z.array(BenchChannel).max(6).optional(),
});
export type DoneStep = z.infer<typeof DoneStep>;

const roundKinds = ['as-found', 'as-left'] as const;
export const Round = z.strictObject({
  kind: z.enum(roundKinds),
  startedMs: z.number(),
  steps: z.array(DoneStep).max(80),
});
export type Round = z.infer<typeof Round>;

export const GasUse = z.strictObject({
  slot: GasSlot,
  gas: ReferenceGas,
  /** why it was used although it is expired, nearly empty or uncertain */
  reason: z.string().min(3).max(300).optional(),
});
export type GasUse = z.infer<typeof GasUse>;

/** The room that fresh air is taken from. `dried`: the sample passes a cooler or drying tube before the cells. */
export const Room = z.strictObject({
  airC: z.number().min(-30).max(60).optional(),
  relativeHumidityPercent: z.number().min(0).max(100).optional(),
  pressurePa: z.number().min(50_000).max(110_000).optional(),
  dried: z.boolean(),
  place: z.string().max(200).optional(),
});
export type Room = z.infer<typeof Room>;

export const BenchTest = z.strictObject({
  format: z.literal(1),
  /** tests that ran side by side share it */
  session: z.string().min(1).max(60),
  startedWallMs: WallMs,
  zoneMinutes: ZoneMinutes,
  endedWallMs: WallMs.optional(),
  status: z.enum(['open', 'done']),
  watermark: z.enum(['simulated', 'replayed']).optional(),
  instrumentId: z.string().max(100),
  instrument: Instrument,
  plan: BenchPlan,
  gases: z.array(GasUse).max(8),
  room: Room,
  bench: z.string().max(200).optional(),
  person: z.string().max(120).optional(),
  /** limits with the decision rule that a person chose; without them nothing is judged */
  limits: BenchLimits.optional(),
  rounds: z.array(Round).min(1).max(20),
  /** what was adjusted between as-found and as-left */
  adjustment: z.string().max(1000).optional(),
  /** when the gas of the open step was switched: run time, ms */
  mark: z.strictObject({ stepId: z.string().max(40), runId: z.string().max(100), timeMs: z.number() }).optional(),
  runId: z.string().max(100),
  /** `hash`: SHA-256 over the test as it was signed, hexadecimal; tests of earlier versions have none */
  signature: z
    .strictObject({
      name: z.string().min(1).max(120),
      wallMs: WallMs,
      hash: z
        .string()
        .regex(/^[0-9a-f]{64}$/)
        .optional(),
    })
    .optional(),
});
export type BenchTest = z.infer<typeof BenchTest>;

/** What the hash of a signature is taken over: everything but the signature, in the order of the schema. */
export function signedText(test: BenchTest): string {
  const { signature: _, ...signed } = BenchTest.parse(test);
  return JSON.stringify(signed);
}

export const lastRound = ({ rounds }: BenchTest): Round => rounds[rounds.length - 1] as Round;
/** Where the plan goes on: the first step of the running round that is not closed. */
export const nextStepIndex = (test: BenchTest): number => lastRound(test).steps.length;

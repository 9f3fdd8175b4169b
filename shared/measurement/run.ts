import { z } from 'zod';
import '../zod-setup.ts';
import { WallMs, ZoneMinutes } from '../wall-clock.ts';
import { GeometryLeft } from './geometry-left.ts';
import { SettlingKnowledge } from './knowledge.ts';
import { StoredBands, StoredTolerances } from './limits.ts';
import { LineRecipe } from './recipe.ts';
import type { Mark, MarkEdit } from './mark.ts';
import { Setting } from './mark.ts';

/** Serial framing as the user chooses it; the recipe brings defaults. */
export const SerialSettings = z.object({
  baud: z.number().int().min(50).max(4_000_000).default(9600),
  dataBits: z.union([z.literal(5), z.literal(6), z.literal(7), z.literal(8)]).default(8),
  parity: z.enum(['none', 'even', 'odd', 'mark', 'space']).default('none'),
  stopBits: z.union([z.literal(1), z.literal(1.5), z.literal(2)]).default(1),
  flow: z.enum(['none', 'xon-xoff', 'rts-cts']).default('none'),
  dtr: z.boolean().default(true),
  rts: z.boolean().default(true),
  /** false keeps DTR up when the port is closed, so that some instruments do not restart */
  hangUpOnClose: z.boolean().default(true),
});
export type SerialSettings = z.infer<typeof SerialSettings>;

/** What makes a device the same one after it was unplugged. */
export const DeviceIdentity = z.object({
  vendorId: z.string().optional(),
  productId: z.string().optional(),
  serialNumber: z.string().optional(),
  location: z.string().optional(),
});
export type DeviceIdentity = z.infer<typeof DeviceIdentity>;

/** Where the lines of a run come from, as it stands in the run file's first line. */
export const SourceInfo = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('serial'),
    path: z.string().max(400),
    label: z.string().max(200),
    settings: SerialSettings,
    device: DeviceIdentity.optional(),
  }),
  z.object({
    kind: z.literal('simulated'),
    scenario: z.string().max(100),
    title: z.string().max(200),
    seed: z.number().int(),
    shape: z.string().max(40),
    ratePerSecond: z.number().optional(),
    geometry: GeometryLeft.optional(),
  }),
  z.object({
    kind: z.literal('replay'),
    runId: z.string().max(100),
    label: z.string().max(200),
    of: z.enum(['serial', 'simulated', 'typed', 'text']),
  }),
  z.object({ kind: z.literal('typed') }),
]);
export type SourceInfo = z.infer<typeof SourceInfo>;

export const RUN_FORMAT = 'flueside-run';
/** 2: the settling limits are spelled as the settings spell them */
export const RUN_VERSION = 2;

/** Settling limits, tolerances and mode as they stood when the run began, so that re-reading it later gives the same figures. */
export const MeasuredWith = z.object({
  bands: StoredBands,
  tolerances: StoredTolerances,
  mode: z.enum(['own', 'field', 'lab']),
});
export type MeasuredWith = z.infer<typeof MeasuredWith>;

/** First line of a run file. Wall-clock time with zone; everything after counts milliseconds from here. */
export const RunHeader = z.object({
  format: z.literal(RUN_FORMAT),
  version: z.number().int(),
  runId: z.string(),
  startWallMs: WallMs,
  zoneMinutes: ZoneMinutes,
  source: SourceInfo,
  recipe: LineRecipe.optional(),
  fuelId: z.string(),
  /** CO2max that a person set for this fuel, %vol dry; absent: from the fuel's analysis */
  co2MaxPercent: z.number().optional(),
  typedAirC: z.number().optional(),
  setting: Setting.optional(),
  visitId: z.string().optional(),
  /** files of earlier versions have none: they are read with the settings of the day */
  measuredWith: MeasuredWith.optional(),
  /** what earlier runs had taught of the appliance when this one began: re-reading it gives the same readings */
  known: SettlingKnowledge.optional(),
  appVersion: z.string(),
});
export type RunHeader = z.infer<typeof RunHeader>;

/** A change of how the lines are understood, kept in the run so that re-reading gives the same figures. */
export const RunChange = z.object({
  recipe: LineRecipe.optional(),
  fuelId: z.string().optional(),
  /** null: from the fuel's analysis again, as with another fuel */
  co2MaxPercent: z.number().nullable().optional(),
  /** null takes a typed air temperature back */
  typedAirC: z.number().nullable().optional(),
  /** the whole run was read anew with this recipe; what the lines gave before stays in the file's story */
  rereads: z.boolean().optional(),
  /** the recipe's columns were confirmed by what the person did */
  confirmed: z.object({ roomAir: z.boolean(), probe: z.boolean() }).optional(),
});
export type RunChange = z.infer<typeof RunChange>;

/** Two clocks side by side, every 10 s and at resume. */
export const ClockEntry = z.object({ monotonicMs: z.number(), wallMs: WallMs, zoneMinutes: ZoneMinutes });
export type ClockEntry = z.infer<typeof ClockEntry>;

export const gapReasons = ['unplugged', 'suspended', 'clock-set', 'restarted', 'paused'] as const;
export const GapEntry = z.object({ reason: z.enum(gapReasons), fromMs: z.number() });
export type GapEntry = z.infer<typeof GapEntry>;

/** Answers of a polled instrument that are kept and not used: late, the same twice, or to no question. */
export const unusedWhys = ['late', 'double', 'unasked'] as const;
export type UnusedWhy = (typeof unusedWhys)[number];

/** Everything that may follow the header: `timeMs TAB kind TAB payload`. */
export type RunEntry =
  | { kind: 'line'; timeMs: number; bytes: string; cutBytes?: number | undefined; unused?: UnusedWhy | undefined }
  | { kind: 'mark'; timeMs: number; mark: Mark }
  | { kind: 'edit'; timeMs: number; edit: MarkEdit }
  | { kind: 'change'; timeMs: number; change: RunChange }
  /** the person took the reading now; what it says follows from the lines */
  | { kind: 'take'; timeMs: number; readingId: string }
  | { kind: 'gap'; timeMs: number; gap: GapEntry }
  | { kind: 'clock'; timeMs: number; clock: ClockEntry }
  | { kind: 'end'; timeMs: number };

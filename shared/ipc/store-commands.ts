import { ApplianceKnowledge } from '../measurement/knowledge.ts';
import { z } from 'zod';
import { WallMs, ZoneMinutes } from '../wall-clock.ts';
import { CallResult, ExerciseSet } from '../warm-up/call-it.ts';
import { WarmUpCurve } from '../warm-up/curve.ts';
import { checkCard, FiguresCard } from '../geometry/figures-card.ts';
import { BenchTest } from '../bench/bench-test.ts';
import { Instrument, ReferenceGas } from '../bench/instrument.ts';
import { BenchLimits } from '../bench/limits.ts';
import { BenchPlan } from '../bench/plan.ts';
import { Appliance } from '../tuning/visit/appliance.ts';
import { ApplianceEdit } from '../tuning/visit/appliance-edits.ts';
import { TargetCard } from '../tuning/card/target-card.ts';
import { Edit, Visit } from '../tuning/visit/visit.ts';
import { ipcTexts } from '../words/core/ipc.ts';

const nothing = z.strictObject({});
const id = z.string().min(1).max(100);
const byId = z.strictObject({ id });
const page = {
  search: z.string().max(200).default(''),
  limit: z.number().int().min(1).max(500).default(100),
  offset: z.number().int().min(0).default(0),
};

/** due: soonest first, without a date last */
export const applianceSorts = ['changed', 'due', 'name'] as const;

const visitStatuses = ['open', 'training', 'signed'] as const;

/** One line of a list; the figures are those of the as-left trial, absent where there is none. */
export const VisitSummary = z.object({
  id: z.string(),
  number: z.number().int(),
  kind: z.enum(['service', 'training']),
  status: z.enum(visitStatuses),
  startedWallMs: WallMs,
  zoneMinutes: ZoneMinutes,
  applianceId: z.string().optional(),
  applianceName: z.string().optional(),
  technician: z.string().optional(),
  watermarked: z.boolean(),
  trials: z.number().int(),
  o2Percent: z.number().optional(),
  coPpm: z.number().optional(),
  stackC: z.number().optional(),
});
export type VisitSummary = z.infer<typeof VisitSummary>;

/** `altered`: signed, and no longer what was signed */
export const StoredVisit = z.object({
  visit: Visit,
  revision: z.number().int(),
  altered: z.boolean().optional(),
  /** until when the certificate of the instrument it names is good, where that instrument is in the records */
  certificateUntil: z.string().optional(),
});
export type StoredVisit = z.infer<typeof StoredVisit>;
export const StoredAppliance = z.object({
  id: z.string(),
  appliance: Appliance,
  revision: z.number().int(),
  visits: z.number().int(),
  lastVisitWallMs: WallMs.optional(),
  /** of the clock at that visit, minutes east of UTC */
  lastVisitZoneMinutes: z.number().optional(),
});
export type StoredAppliance = z.infer<typeof StoredAppliance>;

/** More than anybody reads; each may hold notes twice. */
export const APPLIANCE_EDITS_SHOWN = 200;

/** Documents that are kept as they are: kind -> schema. */
export const documentKinds = {
  'target-card': TargetCard,
  /** a card that contradicts itself is not saved */
  'figures-card': FiguresCard.refine((card) => checkCard(card).length === 0, ipcTexts.cardContradicts),
  instrument: Instrument,
  gas: ReferenceGas,
  'bench-plan': BenchPlan,
  'bench-limits': BenchLimits,
  'bench-test': BenchTest,
  curve: WarmUpCurve,
  exercises: ExerciseSet,
  call: CallResult,
  knowledge: ApplianceKnowledge,
} as const satisfies Record<string, z.ZodType>;
export type DocumentKind = keyof typeof documentKinds;
const documentKindNames = Object.keys(documentKinds) as [DocumentKind, ...DocumentKind[]];
const kind = z.enum(documentKindNames);
/** the body is checked against its kind's schema in main; here it only has to be JSON. `altered`: it is signed, and no longer what was signed */
const StoredDocument = z.object({
  id: z.string(),
  revision: z.number().int(),
  changedMs: z.number(),
  body: z.json(),
  altered: z.boolean().optional(),
});

export const Download = z.object({ fileName: z.string(), download: z.string() });

/** An earlier state of the records that lies in the data folder. */
export const StoredCopy = z.object({
  name: z.string(),
  kind: z.enum(['backup', 'before-restore', 'before-update', 'damaged']),
  bytes: z.number(),
  madeWallMs: WallMs,
});
export type StoredCopy = z.infer<typeof StoredCopy>;

export const storeCommands = {
  /** `today`: a day of the calendar; with it, how many of all that are found were due before it */
  'appliance.list': {
    input: z.strictObject({ ...page, sort: z.enum(applianceSorts).optional(), today: z.iso.date().optional() }),
    output: z.object({ appliances: z.array(StoredAppliance), total: z.number().int(), overdue: z.number().int() }),
  },
  /** `edits`: the newest ones, the oldest of them first; `earlierEdits`: how many more are kept. Lists go without */
  'appliance.get': {
    input: byId,
    output: z.object({
      stored: StoredAppliance,
      edits: z.array(ApplianceEdit).max(APPLIANCE_EDITS_SHOWN),
      earlierEdits: z.number().int(),
      visits: z.array(VisitSummary),
    }),
  },
  'appliance.save': {
    input: z.strictObject({ id: id.optional(), revision: z.number().int().optional(), appliance: Appliance }),
    output: StoredAppliance,
  },
  /** `stillIn`: numbers of signed visits whose text names the person; what was signed is not changed */
  'appliance.remove': {
    input: z.strictObject({ id, how: z.enum(['pseudonymise', 'delete']) }),
    output: z.object({ stillIn: z.array(z.number().int()) }),
  },
  'visit.list': {
    input: z.strictObject({ ...page, applianceId: id.optional() }),
    output: z.object({ visits: z.array(VisitSummary), total: z.number().int() }),
  },
  'visit.create': {
    input: z.strictObject({ kind: z.enum(['service', 'training']), applianceId: id.optional(), fuelId: z.string().max(60).optional() }),
    output: StoredVisit,
  },
  'visit.get': { input: byId, output: StoredVisit },
  'visit.edit': {
    input: z.strictObject({
      id,
      changes: z
        .array(z.strictObject({ path: Edit.shape.path, after: z.json().optional() }))
        .min(1)
        .max(50),
      reason: z.string().max(500).optional(),
    }),
    output: StoredVisit,
  },
  'visit.sign': { input: z.strictObject({ id, name: z.string().min(1).max(120) }), output: StoredVisit },
  'visit.close': { input: byId, output: StoredVisit },
  'visit.remove': { input: byId, output: nothing },
  'document.list': {
    input: z.strictObject({ kind, parentId: id.optional(), ...page }),
    output: z.object({ documents: z.array(StoredDocument), unreadable: z.number().int() }),
  },
  'document.get': { input: z.strictObject({ kind, id }), output: StoredDocument },
  'document.save': {
    input: z.strictObject({ kind, id: id.optional(), parentId: id.optional(), revision: z.number().int().optional(), body: z.json() }),
    output: StoredDocument,
  },
  'document.remove': { input: z.strictObject({ kind, id }), output: nothing },
  'copies.list': { input: nothing, output: z.object({ copies: z.array(StoredCopy) }) },
  'copies.remove': { input: z.strictObject({ name: z.string().min(1).max(200) }), output: nothing },
  'backup.make': { input: nothing, output: Download },
  'backup.restore': {
    // a file that was handed in, or a backup of the data folder by its name
    input: z.union([z.strictObject({ upload: z.string().max(200) }), z.strictObject({ copy: z.string().min(1).max(200) })]),
    output: z.object({ files: z.number().int(), kept: z.string() }),
  },
} as const;

export const storeEvents = {
  'visit.changed': StoredVisit,
  /** lists have to be read again */
  'records.changed': z.object({ what: z.enum(['visits', 'appliances', 'documents', 'all']) }),
} as const;

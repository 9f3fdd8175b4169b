import { z } from 'zod';
import { WallMs, ZoneMinutes } from '../../wall-clock.ts';
import { Setting } from '../../measurement/mark.ts';
import { StoredTolerances } from '../../measurement/limits.ts';
import { problem, type Problem } from '../../problem.ts';
import { err, ok, type Result } from '../../result.ts';
import { Adjuster } from '../trial/adjuster.ts';
import { ApplianceSigned } from './appliance.ts';
import { isForbidden, setAt, valueAt, withoutAppend, type Json } from './at-path.ts';
import { CautionKey, FlueCoLimits } from '../advice/cautions-schema.ts';
import { Papers } from './papers.ts';
import { SetUpSheet } from '../set-up/set-up-sheet.ts';
import { Change } from './staleness.ts';
import { jobs, stepIds } from './step-names.ts';
import { TargetCard } from '../card/target-card.ts';
import { Control } from '../safety/timed-test.ts';
import { Trial } from '../trial/trial.ts';
import { Venting } from '../safety/venting.ts';
import { typedRefusal } from '../typed/typed-refusal.ts';
import { inFormat2 } from './visit-format.ts';
import { Defect, OwnerTold, WarmUp, WorkItem } from './work-done.ts';
import { SafetyResult, Bypass } from '../safety/safety-result.ts';
import { ProbeSmoke } from '../trial/probe-smoke.ts';
import { plainRefusal } from '../../plain-refusal.ts';
import { tuningTexts } from '../../words/core/tuning.ts';
import { defined } from '../../defined.ts';

export const Person = z.object({
  role: z.enum(['technician', 'apprentice', 'witness', 'occupant']),
  name: z.string().min(1).max(120),
  licence: z.string().max(80).optional(),
});

/** Adjusters or pump marked at something else while a run was measured. */
export const BurnerMove = z.object({ wallMs: WallMs, setting: Setting.optional(), pumpPa: z.number().optional() });
export type BurnerMove = z.infer<typeof BurnerMove>;

/** `simulated` and `replay` watermark the visit; `typed` is an instrument without a port. */
export const VisitRun = z.object({
  id: z.string(),
  startWallMs: WallMs,
  source: z.enum(['port', 'simulated', 'replay', 'typed']),
  hash: z.string().optional(),
  /** in time order, as the marks stand now; visits of earlier versions have none */
  moves: z.array(BurnerMove).max(500).optional(),
});

/** One stage of the burner: its own as-found, curve and as-left. */
export const StageRecord = z.object({
  name: z.string().min(1).max(40),
  asFoundTrialId: z.string().optional(),
  asFoundSkippedReason: z.string().max(300).optional(),
  /** taken back or chosen by a person: no reading becomes as-found by itself */
  asFoundByHand: z.boolean().optional(),
  reserveCo2Points: z.number().min(0.5).max(2).optional(),
  asLeftTrialId: z.string().optional(),
  /** read again after the screws were tightened */
  echoTrialId: z.string().optional(),
  echoByHand: z.boolean().optional(),
  /** left without a smoke number, or below the reserve: why */
  asLeftReason: z.string().max(300).optional(),
});
export type StageRecord = z.infer<typeof StageRecord>;

/** Left off, tagged, and who was told: what signing asks for when the burner is not safe to leave running. */
export const NotLeftRunning = z.object({
  wallMs: WallMs,
  leftOff: z.boolean(),
  redTagged: z.boolean(),
  ownerTold: z.string().min(1).max(120),
});
export type NotLeftRunning = z.infer<typeof NotLeftRunning>;

/** Values are JSON; `path` names the field. Before signing an edit changes the visit; after it, it stands beside the visit. */
export const Edit = z.object({
  wallMs: WallMs,
  by: z.string().min(1).max(120),
  path: z
    .array(z.union([z.string(), z.number()]))
    .min(1)
    .max(8),
  before: z.json().optional(),
  after: z.json().optional(),
  reason: z.string().max(500).optional(),
});
export type Edit = z.infer<typeof Edit>;

/** The instrument as its own document had it on the day of signing: a later calibration, or its removal, changes nothing of what was signed. */
export const InstrumentSigned = z.strictObject({
  name: z.string().max(120),
  serial: z.string().max(80).optional(),
  certificateUntil: z.iso.date().optional(),
});
export type InstrumentSigned = z.infer<typeof InstrumentSigned>;

/** `editsBefore`: how many edits the signed body already holds; later ones are corrections. */
export const Signature = z.object({
  name: z.string().min(1).max(120),
  wallMs: WallMs,
  hash: z.string().min(1),
  editsBefore: z.number().int().nonnegative(),
  /** signed by an earlier version: the hash is that of the visit in that format */
  format: z.literal(1).optional(),
});

/** One service call at one appliance. All quantities in inner units (degC, Pa, mm, L/h, %vol dry, ppm dry, s); absent is absent. */
const VisitBody = z.strictObject({
  format: z.literal(2),
  id: z.string().min(1),
  number: z.number().int().positive(),
  kind: z.enum(['service', 'training']),
  /** what the visit is for: the order of its steps. Visits of earlier versions do not say */
  job: z.enum(jobs).optional(),
  startedWallMs: WallMs,
  zoneMinutes: ZoneMinutes,
  endedWallMs: WallMs.optional(),
  applianceId: z.string().optional(),
  /** of the instrument's own document; only where it is known which one was meant */
  instrumentId: z.string().optional(),
  /** as it was typed */
  instrumentName: z.string().optional(),
  /** put in by the host when it is signed; visits of earlier versions have none */
  instrumentSigned: InstrumentSigned.optional(),
  /** as `instrumentSigned` */
  applianceSigned: ApplianceSigned.optional(),
  fuelId: z.string().optional(),
  /** set for this fuel on this visit, %vol dry; absent: from the fuel's analysis */
  co2MaxPercent: z.number().min(5).max(25).optional(),
  unitPreset: z.enum(['metric', 'us']),
  smokeRule: z.enum(['mean-of-three-whole', 'mean-to-half', 'single-spot', 'worst-spot']),
  draftHabit: z.enum(['minus', 'plain', 'unknown']),
  pressurised: z.boolean(),
  people: z.array(Person).max(12),
  runs: z.array(VisitRun).max(64),
  setUp: SetUpSheet,
  adjusters: z.array(Adjuster).max(12),
  /** what the last visit left, typed from a paper: for a first visit here */
  papers: Papers.optional(),
  /** where the adjusters stood when the technician came */
  settingFound: Setting.optional(),
  stages: z.array(StageRecord).min(1).max(4),
  trials: z.array(Trial).max(500),
  /** drafts measured apart from a trial, and what was changed that moves everything else */
  drafts: z
    .array(
      z.object({
        wallMs: WallMs,
        overFirePa: z.number().optional(),
        breechPa: z.number().optional(),
        when: z.enum(['as-found', 'set', 'as-left']),
      }),
    )
    .max(100),
  changes: z.array(Change).max(200),
  warmUp: WarmUp.optional(),
  /** spots that were taken before the probe went in */
  probeSmoke: z.array(ProbeSmoke).max(40).optional(),
  /** air for combustion and venting, with the worst-case test */
  venting: Venting.optional(),
  work: z.array(WorkItem).max(100).optional(),
  /** left as they are, and how heavy each one is */
  defects: z.array(Defect).max(50).optional(),
  ownerTold: OwnerTold.optional(),
  nextDue: z.iso.date().optional(),
  /** where and when the instrument was last zeroed */
  zeroed: z.object({ wallMs: WallMs, place: z.enum(['outdoors', 'indoors', 'unknown']) }).optional(),
  roomCo: z.array(z.object({ wallMs: WallMs, ppm: z.number(), place: z.string().max(80).optional() })).max(100),
  airTypedC: z.number().optional(),
  /** of the instrument, as the settings had them; visits of earlier versions have none */
  tolerances: StoredTolerances.optional(),
  annualFuelGal: z.number().positive().optional(),
  targetCard: TargetCard.optional(),
  /** said on purpose: this visit is judged without limits */
  withoutCard: z.boolean().optional(),
  flueCoLimits: FlueCoLimits.optional(),
  /** O2 below which nothing is aimed at, when the technician set it otherwise */
  o2FloorPercent: z.number().min(0.5).max(15).optional(),
  flame: z.enum(['yellow', 'blue']).optional(),
  /** the times on the burner's control */
  control: Control.optional(),
  /** what oil on the paper came from, as found */
  oilCauses: z
    .array(z.object({ wallMs: WallMs, text: z.string().min(1).max(500) }))
    .max(20)
    .optional(),
  /** what was done with a burner that is not safe to leave running; without it such a visit cannot be signed */
  notLeftRunning: NotLeftRunning.optional(),
  safety: z.array(SafetyResult).max(60),
  bypasses: z.array(Bypass).max(40),
  cautions: z.array(z.object({ key: CautionKey, wallMs: WallMs })).max(100),
  notes: z.array(z.object({ wallMs: WallMs, text: z.string().max(2000) })).max(500),
  /** the step in front of the person, so that an interrupted visit goes on there */
  at: z.object({ step: z.enum(stepIds), stage: z.string().max(40) }).optional(),
  edits: z.array(Edit),
  signature: Signature.optional(),
});
/** Visits of earlier versions are read as well. */
export const Visit = z.preprocess(inFormat2, VisitBody);
export type Visit = z.infer<typeof Visit>;

export type NewVisit = Pick<Visit, 'id' | 'number' | 'kind' | 'startedWallMs' | 'zoneMinutes' | 'unitPreset' | 'adjusters'>;

export const newVisit = (parts: NewVisit): Visit => ({
  format: 2,
  ...parts,
  smokeRule: 'worst-spot',
  draftHabit: 'unknown',
  pressurised: false,
  people: [],
  runs: [],
  setUp: { lengthUnit: parts.unitPreset === 'us' ? 'inch' : 'mm', rows: {} },
  stages: [{ name: '1' }],
  trials: [],
  drafts: [],
  changes: [],
  roomCo: [],
  safety: [],
  bypasses: [],
  cautions: [],
  notes: [],
  edits: [],
});

const ownedByHost = new Set(['edits', 'signature', 'id', 'number', 'format', 'instrumentSigned', 'applianceSigned']);

export type EditRequest = Omit<Edit, 'before'>;

/**
 * One change of one field, kept with what stood before. `after` undefined takes the field away. A signed visit keeps its signed body:
 * a correction needs a reason and is read through `withCorrections`. Lists that only grow (marks, notes) are appended to with path [..., '-'] or
 * [..., length]; a place that is not there is refused.
 */
export function editVisit(visit: Visit, request: EditRequest): Result<Visit, Problem> {
  const [top] = request.path;
  if (isForbidden(request.path)) return err(problem('request-invalid', tuningTexts.noSuchField));
  if (ownedByHost.has(String(top))) return err(problem('request-invalid', String(top)));
  const signed = visit.signature !== undefined;
  if (signed && (request.reason ?? '').trim().length < 3) return err(problem('visit-signed'));
  const shown = withCorrections(visit);
  const body = shown as unknown as Json;
  const path = withoutAppend(body, request.path);
  const before = valueAt(body, path);
  const edit: Edit = { ...request, path, ...defined({ before }) };
  const next = withEdit(body, { path, ...defined({ after: request.after }) });
  if (next === undefined) return err(problem('not-found', tuningTexts.nothingToChange(path.join(' '))));
  const why = typedRefusal(body, path, request.after, next);
  if (why !== undefined) return err(problem('value-out-of-range', why));
  const changed = Visit.safeParse(next);
  if (!changed.success) return err(problem('value-out-of-range', plainRefusal(changed.error)));
  return ok({ ...(signed ? visit : changed.data), edits: [...visit.edits, edit] });
}

/**
 * Another name is another instrument, another appliance another machine: what was kept of the one before never stands beside it. Nor does a CO2max
 * beside a fuel it was not set for.
 */
function withEdit(body: Json, { path, after }: Pick<Edit, 'path' | 'after'>): Json | undefined {
  const next = setAt(body, path, after);
  if (next === undefined) return undefined;
  if (path[0] === 'instrumentName') return withoutFields(next, 'instrumentId', 'instrumentSigned');
  if (path[0] === 'applianceId') return withoutFields(next, 'applianceSigned');
  return path[0] === 'fuelId' && after !== valueAt(body, path) ? setAt(next, ['co2MaxPercent'], undefined) : next;
}

const withoutFields = (body: Json, ...fields: readonly string[]): Json | undefined =>
  fields.reduce<Json | undefined>((left, field) => left && setAt(left, [field], undefined), body);

/** The visit as it reads now: the signed body with the corrections made since. */
export function withCorrections(visit: Visit): Visit {
  const { signature } = visit;
  if (!signature) return visit;
  const later = visit.edits.slice(signature.editsBefore);
  if (later.length === 0) return visit;
  const read = Visit.safeParse(later.reduce<Json>((body, edit) => withEdit(body, edit) ?? body, visit as unknown as Json));
  return read.success ? { ...read.data, edits: visit.edits } : visit;
}

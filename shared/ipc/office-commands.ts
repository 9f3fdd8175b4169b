/** The office of a workshop: whether it is there, what waits for it, what it knows. */
import { z } from 'zod';
import { Problem } from '../problem-schema.ts';
import { WallMs } from '../wall-clock.ts';

const nothing = z.strictObject({});
const id = z.string().min(1).max(100);

export const officeKinds = ['none', 'folder', 'postgres'] as const;
/** Without an office nothing leaves this computer. The password is not in it. */
export const OfficeChoice = z.object({
  kind: z.enum(officeKinds).default('none'),
  folder: z.string().max(1000).default(''),
  host: z.string().max(255).default(''),
  port: z.number().int().min(1).max(65_535).default(5432),
  database: z.string().max(63).default('flueside'),
  user: z.string().max(63).default(''),
  /** a file with the certificate that the server's own is checked against; empty: those that the system trusts */
  certificateFile: z.string().max(1000).default(''),
  /** only for a server on this same computer */
  withoutTls: z.boolean().default(false),
  /** everything that is in the office is taken, not only what is looked for */
  takesAll: z.boolean().default(false),
});
export type OfficeChoice = z.infer<typeof OfficeChoice>;

/** An appliance as the office lists it. */
export const FoundAppliance = z.object({
  applianceId: z.string(),
  name: z.string(),
  place: z.string(),
  owner: z.string(),
  serial: z.string(),
  due: z.string().optional(),
  visits: z.number().int(),
  lastVisitWallMs: WallMs.optional(),
});
export type FoundAppliance = z.infer<typeof FoundAppliance>;

const officePhases = ['off', 'asks-password', 'waiting', 'busy', 'ready', 'failed'] as const;
export const OfficeState = z.object({
  kind: z.enum(officeKinds),
  phase: z.enum(officePhases),
  /** what still has to be sent */
  queued: z.number().int(),
  /** what could not be merged and waits for a person */
  conflicts: z.number().int(),
  lastWallMs: WallMs.optional(),
  problem: Problem.optional(),
  /** how far the office's clock is ahead, when it is far off */
  clockAheadMs: z.number().optional(),
  /** items in the office that were left out */
  wrong: z.number().int(),
  keepsPassword: z.boolean(),
});
export type OfficeState = z.infer<typeof OfficeState>;

/** What differs between this laptop and the office. `field` is a path in it, or empty for the whole. */
export const OfficeConflict = z.object({
  key: z.string(),
  kind: z.string(),
  id: z.string(),
  /** of the appliance or document that it is about; empty where there is none now */
  name: z.string(),
  field: z.string(),
  here: z.string(),
  there: z.string(),
  taken: z.enum(['here', 'there', 'none']),
  foundWallMs: WallMs,
  /** the other one can be taken now */
  canTake: z.boolean(),
});
export type OfficeConflict = z.infer<typeof OfficeConflict>;

export const officeCommands = {
  'office.state': { input: nothing, output: OfficeState },
  /** tries what is given, or what is set; nothing is sent */
  'office.test': {
    input: z.strictObject({ choice: OfficeChoice.optional(), password: z.string().max(500).optional() }),
    output: z.object({ name: z.string(), items: z.number().int(), clockAheadMs: z.number().optional() }),
  },
  /** for this session, or in the system's keychain where there is one */
  'office.password': { input: z.strictObject({ password: z.string().max(500) }), output: z.object({ kept: z.boolean() }) },
  /** sends what waits and takes what is new, now */
  'office.sync': { input: nothing, output: OfficeState },
  /** brings what the office knows of one appliance */
  'office.fetch': {
    input: z.strictObject({ applianceId: id }),
    output: z.object({ visits: z.number().int(), lastVisitWallMs: WallMs.optional(), isHere: z.boolean() }),
  },
  'office.search': {
    input: z.strictObject({
      words: z.string().max(200),
      dueBefore: z.iso.date().optional(),
      limit: z.number().int().min(1).max(100).default(50),
    }),
    output: z.object({ found: z.array(FoundAppliance.extend({ isHere: z.boolean() })) }),
  },
  'office.conflicts': { input: nothing, output: z.object({ conflicts: z.array(OfficeConflict) }) },
  'office.settle': { input: z.strictObject({ key: z.string().max(400), take: z.enum(['here', 'there']) }), output: nothing },
} as const;

export const officeEvents = { 'office.changed': OfficeState } as const;

import { z } from 'zod';

const short = z.string().max(120);

export const flueGasKinds = ['usual', 'low-temperature', 'condensing'] as const;

/** What is on the plates and where it stands; typed by hand, every field may be blank. Quantities in inner units. */
export const Appliance = z.strictObject({
  format: z.literal(1),
  /** how the technician calls it: 'boiler in the cellar' */
  name: z.string().min(1).max(120),
  kind: z.enum(['boiler-water', 'boiler-steam', 'furnace', 'water-heater', 'other']),
  /** address, or a pseudonym when the owner wants none kept */
  place: z.string().max(300).optional(),
  owner: short.optional(),
  contact: z.string().max(300).optional(),
  /** the owner agreed to these particulars being kept */
  consent: z.boolean().optional(),
  pseudonymised: z.boolean().optional(),
  maker: short.optional(),
  model: short.optional(),
  serial: short.optional(),
  year: z.number().int().min(1900).max(2100).optional(),
  ratedInputKw: z.number().positive().max(20_000).optional(),
  ratedOutputKw: z.number().positive().max(20_000).optional(),
  fuelId: z.string().max(60).optional(),
  tank: z.enum(['indoor', 'outdoor', 'buried']).optional(),
  /** how cold its flue gas may be: a low stack is no sign of trouble at the last two */
  flueGas: z.enum(flueGasKinds).optional(),
  burner: z
    .strictObject({
      maker: short.optional(),
      model: short.optional(),
      serial: short.optional(),
      year: z.number().int().min(1900).max(2100).optional(),
    })
    .optional(),
  pressurised: z.boolean().optional(),
  /** the figures card that was chosen for this burner last */
  figuresCardId: z.string().max(100).optional(),
  nextDue: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/)
    .optional(),
  notes: z.string().max(4000).optional(),
});
export type Appliance = z.infer<typeof Appliance>;

/**
 * The machine as it stood on the day of signing, and when it was due again: another burner, kind or day entered later changes nothing of what was
 * signed. Who lives there is not in it.
 */
export const ApplianceSigned = Appliance.pick({
  kind: true,
  maker: true,
  model: true,
  serial: true,
  year: true,
  ratedInputKw: true,
  ratedOutputKw: true,
  tank: true,
  flueGas: true,
  burner: true,
  nextDue: true,
});
export type ApplianceSigned = z.infer<typeof ApplianceSigned>;

export const applianceSignedOf = (appliance: Appliance): ApplianceSigned => ApplianceSigned.strip().parse(appliance);

/** The appliance as a visit shows it: its machine as signed, the rest as it is known now. */
export function applianceThen(now: Appliance | undefined, signed: ApplianceSigned | undefined): Appliance | undefined {
  if (now === undefined || signed === undefined) return now;
  const lasting = Object.entries(now).filter(([key]) => !(key in ApplianceSigned.shape));
  return { ...(Object.fromEntries(lasting) as Omit<Appliance, keyof ApplianceSigned>), ...signed };
}

/** Takes the person out and leaves the machine: what the history of a unit needs stays, who lives there goes. */
export const pseudonymised = (
  // with nothing kept of the person there is nothing left to agree to
  { place: _place, owner: _owner, contact: _contact, notes: _notes, consent: _consent, ...rest }: Appliance,
  pseudonym: string,
): Appliance => ({
  ...rest,
  name: pseudonym,
  pseudonymised: true,
});

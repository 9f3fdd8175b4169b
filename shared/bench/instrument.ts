import { z } from 'zod';

const isoDate = z.string().regex(/^\d{4}-\d{2}-\d{2}$/);

/** The channels that a bench can test with gas. */
export const benchChannels = ['o2', 'co', 'no', 'no2', 'so2', 'co2'] as const;
export const BenchChannel = z.enum(benchChannels);
export type BenchChannel = z.infer<typeof BenchChannel>;

/** One sensor. Range and resolution in the channel's unit (%vol or ppm). */
export const Cell = z.strictObject({
  channel: BenchChannel,
  serial: z.string().max(80).optional(),
  installed: isoDate.optional(),
  rangeLow: z.number(),
  rangeHigh: z.number(),
  resolution: z.number().positive().optional(),
  /** CO cells: hydrogen compensated or not; the record says so */
  hydrogenCompensated: z.boolean().optional(),
});
export type Cell = z.infer<typeof Cell>;

/** An instrument as the workshop knows it: an id, a serial number, its cells. No maker needed. */
export const Instrument = z.strictObject({
  format: z.literal(1),
  name: z.string().min(1).max(120),
  serial: z.string().max(80).optional(),
  firmware: z.string().max(80).optional(),
  recipeName: z.string().max(200).optional(),
  cells: z.array(Cell).max(12),
  hose: z.string().max(120).optional(),
  filterChanged: isoDate.optional(),
  certificateUntil: isoDate.optional(),
  notes: z.string().max(2000).optional(),
});
export type Instrument = z.infer<typeof Instrument>;

/** One component of a reference gas: certified value (never the nominal one) and its expanded uncertainty, k = 2, in the same unit. */
const GasComponent = z.strictObject({ channel: BenchChannel, value: z.number().min(0), expanded: z.number().min(0) });
export type GasComponent = z.infer<typeof GasComponent>;

/** @source fields of a cylinder certificate: OIML R 144-1 Annex A no. A.1.1 */
export const ReferenceGas = z.strictObject({
  format: z.literal(1),
  name: z.string().min(1).max(120),
  serial: z.string().max(80).optional(),
  certificate: z.string().max(120).optional(),
  balance: z.enum(['nitrogen', 'air']),
  components: z.array(GasComponent).min(1).max(8),
  certified: isoDate.optional(),
  expires: isoDate.optional(),
  pressureBar: z.number().min(0).max(400).optional(),
  /** hydrogen as the interferent of CO cells, ppm */
  hydrogenPpm: z.number().min(0).optional(),
  notes: z.string().max(1000).optional(),
});
export type ReferenceGas = z.infer<typeof ReferenceGas>;

/** Cylinders are not used below this: the mixture near the end is not the certified one. @source EPA protocol gas practice, 100 psi class (from memory) */
const LEAST_CYLINDER_BAR = 10;

export type GasFlaw = 'expired' | 'nearly-empty' | 'no-expiry' | 'uncertain';

/** What speaks against using this gas today. @param today ISO date */
export function gasFlaws(gas: ReferenceGas, today: string): GasFlaw[] {
  const flaws: GasFlaw[] = [];
  if (gas.expires === undefined) flaws.push('no-expiry');
  else if (gas.expires < today) flaws.push('expired');
  if (gas.pressureBar !== undefined && gas.pressureBar < LEAST_CYLINDER_BAR) flaws.push('nearly-empty');
  // R 144-1 Annex A.2: at most 2 % relative for the measured component
  if (gas.components.some(({ value, expanded }) => value > 0 && expanded > 0.02 * value * 1.0001)) flaws.push('uncertain');
  return flaws;
}

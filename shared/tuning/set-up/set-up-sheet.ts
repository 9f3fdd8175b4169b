import { z } from 'zod';
import { GeometryRecord } from '../../geometry/record.ts';
import { OilLine, mostVacuum } from './oil-line.ts';

/**
 * What is measured before firing. The figures that count are the burner maker's, typed from the sheet; the ranges here are hints for
 * spotting slips of the hand, never a verdict.
 */
export const setUpItems = {
  electrodeGapMm: {
    quantity: 'length',
    // 3 to 5 mm on European burners, 1/8 to 3/16 in on American ones: what is usual on either side is no slip
    hint: { low: 3, high: 5, source: 'public home-repair guide, 1/8 to 3/16 in; 3 to 5 mm common practice' },
  },
  heightAboveCentrelineMm: {
    quantity: 'length',
    hint: { low: 6, high: 16, source: 'public home-repair guide, 9/16 to 5/8 in; low end common practice' },
  },
  aheadOfNozzleMm: { quantity: 'length', hint: { low: 0, high: 6, source: 'common practice' } },
  clearanceToMetalMm: { quantity: 'length', hint: { low: 6.35, source: 'common practice, at least 1/4 in and more than the gap' } },
  nozzleToHeadMm: { quantity: 'length' },
  headSetting: { quantity: 'scale' },
  nozzleFlowLh: { quantity: 'flow' },
  nozzleAngleDeg: { quantity: 'angle', hint: { low: 30, high: 90, source: 'common practice' } },
  pumpPressurePa: {
    quantity: 'pressure',
    hint: {
      // 100 psi itself is 689 476 Pa
      low: 689_000,
      high: 2_070_000,
      source: 'NORA Oilheat Technicians Manual p 70: 100 psi or as the maker asks, often more; gauge to 300 psi',
    },
  },
  cutOffDropPercent: { quantity: 'percent', hint: { low: 10, high: 25, source: 'NORA Oilheat Technicians Manual p 70-71' } },
  cutOffHoldS: { quantity: 'time', hint: { low: 300, source: 'NORA Oilheat Technicians Manual p 70-71: holds for 5 min' } },
  // what is usual depends on the pipes: oil-line.ts
  vacuumPa: { quantity: 'pressure' },
} as const satisfies Record<string, { quantity: SetUpQuantity; hint?: { low?: number; high?: number; source: string } }>;
export type SetUpQuantity = 'length' | 'scale' | 'flow' | 'angle' | 'pressure' | 'percent' | 'time';
export type SetUpItem = keyof typeof setUpItems;
export const setUpItemNames = Object.keys(setUpItems) as [SetUpItem, ...SetUpItem[]];

export const nozzlePatterns = ['solid', 'hollow', 'semi-hollow'] as const;

/** The maker's figure: a nominal with a tolerance either way, or limits of their own. */
export const MakersFigure = z.object({
  nominal: z.number().optional(),
  tolerance: z.number().nonnegative().optional(),
  low: z.number().optional(),
  high: z.number().optional(),
});
export type MakersFigure = z.infer<typeof MakersFigure>;

export const SetUpRow = z.object({
  maker: MakersFigure.optional(),
  asFound: z.number().optional(),
  asLeft: z.number().optional(),
  note: z.string().max(500).optional(),
});
export type SetUpRow = z.infer<typeof SetUpRow>;

export const stampUnits = ['gph', 'l/h', 'kg/h'] as const;
export type StampUnit = (typeof stampUnits)[number];
export const NozzleStamp = z.object({
  value: z.number().positive().max(1000),
  unit: z.enum(stampUnits),
  atPa: z.number().positive().max(5_000_000),
});
export type NozzleStamp = z.infer<typeof NozzleStamp>;

/** The nozzle of a stage, and the pressure there. `adds`: the first stage's nozzle burns on beside it. */
export const StageNozzle = z.object({
  stage: z.string().min(1).max(40),
  stamp: NozzleStamp.optional(),
  angleDeg: z.number().positive().max(120).optional(),
  pattern: z.enum(nozzlePatterns).optional(),
  pumpPa: z.number().positive().max(5_000_000).optional(),
  adds: z.boolean().optional(),
});
export type StageNozzle = z.infer<typeof StageNozzle>;

export const SetUpSheet = z.object({
  lengthUnit: z.enum(['mm', 'inch']).default('mm'),
  rows: z.partialRecord(z.enum(setUpItemNames), SetUpRow),
  nozzlePattern: z.object({ asFound: z.enum(nozzlePatterns).optional(), asLeft: z.enum(nozzlePatterns).optional() }).optional(),
  /** pressure at which the nozzle's flow is stamped, Pa; 100 psi when not given */
  ratedPressurePa: z.number().positive().optional(),
  /** nozzles as they are stamped; of the first stage flow, angle and pressure stand in the rows */
  stages: z.array(StageNozzle).max(4).optional(),
  gauge: z.string().max(80).optional(),
  /** tank to pump */
  oilLine: OilLine.optional(),
  /** the one home of electrodes, nozzle and head; visits of earlier versions have some of it in `rows` (geometry-now.ts) */
  geometry: GeometryRecord.optional(),
});
export type SetUpSheet = z.infer<typeof SetUpSheet>;

export type SetUpVerdict = 'in' | 'out' | 'not-given' | 'not-measured';

/** Against the maker's figure only. A nominal without a tolerance gives no verdict: inventing a tolerance would be inventing a limit. */
export function setUpVerdict(row: SetUpRow | undefined, which: 'asFound' | 'asLeft'): SetUpVerdict {
  const value = row?.[which];
  if (value === undefined) return 'not-measured';
  const limits = makersLimits(row?.maker);
  if (!limits) return 'not-given';
  // a ruler reading that sits exactly on the limit is in; the last bits of an inch conversion must not decide
  const slack = 1e-6 * Math.max(1, Math.abs(value));
  return value >= limits.low - slack && value <= limits.high + slack ? 'in' : 'out';
}

export function makersLimits(maker: MakersFigure | undefined): { low: number; high: number } | undefined {
  if (!maker) return undefined;
  const { nominal, tolerance, low, high } = maker;
  if (low !== undefined || high !== undefined) return { low: low ?? -Infinity, high: high ?? Infinity };
  return nominal !== undefined && tolerance !== undefined ? { low: nominal - tolerance, high: nominal + tolerance } : undefined;
}

export type PlausibilityHint = { item: SetUpItem; value: number; low?: number; high?: number; source: string };

/** Values that are unusual for the trade: worth a second look, never a verdict. The clearance must also exceed the gap. */
export function implausible(sheet: SetUpSheet, which: 'asFound' | 'asLeft'): PlausibilityHint[] {
  const hints = setUpItemNames.flatMap((item): PlausibilityHint[] => {
    const value = sheet.rows[item]?.[which];
    const row: { quantity: SetUpQuantity; hint?: { low?: number; high?: number; source: string } } =
      item === 'vacuumPa' ? { quantity: 'pressure', hint: vacuumHint(sheet) } : setUpItems[item];
    if (value === undefined || !row.hint) return [];
    const outside = (row.hint.low !== undefined && value < row.hint.low) || (row.hint.high !== undefined && value > row.hint.high);
    return outside ? [{ item, value, ...row.hint }] : [];
  });
  const gap = sheet.rows.electrodeGapMm?.[which];
  const clearance = sheet.rows.clearanceToMetalMm?.[which];
  if (gap !== undefined && clearance !== undefined && clearance <= gap && !hints.some((hint) => hint.item === 'clearanceToMetalMm')) {
    hints.push({ item: 'clearanceToMetalMm', value: clearance, low: gap, source: 'the spark takes the shorter path; common practice' });
  }
  return hints;
}

/** One pipe and two are not used to the same vacuum. */
function vacuumHint({ oilLine }: SetUpSheet): { low: number; high: number; source: string } {
  const { pa, source } = mostVacuum(oilLine?.pipes);
  return { low: 0, high: pa, source };
}

/** As left when it was given, else as found: what the burner runs with now. */
export const presentValue = (sheet: SetUpSheet, item: SetUpItem): number | undefined =>
  sheet.rows[item]?.asLeft ?? sheet.rows[item]?.asFound;

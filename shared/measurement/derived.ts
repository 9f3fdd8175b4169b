import { z } from 'zod';

/** Every computed figure: key -> inner unit in the name. See shared/combustion. */
export const derivedKeys = [
  'netStackC',
  'co2Percent',
  'co2MaxPercent',
  'excessAirPercent',
  'lambda',
  'coAirFreePpm',
  'coAt3PercentO2Ppm',
  'coMgPerKwh',
  'lossDryGasPercent',
  'lossLatentPercent',
  'lossVapourPercent',
  'lossAirMoisturePercent',
  'lossCoPercent',
  'stackLossPercent',
  'stackLossLhvPercent',
  'efficiencyHhvPercent',
  'efficiencyLhvPercent',
  'siegertLossPercent',
  'h2oWetPercent',
  'waterDewPointC',
  'waterDewPointMarginK',
  'acidDewPointC',
  'acidDewPointOkkesC',
  'acidDewPointMarginK',
] as const;
export type DerivedKey = (typeof derivedKeys)[number];

/** Why a computed figure is blank. */
export const blankReasons = [
  'no-o2',
  'no-co',
  'no-stack-temperature',
  'no-air-temperature',
  'o2-above-18',
  'o2-above-15',
  'o2-not-possible',
  'condensing',
  'stack-not-above-air',
  'co-over-range',
  'outside-correlation',
  'no-constants-for-fuel',
  'inconsistent',
  'silent',
  'suspect',
  'out-of-range',
] as const;
export type BlankReason = (typeof blankReasons)[number];

/** All figures at one time. A key is in `values` or in `blank`, never in both. `expanded` is U = 2 u_c in the figure's unit. */
export const Derived = z.object({
  timeMs: z.number(),
  values: z.partialRecord(z.enum(derivedKeys), z.number()),
  expanded: z.partialRecord(z.enum(derivedKeys), z.number()),
  blank: z.partialRecord(z.enum(derivedKeys), z.enum(blankReasons)),
  /** where CO2 was measured beside O2: what was measured, by how much it differs from what O2 and the fuel give, and U of that difference */
  co2Measured: z.object({ percent: z.number(), difference: z.number(), expanded: z.number() }).optional(),
});
export type Derived = z.infer<typeof Derived>;

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

/** Names of the figures where the command line writes them, in its order. */
export const figureNames: Readonly<Record<DerivedKey, string>> = {
  excessAirPercent: 'excess_air_pct',
  lambda: 'lambda',
  co2Percent: 'co2_pct',
  co2MaxPercent: 'co2_max_pct',
  coAirFreePpm: 'co_air_free_ppm',
  coAt3PercentO2Ppm: 'co_at_3pct_o2_ppm',
  coMgPerKwh: 'co_mg_kwh',
  netStackC: 'net_stack_c',
  lossDryGasPercent: 'loss_dry_gas_pct',
  lossLatentPercent: 'loss_latent_pct',
  lossVapourPercent: 'loss_vapour_pct',
  lossAirMoisturePercent: 'loss_air_moisture_pct',
  lossCoPercent: 'loss_co_pct',
  stackLossPercent: 'stack_loss_hhv_pct',
  stackLossLhvPercent: 'stack_loss_lhv_pct',
  efficiencyHhvPercent: 'efficiency_hhv_pct',
  efficiencyLhvPercent: 'efficiency_lhv_pct',
  siegertLossPercent: 'siegert_loss_pct',
  h2oWetPercent: 'h2o_wet_pct',
  waterDewPointC: 'water_dew_point_c',
  waterDewPointMarginK: 'water_dew_margin_k',
  acidDewPointC: 'acid_dew_point_c',
  acidDewPointOkkesC: 'acid_dew_point_okkes_c',
  acidDewPointMarginK: 'acid_dew_margin_k',
};

type Setter = <T>(target: Partial<Record<DerivedKey, T>>, value: T) => void;

/**
 * One store per key, written out: `target[key] = value` with a changing key costs more than all of the physics together,
 * because the engine cannot learn the shape of the object from it (`npm run speed` shows it).
 */
export const setFigure: Readonly<Record<DerivedKey, Setter>> = {
  netStackC: (target, value) => void (target.netStackC = value),
  co2Percent: (target, value) => void (target.co2Percent = value),
  co2MaxPercent: (target, value) => void (target.co2MaxPercent = value),
  excessAirPercent: (target, value) => void (target.excessAirPercent = value),
  lambda: (target, value) => void (target.lambda = value),
  coAirFreePpm: (target, value) => void (target.coAirFreePpm = value),
  coAt3PercentO2Ppm: (target, value) => void (target.coAt3PercentO2Ppm = value),
  coMgPerKwh: (target, value) => void (target.coMgPerKwh = value),
  lossDryGasPercent: (target, value) => void (target.lossDryGasPercent = value),
  lossLatentPercent: (target, value) => void (target.lossLatentPercent = value),
  lossVapourPercent: (target, value) => void (target.lossVapourPercent = value),
  lossAirMoisturePercent: (target, value) => void (target.lossAirMoisturePercent = value),
  lossCoPercent: (target, value) => void (target.lossCoPercent = value),
  stackLossPercent: (target, value) => void (target.stackLossPercent = value),
  stackLossLhvPercent: (target, value) => void (target.stackLossLhvPercent = value),
  efficiencyHhvPercent: (target, value) => void (target.efficiencyHhvPercent = value),
  efficiencyLhvPercent: (target, value) => void (target.efficiencyLhvPercent = value),
  siegertLossPercent: (target, value) => void (target.siegertLossPercent = value),
  h2oWetPercent: (target, value) => void (target.h2oWetPercent = value),
  waterDewPointC: (target, value) => void (target.waterDewPointC = value),
  waterDewPointMarginK: (target, value) => void (target.waterDewPointMarginK = value),
  acidDewPointC: (target, value) => void (target.acidDewPointC = value),
  acidDewPointOkkesC: (target, value) => void (target.acidDewPointOkkesC = value),
  acidDewPointMarginK: (target, value) => void (target.acidDewPointMarginK = value),
};

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

/**
 * Where the stack temperature would come to rest: flame temperature by heat balance, then a counterflow-like exchanger against water of
 * one temperature, T = Twater + (Tflame - Twater) exp(-NTU), NTU ~ 1 / (gas flow)^0.7. More air lowers the flame temperature and raises
 * the gas flow; the second wins, so the stack rises with excess air, as it does with firing rate and soot.
 *
 * @source heating value and air-fuel ratio of light oil by mole balance; e-NTU relation: any heat transfer textbook (from memory);
 *   0.9 for radiation and losses: our choice
 */
const LHV_KJ_PER_KG = 42_519;
const AIR_KG_PER_KG_OIL = 14.475;
const GAS_KJ_PER_KG_K = 1.13;
const FLAME_SHARE = 0.9;
const UNITS_FALL_WITH_FLOW = 0.7;
const GAS_AT_MIDDLE_KG_PER_KG = 1 + 1.3 * AIR_KG_PER_KG_OIL;

/** Gas flow against that of nominal oil at air ratio 1.3. */
export const gasFlowShare = (airRatio: number, oilShare: number): number =>
  (oilShare * (1 + airRatio * AIR_KG_PER_KG_OIL)) / GAS_AT_MIDDLE_KG_PER_KG;

/** @returns degC at rest */
export function stackAtRestC(conditions: {
  airRatio: number;
  oilShare: number;
  airC: number;
  waterC: number;
  transferUnits: number;
  fouling: number;
}): number {
  const { airRatio, oilShare, airC, waterC, transferUnits, fouling } = conditions;
  // too little air burns only part of the oil
  const burnt = Math.min(1, airRatio);
  const flameC = airC + (FLAME_SHARE * burnt * LHV_KJ_PER_KG) / ((1 + airRatio * AIR_KG_PER_KG_OIL) * GAS_KJ_PER_KG_K);
  const units = transferUnits / (fouling * gasFlowShare(airRatio, oilShare) ** UNITS_FALL_WITH_FLOW);
  return waterC + (flameC - waterC) * Math.exp(-units);
}

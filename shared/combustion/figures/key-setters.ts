import type { DerivedKey } from '../../measurement/derived.ts';

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

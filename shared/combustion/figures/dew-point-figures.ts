import { acidDewPointOkkesC, acidDewPointVerhoffBancheroC, SO3_SHARE, waterDewPoint } from '../dew-point.ts';
import type { FigureParts } from './figure-parts.ts';

/** Water vapour of the wet gas, the dew points, and how far the stack is above them. @returns the water dew point, degC */
export function dewPointFigures({ gas, slopes, stackC, pressurePa, missing, put, blank }: FigureParts): number | undefined {
  const noStack = missing?.stack ?? 'no-stack-temperature';
  const wet = gas.dry + gas.h2o;
  const x = gas.h2o / wet;
  const slope = (water: number, dry: number): number => (water * gas.dry - gas.h2o * dry) / (wet * wet);
  const xO2 = slope(slopes.h2o.o2, slopes.dry.o2);
  const xCo = slope(slopes.h2o.co, slopes.dry.co);
  const xHydrogen = slope(slopes.h2o.hydrogen, slopes.dry.hydrogen);
  put('h2oWetPercent', 100 * x, 100 * xO2, 100 * xCo, 0, 0, 100 * xHydrogen);

  const dew = waterDewPoint(x * pressurePa);
  if (dew === undefined) {
    blank('waterDewPointC', 'outside-correlation');
    blank('waterDewPointMarginK', 'outside-correlation');
  } else {
    const perX = dew.slopeKPerPa * pressurePa;
    put('waterDewPointC', dew.celsius, perX * xO2, perX * xCo, 0, 0, perX * xHydrogen);
    if (stackC === undefined) blank('waterDewPointMarginK', noStack);
    else put('waterDewPointMarginK', stackC - dew.celsius, -perX * xO2, -perX * xCo, 1, 0, -perX * xHydrogen);
  }

  // the correlations' own +-5 K outweighs what the gas adds (under 1 K), so no slopes but the stack's: see `derive`
  const acid = { waterPa: x * pressurePa, so3Pa: ((SO3_SHARE * gas.so2) / wet) * pressurePa };
  const acidC = acidDewPointVerhoffBancheroC(acid);
  const okkesC = acidDewPointOkkesC(acid);
  if (acidC === undefined) {
    blank('acidDewPointC', 'outside-correlation');
    blank('acidDewPointMarginK', 'outside-correlation');
  } else {
    put('acidDewPointC', acidC, 0, 0, 0, 0, 0);
    if (stackC === undefined) blank('acidDewPointMarginK', noStack);
    else put('acidDewPointMarginK', stackC - acidC, 0, 0, 1, 0, 0);
  }
  if (okkesC === undefined) blank('acidDewPointOkkesC', 'outside-correlation');
  else put('acidDewPointOkkesC', okkesC, 0, 0, 0, 0, 0);
  return dew?.celsius;
}

import type { Fuel } from '../../combustion/fuel.ts';
import { firing, RATING_PRESSURE_PA, type Firing } from '../../combustion/nozzle.ts';
import { L_PER_US_GALLON } from '../../units/convert.ts';
import { presentValue, type SetUpSheet } from '../set-up/set-up-sheet.ts';

/** What the nozzle of the sheet puts through at the pump pressure, and the heat input on HHV and LHV; undefined until both are given. */
export function firingRate(sheet: SetUpSheet, fuel: Fuel): Firing | undefined {
  const [flowLh, pressurePa] = [presentValue(sheet, 'nozzleFlowLh'), presentValue(sheet, 'pumpPressurePa')];
  if (flowLh === undefined || pressurePa === undefined || !(flowLh > 0) || !(pressurePa > 0)) return undefined;
  // a nozzle stamped for another pressure is brought to that of the formula first
  const stampedAtPa = sheet.ratedPressurePa ?? RATING_PRESSURE_PA;
  const ratedGph = (flowLh / L_PER_US_GALLON) * Math.sqrt(RATING_PRESSURE_PA / stampedAtPa);
  return firing({ fuel, ratedGph, pressurePa });
}

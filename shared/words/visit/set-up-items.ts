import type { SetUpItem, SetUpVerdict } from '../../tuning/set-up/set-up-sheet.ts';

export const setUpWords: Readonly<Record<SetUpItem, string>> = {
  electrodeGapMm: 'Electrode gap',
  heightAboveCentrelineMm: 'Height above nozzle centreline',
  aheadOfNozzleMm: 'Distance ahead of nozzle face',
  clearanceToMetalMm: 'Tip to nearest metal',
  nozzleToHeadMm: 'Nozzle to head',
  headSetting: 'Head setting',
  nozzleFlowLh: 'Nozzle flow, as stamped',
  nozzleAngleDeg: 'Nozzle angle',
  pumpPressurePa: 'Pump pressure',
  cutOffDropPercent: 'Pressure drop at shut-off',
  cutOffHoldS: 'Pressure holds after shut-off',
  vacuumPa: 'Vacuum',
};
export const setUpVerdicts: Readonly<Record<SetUpVerdict, string>> = {
  in: 'within limits',
  out: 'outside limits',
  'not-given': 'no maker’s figure with a tolerance',
  'not-measured': 'not measured',
};
export const setUpHint = (item: SetUpItem, source: string): string =>
  `${setUpWords[item]}: unusual, check it. The maker’s figure counts. (${source})`;

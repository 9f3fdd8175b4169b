/**
 * One row per quantity that is shown: what it is called, in which unit it is kept, how it is written.
 * `possible` is what physics or the instrument class allows; a value outside is *suspect*.
 * `us` says how the US preset shows it; absent means that both presets show the inner unit.
 */
import { L_PER_US_GALLON, PA_PER_BAR, PA_PER_IN_WC, PA_PER_PSI } from './convert.ts';

export type Quantity = {
  readonly label: string;
  readonly unit: string;
  readonly decimals: number;
  readonly basis?: string;
  readonly possible?: readonly [low: number, high: number];
  readonly metric?: Shown;
  readonly us?: Shown;
};
/** shown = inner * factor + offset */
export type Shown = { readonly unit: string; readonly factor: number; readonly offset?: number; readonly decimals: number };

const temperatureUs: Shown = { unit: '°F', factor: 1.8, offset: 32, decimals: 0 };
const differenceUs: Shown = { unit: '°F', factor: 1.8, decimals: 0 };

export const quantities = {
  o2: { label: 'O2', unit: '%', decimals: 1, basis: 'dry', possible: [-0.5, 21.5] },
  co: { label: 'CO', unit: 'ppm', decimals: 0, basis: 'dry, as measured', possible: [-20, 40_000] },
  co2: { label: 'CO2', unit: '%', decimals: 1, basis: 'dry', possible: [-0.3, 20] },
  stackTemperature: { label: 'Stack', unit: '°C', decimals: 0, basis: 'gross', possible: [-40, 1100], us: temperatureUs },
  airTemperature: { label: 'Air', unit: '°C', decimals: 0, basis: 'at the intake', possible: [-40, 80], us: temperatureUs },
  no: { label: 'NO', unit: 'ppm', decimals: 0, basis: 'dry', possible: [-20, 5000] },
  no2: { label: 'NO2', unit: 'ppm', decimals: 0, basis: 'dry', possible: [-20, 1000] },
  so2: { label: 'SO2', unit: 'ppm', decimals: 0, basis: 'dry', possible: [-20, 5000] },
  draft: {
    label: 'Draft',
    unit: 'Pa',
    decimals: 1,
    basis: 'against the room',
    possible: [-1000, 1000],
    us: { unit: 'in w.c.', factor: 1 / PA_PER_IN_WC, decimals: 3 },
  },
  pumpPressure: {
    label: 'Pump pressure',
    unit: 'Pa',
    decimals: 0,
    possible: [-100_000, 4_000_000],
    metric: { unit: 'bar', factor: 1 / PA_PER_BAR, decimals: 1 },
    us: { unit: 'psi', factor: 1 / PA_PER_PSI, decimals: 0 },
  },
  ambientCo: { label: 'Room CO', unit: 'ppm', decimals: 0, possible: [-20, 5000] },
  aux1: { label: 'Other 1', unit: '', decimals: 2 },
  aux2: { label: 'Other 2', unit: '', decimals: 2 },
  aux3: { label: 'Other 3', unit: '', decimals: 2 },
  aux4: { label: 'Other 4', unit: '', decimals: 2 },
  netStackC: { label: 'Net stack', unit: '°C', decimals: 0, us: differenceUs },
  co2Percent: { label: 'CO2 computed', unit: '%', decimals: 1, basis: 'dry' },
  co2MaxPercent: { label: 'CO2 max', unit: '%', decimals: 1, basis: 'dry' },
  excessAirPercent: { label: 'Excess air', unit: '%', decimals: 0 },
  lambda: { label: 'Lambda', unit: '', decimals: 2 },
  coAirFreePpm: { label: 'CO air-free', unit: 'ppm', decimals: 0 },
  coAt3PercentO2Ppm: { label: 'CO at 3 % O2', unit: 'ppm', decimals: 0 },
  coMgPerKwh: { label: 'CO per fuel energy', unit: 'mg/kWh', decimals: 0, basis: 'LHV' },
  lossDryGasPercent: { label: 'Dry gas loss', unit: '%', decimals: 1, basis: 'HHV' },
  lossLatentPercent: { label: 'Latent loss', unit: '%', decimals: 1, basis: 'HHV' },
  lossVapourPercent: { label: 'Vapour loss', unit: '%', decimals: 1, basis: 'HHV' },
  lossAirMoisturePercent: { label: 'Air moisture loss', unit: '%', decimals: 1, basis: 'HHV' },
  lossCoPercent: { label: 'CO loss', unit: '%', decimals: 2, basis: 'HHV' },
  stackLossPercent: { label: 'Stack loss', unit: '%', decimals: 1, basis: 'HHV' },
  stackLossLhvPercent: { label: 'Stack loss', unit: '%', decimals: 1, basis: 'LHV' },
  efficiencyHhvPercent: { label: 'Efficiency', unit: '%', decimals: 1, basis: 'HHV' },
  efficiencyLhvPercent: { label: 'Efficiency', unit: '%', decimals: 1, basis: 'LHV' },
  siegertLossPercent: { label: 'Siegert loss', unit: '%', decimals: 1, basis: 'LHV' },
  h2oWetPercent: { label: 'Water vapour', unit: '%', decimals: 1, basis: 'wet' },
  waterDewPointC: { label: 'Water dew point', unit: '°C', decimals: 0, us: temperatureUs },
  waterDewPointMarginK: { label: 'Above dew point', unit: 'K', decimals: 0, basis: 'water', us: differenceUs },
  acidDewPointC: { label: 'Acid dew point', unit: '°C', decimals: 0, us: temperatureUs },
  acidDewPointOkkesC: { label: 'Acid dew point, second correlation', unit: '°C', decimals: 0, us: temperatureUs },
  acidDewPointMarginK: { label: 'Over acid dew point', unit: 'K', decimals: 0, us: differenceUs },
  nozzleFlow: { label: 'Nozzle flow', unit: 'L/h', decimals: 2, us: { unit: 'gph', factor: 1 / L_PER_US_GALLON, decimals: 2 } },
} as const satisfies Record<string, Quantity>;

export type QuantityId = keyof typeof quantities;

/**
 * Every derived figure with its analytic sensitivities, in one pass. `derive` keeps value and uncertainty, `budget` keeps the
 * sensitivities; both see the very same numbers. Formulas: FORMULAS.md; here only the order in which they are put together.
 */
import type { BlankReason, DerivedKey } from '../../measurement/derived.ts';
import { coFigures } from './carbon-monoxide-figures.ts';
import { O2_IN_AIR_EXACT_PERCENT, O2_LIMIT_PERCENT, STANDARD_PRESSURE_PA } from '../constants.ts';
import { dewPointFigures } from './dew-point-figures.ts';
import { flueGas, flueGasSlopes } from '../flue-gas.ts';
import { withSulfur, type Fuel } from '../fuel.ts';
import { lossFigures, lossKeys } from './loss-figures.ts';
import type { HalfWidths, Spreads } from './uncertainty.ts';
import type { FigureParts, Missing } from './figure-parts.ts';

export type DeriveInput = {
  readonly timeMs: number;
  readonly fuel: Fuel;
  readonly o2PercentDry?: number | undefined;
  /** used only when there is no O2 */
  readonly co2PercentDry?: number | undefined;
  readonly coPpmDry?: number | undefined;
  readonly stackC?: number | undefined;
  readonly airC?: number | undefined;
  /** of the combustion air, kg/kg dry; 0 when not given */
  readonly humidityKgPerKg?: number | undefined;
  /** barometric, 101 325 Pa when not given */
  readonly pressurePa?: number | undefined;
  /** replaces the fuel's own sulphur */
  readonly sulfurPpm?: number | undefined;
  readonly tolerances?: HalfWidths | undefined;
  readonly spreads?: Spreads | undefined;
  /** why an input is not there, when more is known than that */
  readonly missing?: Missing | undefined;
};

/**
 * Receives each figure once: its value and its partial derivatives with respect to the gas reading (per %vol), CO (per ppm), stack
 * and air temperature (per K), and the fuel: hydrogen (per kg/kg, carbon giving way) or, for totals, points of efficiency.
 */
export type FigureSink = {
  value(key: DerivedKey, value: number, gas: number, co: number, stack: number, air: number, hydrogen: number, points: number): void;
  blank(key: DerivedKey, reason: BlankReason): void;
};

/** The dry gas as one O2 value, whichever gas was measured, with the slopes of that O2. */
export type GasInput = {
  readonly fuel: Fuel;
  /** absent: neither O2 nor CO2 came */
  readonly o2PercentDry: number | undefined;
  readonly isFromCo2: boolean;
  /** d O2/d reading; 1 when O2 was measured */
  readonly perGas: number;
  readonly perCo: number;
  readonly perHydrogen: number;
};

const gasKeys = [
  'co2Percent',
  'excessAirPercent',
  'lambda',
  'coAirFreePpm',
  'coAt3PercentO2Ppm',
  'coMgPerKwh',
  ...lossKeys,
  'h2oWetPercent',
  'waterDewPointC',
  'waterDewPointMarginK',
  'acidDewPointC',
  'acidDewPointOkkesC',
  'acidDewPointMarginK',
] as const satisfies readonly DerivedKey[];

/** Above this it is not even fresh air with a reading that is a little off. */
const O2_POSSIBLE_PERCENT = 21.5;

export function gasInput(input: DeriveInput): GasInput {
  const fuel = input.sulfurPpm === undefined ? input.fuel : withSulfur(input.fuel, input.sulfurPpm);
  if (input.o2PercentDry !== undefined || input.co2PercentDry === undefined) {
    return { fuel, o2PercentDry: input.o2PercentDry, isFromCo2: false, perGas: 1, perCo: 0, perHydrogen: 0 };
  }
  // O2 = x (1 - y/2) + y/2 - x (CO2 + CO)/CO2max, see o2FromCo2Percent; written out because its slopes are needed
  const { co2MaxPercent } = fuel.stoichiometry;
  const x = O2_IN_AIR_EXACT_PERCENT;
  const coPercent = (input.coPpmDry ?? 0) * 1e-4;
  const carbonPercent = input.co2PercentDry + coPercent;
  if (!(co2MaxPercent > 0)) return { fuel, o2PercentDry: undefined, isFromCo2: true, perGas: 0, perCo: 0, perHydrogen: 0 };
  return {
    fuel,
    o2PercentDry: x * (1 - coPercent / 200) + coPercent / 2 - (x * carbonPercent) / co2MaxPercent,
    isFromCo2: true,
    perGas: -x / co2MaxPercent,
    perCo: 1e-4 * (0.5 - x / 200 - x / co2MaxPercent),
    perHydrogen: ((x * carbonPercent) / co2MaxPercent ** 2) * fuel.slope.co2MaxPercent,
  };
}

/** Computes everything that the input allows and hands it to `sink`: each key once, as a value or as a blank. Never throws, never NaN. */
export function computeFigures(input: DeriveInput, gasReading: GasInput, sink: FigureSink): void {
  const { fuel, o2PercentDry: o2, perGas, perCo, perHydrogen } = gasReading;
  const { stackC, airC, missing } = input;

  sink.value('co2MaxPercent', fuel.stoichiometry.co2MaxPercent, 0, 0, 0, 0, fuel.slope.co2MaxPercent, 0);
  if (stackC === undefined) sink.blank('netStackC', missing?.stack ?? 'no-stack-temperature');
  else if (airC === undefined) sink.blank('netStackC', missing?.air ?? 'no-air-temperature');
  else sink.value('netStackC', stackC - airC, 0, 0, 1, -1, 0, 0);

  const noGas = whyNoGas(input, o2);
  if (noGas !== undefined || o2 === undefined) {
    for (const key of gasKeys) sink.blank(key, noGas ?? 'no-o2');
    return;
  }
  const coPpm = input.coPpmDry ?? 0;
  const humidityKgPerKg = input.humidityKgPerKg ?? 0;
  const gas = flueGas(fuel.stoichiometry, o2, coPpm, humidityKgPerKg);
  const slopes = flueGasSlopes(fuel.stoichiometry, fuel.slope, gas, { o2PercentDry: o2, coPpmDry: coPpm, humidityKgPerKg });
  const parts: FigureParts = {
    fuel,
    o2,
    coPpm,
    hasCo: input.coPpmDry !== undefined,
    stackC,
    airC,
    pressurePa: input.pressurePa ?? STANDARD_PRESSURE_PA,
    humidityKgPerKg,
    missing,
    gas,
    slopes,
    put: (key, value, gO2, gCo, gStack, gAir, gHydrogen, points = 0) =>
      sink.value(key, value, gO2 * perGas, gCo + gO2 * perCo, gStack, gAir, points === 0 ? gHydrogen + gO2 * perHydrogen : 0, points),
    blank: (key, reason) => sink.blank(key, reason),
  };
  airFigures(parts);
  coFigures(parts);
  const dewPointC = dewPointFigures(parts);
  lossFigures(parts, dewPointC);
}

/** Excess air, lambda and the CO2 that belongs to them. */
function airFigures(parts: FigureParts): void {
  const { fuel, gas, slopes, put } = parts;
  const { excessAir, dry, co } = slopes;
  put('excessAirPercent', 100 * gas.excessAir, 100 * excessAir.o2, 100 * excessAir.co, 0, 0, 100 * excessAir.hydrogen);
  put('lambda', 1 + gas.excessAir, excessAir.o2, excessAir.co, 0, 0, excessAir.hydrogen);
  if (fuel.co2MaxSetPercent !== undefined) return co2OfSetMax(parts, fuel.co2MaxSetPercent);
  // of the fuel only: the 0.036 % that air brings along are not counted, as in the published tables
  const co2 = (fuel.stoichiometry.carbon - gas.co) / gas.dry;
  const slope = (carbon: number, coSlope: number, drySlope: number): number => (100 * (carbon - coSlope - co2 * drySlope)) / gas.dry;
  put('co2Percent', 100 * co2, slope(0, co.o2, dry.o2), slope(0, co.co, dry.co), 0, 0, slope(fuel.slope.carbon, co.hydrogen, dry.hydrogen));
}

/**
 * CO2 with a CO2max that a person set: `o2FromCo2Percent` solved for CO2, so that one set value serves both ways. An un-analysed delivery leaves it as
 * doubtful as the fuel's own.
 *
 *     CO2 = CO2max [20.946 (1 - y/2) + y/2 - O2]/20.946 - CO
 *
 * @source mole balance, FORMULAS.md#co2-from-o2
 */
function co2OfSetMax({ fuel, o2, coPpm, put }: FigureParts, maxPercent: number): void {
  const x = O2_IN_AIR_EXACT_PERCENT;
  const co = coPpm * 1e-4;
  const burned = (x * (1 - co / 200) + co / 2 - o2) / x;
  const perCo = 1e-4 * (maxPercent * (0.5 / x - 0.005) - 1);
  put('co2Percent', maxPercent * burned - co, -maxPercent / x, perCo, 0, 0, fuel.slope.co2MaxPercent * burned);
}

/** The gas analysis cannot carry any figure: why. */
function whyNoGas({ missing }: DeriveInput, o2: number | undefined): BlankReason | undefined {
  if (o2 === undefined) return missing?.o2 ?? 'no-o2';
  if (!(o2 >= 0 && o2 <= O2_POSSIBLE_PERCENT)) return 'o2-not-possible';
  if (o2 > O2_LIMIT_PERCENT) return 'o2-above-18';
  return undefined;
}

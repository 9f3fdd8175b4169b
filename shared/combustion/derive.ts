import type { BlankReason, Derived, DerivedKey } from '../measurement/derived.ts';
import { ACID_DEW_POINT_EXPANDED_K } from './dew-point.ts';
import { computeFigures, gasInput, type DeriveInput, type GasInput } from './figures.ts';
import { COVERAGE_FACTOR, defaultCoHalfWidthPpm, defaultTolerances } from './uncertainty.ts';

export type { DeriveInput } from './figures.ts';

/** Variances of the inputs: rectangular tolerance (a^2/3) plus the square of the mean's own standard uncertainty. */
export type InputVariances = {
  readonly gas: number;
  readonly co: number;
  readonly stack: number;
  readonly air: number;
  /** of the hydrogen content, (kg/kg)^2 */
  readonly hydrogen: number;
  /** of the efficiency, points^2 */
  readonly points: number;
};

/** @source JCGM 100:2008, 4.3.7 and 5.1.2 */
export function inputVariances({ fuel, coPpmDry, tolerances, spreads }: DeriveInput, isFromCo2: boolean): InputVariances {
  const gasTolerance = isFromCo2 ? (tolerances?.co2 ?? defaultTolerances.co2) : (tolerances?.o2 ?? defaultTolerances.o2);
  const gasSpread = (isFromCo2 ? spreads?.co2 : spreads?.o2) ?? 0;
  const coTolerance = coPpmDry === undefined ? 0 : (tolerances?.coPpm ?? defaultCoHalfWidthPpm(coPpmDry));
  const stackTolerance = tolerances?.stackK ?? defaultTolerances.stackK;
  const airTolerance = tolerances?.airK ?? defaultTolerances.airK;
  const points = tolerances?.fuelPoints ?? defaultTolerances.fuelPoints;
  // a caller who trusts the fuel more or less than the default moves the composition with it
  const hydrogen = (fuel.hydrogenHalfWidth * points) / defaultTolerances.fuelPoints;
  const coSpread = spreads?.coPpm ?? 0;
  const stackSpread = spreads?.stackK ?? 0;
  const airSpread = spreads?.airK ?? 0;
  return {
    gas: (gasTolerance * gasTolerance) / 3 + gasSpread * gasSpread,
    co: (coTolerance * coTolerance) / 3 + coSpread * coSpread,
    stack: (stackTolerance * stackTolerance) / 3 + stackSpread * stackSpread,
    air: (airTolerance * airTolerance) / 3 + airSpread * airSpread,
    hydrogen: (hydrogen * hydrogen) / 3,
    points: (points * points) / 3,
  };
}

const isAcidKey = (key: DerivedKey): boolean => key === 'acidDewPointC' || key === 'acidDewPointOkkesC' || key === 'acidDewPointMarginK';

/**
 * All derived figures of one set of inputs, with expanded uncertainty (U = 2 u_c), each key as a value or as a blank with its reason.
 * Pure; never throws on a number, never gives NaN. A value that is no finite number counts as absent.
 *
 * @source FORMULAS.md; JCGM 100:2008 for the uncertainty
 */
export function derive(raw: DeriveInput): Derived {
  const input = withoutNonNumbers(raw);
  const gas: GasInput = gasInput(input);
  const u2 = inputVariances(input, gas.isFromCo2);
  const values: Partial<Record<DerivedKey, number>> = {};
  const expanded: Partial<Record<DerivedKey, number>> = {};
  const blank: Partial<Record<DerivedKey, BlankReason>> = {};
  computeFigures(input, gas, {
    value(key, value, gGas, gCo, gStack, gAir, gHydrogen, gPoints) {
      const variance =
        gGas * gGas * u2.gas +
        gCo * gCo * u2.co +
        gStack * gStack * u2.stack +
        gAir * gAir * u2.air +
        gHydrogen * gHydrogen * u2.hydrogen +
        gPoints * gPoints * u2.points;
      values[key] = value;
      expanded[key] = isAcidKey(key)
        ? Math.hypot(ACID_DEW_POINT_EXPANDED_K, COVERAGE_FACTOR * Math.sqrt(variance))
        : COVERAGE_FACTOR * Math.sqrt(variance);
    },
    blank(key, reason) {
      blank[key] = reason;
    },
  });
  return { timeMs: input.timeMs, values, expanded, blank };
}

/** The type says number; a defective caller may still bring NaN or Infinity, and nothing may be computed from that. */
export function withoutNonNumbers(input: DeriveInput): DeriveInput {
  const { o2PercentDry, co2PercentDry, coPpmDry, stackC, airC, humidityKgPerKg, pressurePa, sulfurPpm } = input;
  const sum =
    (o2PercentDry ?? 0) +
    (co2PercentDry ?? 0) +
    (coPpmDry ?? 0) +
    (stackC ?? 0) +
    (airC ?? 0) +
    (humidityKgPerKg ?? 0) +
    (pressurePa ?? 0) +
    (sulfurPpm ?? 0);
  if (Number.isFinite(sum)) return input;
  const finite = (value: number | undefined): number | undefined => (value !== undefined && Number.isFinite(value) ? value : undefined);
  return {
    ...input,
    o2PercentDry: finite(o2PercentDry),
    co2PercentDry: finite(co2PercentDry),
    coPpmDry: finite(coPpmDry),
    stackC: finite(stackC),
    airC: finite(airC),
    humidityKgPerKg: finite(humidityKgPerKg),
    pressurePa: finite(pressurePa),
    sulfurPpm: finite(sulfurPpm),
  };
}

import type { DeriveInput } from './figures.ts';

type Limits = readonly [low: number, high: number];

/** Where the formulas hold and anything could be; the instrument's own plausibility is judged earlier (units/quantities.ts). */
const STACK_C: Limits = [-70, 2000];
const AIR_C: Limits = [-70, 600];
/** A cell that has drifted a little reads below zero in clean gas: within its tolerance, and cutting it off would only bias the mean. */
const CO_PPM: Limits = [-20, 100_000];
const PERCENT: Limits = [-5, 105];
const HUMIDITY: Limits = [0, 1];
const PRESSURE_PA: Limits = [10_000, 1_000_000];
const SULFUR_PPM: Limits = [0, 100_000];

/** Absent is fine; a value outside, NaN included, is not. */
const isUsable = (value: number | undefined, [low, high]: Limits): boolean => value === undefined || (value >= low && value <= high);

/**
 * Takes out what no formula may see. A reading that is impossible becomes absent with the reason 'out-of-range'; an impossible
 * humidity, pressure or sulphur takes the gas with it, because everything depends on them and none may be guessed.
 */
export function checkedInput(input: DeriveInput): DeriveInput {
  const { o2PercentDry, co2PercentDry, coPpmDry, stackC, airC, humidityKgPerKg, pressurePa, sulfurPpm, missing } = input;
  const hasStack = isUsable(stackC, STACK_C);
  const hasAir = isUsable(airC, AIR_C);
  const hasCo = isUsable(coPpmDry, CO_PPM);
  const isSurroundingKnown = isUsable(humidityKgPerKg, HUMIDITY) && isUsable(pressurePa, PRESSURE_PA) && isUsable(sulfurPpm, SULFUR_PPM);
  const hasGas =
    isUsable(o2PercentDry, PERCENT) && (o2PercentDry !== undefined || isUsable(co2PercentDry, PERCENT)) && isSurroundingKnown && hasCo;
  if (hasStack && hasAir && hasGas) return input;
  return {
    ...input,
    o2PercentDry: hasGas ? o2PercentDry : undefined,
    co2PercentDry: hasGas ? co2PercentDry : undefined,
    coPpmDry: hasCo ? coPpmDry : undefined,
    stackC: hasStack ? stackC : undefined,
    airC: hasAir ? airC : undefined,
    humidityKgPerKg: isSurroundingKnown ? humidityKgPerKg : undefined,
    pressurePa: isSurroundingKnown ? pressurePa : undefined,
    sulfurPpm: isSurroundingKnown ? sulfurPpm : undefined,
    missing: {
      o2: hasGas ? missing?.o2 : 'out-of-range',
      co: hasCo ? missing?.co : 'out-of-range',
      stack: hasStack ? missing?.stack : 'out-of-range',
      air: hasAir ? missing?.air : 'out-of-range',
    },
  };
}

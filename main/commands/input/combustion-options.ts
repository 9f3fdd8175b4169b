/** The values of compute as they are typed, checked and put together. */
import { pressureRatio } from '../../../shared/combustion/atmosphere.ts';
import { STANDARD_PRESSURE_PA } from '../../../shared/combustion/constants.ts';
import { o2FromCo2Percent } from '../../../shared/combustion/excess-air.ts';
import type { Fuel } from '../../../shared/combustion/fuel.ts';
import { humidityKgPerKg } from '../../../shared/combustion/humid-air.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { celsiusFromFahrenheit } from '../../../shared/units/convert.ts';
import { readNumber } from '../command.ts';
import { fuelOptions } from './fuel-option.ts';
import type { DeriveInput } from '../../../shared/combustion/figures/figures.ts';
import { computeTexts } from '../../../shared/words/commands/combustion.ts';

export const options = {
  ...fuelOptions,
  o2: { type: 'string' },
  co2: { type: 'string' },
  'co2-max': { type: 'string' },
  co: { type: 'string' },
  'stack-c': { type: 'string' },
  'stack-f': { type: 'string' },
  'air-c': { type: 'string' },
  'air-f': { type: 'string' },
  humidity: { type: 'string' },
  rh: { type: 'string' },
  'pressure-kpa': { type: 'string' },
  'altitude-m': { type: 'string' },
  'altitude-ft': { type: 'string' },
  'sulfur-ppm': { type: 'string' },
  'o2-u': { type: 'string' },
  'co2-u': { type: 'string' },
  'co-u': { type: 'string' },
  'stack-u': { type: 'string' },
  'air-u': { type: 'string' },
  'fuel-u': { type: 'string' },
  json: { type: 'boolean' },
} as const;

/** What a typed value may be; outside, it is a slip of the finger or of the instrument. */
const limits = {
  o2: [0, 21.5],
  co2: [0, 25],
  'co2-max': [5, 25],
  co: [0, 100_000],
  humidity: [0, 0.2],
  rh: [0, 100],
  'pressure-kpa': [40, 120],
  'altitude-m': [-500, 6000],
  'altitude-ft': [-1600, 20_000],
  'sulfur-ppm': [0, 60_000],
  'o2-u': [0, 5],
  'co2-u': [0, 5],
  'co-u': [0, 10_000],
  'stack-u': [0, 100],
  'air-u': [0, 50],
  'fuel-u': [0, 5],
} as const;
const M_PER_FOOT = 0.3048;
const stackLimits = [-40, 1100] as const;
const airLimits = [-60, 400] as const;

type Numbers = Partial<Record<keyof typeof limits | 'stack-c' | 'air-c', number>>;

export function readNumbers(values: Readonly<Partial<Record<keyof typeof options, string | boolean>>>): Result<Numbers, Problem> {
  const numbers: Numbers = {};
  const text = (name: keyof typeof options): string | undefined => {
    const value = values[name];
    return typeof value === 'string' ? value : undefined;
  };
  for (const name of Object.keys(limits) as (keyof typeof limits)[]) {
    const number = readNumber(name, text(name));
    if (!number.ok) return number;
    if (number.value === undefined) continue;
    const inside = checkLimits(name, number.value, limits[name]);
    if (!inside.ok) return inside;
    numbers[name] = number.value;
  }
  for (const [name, range] of [
    ['stack', stackLimits],
    ['air', airLimits],
  ] as const) {
    const celsius = readNumber(`${name}-c`, text(`${name}-c`));
    const fahrenheit = readNumber(`${name}-f`, text(`${name}-f`));
    if (!celsius.ok) return celsius;
    if (!fahrenheit.ok) return fahrenheit;
    if (celsius.value !== undefined && fahrenheit.value !== undefined) return err(problem('usage', computeTexts.oneUnit(name)));
    const value = celsius.value ?? (fahrenheit.value === undefined ? undefined : celsiusFromFahrenheit(fahrenheit.value));
    if (value === undefined) continue;
    const inside = checkLimits(celsius.value === undefined ? `${name}-f` : `${name}-c`, value, range, fahrenheit.value);
    if (!inside.ok) return inside;
    numbers[`${name}-c`] = value;
  }
  return ok(numbers);
}

const checkLimits = (name: string, value: number, [low, high]: readonly [number, number], typed = value): Result<number, Problem> =>
  value >= low && value <= high
    ? ok(value)
    : err(problem('value-out-of-range', `--${name} ${typed} is outside ${low} to ${high}${name.endsWith('-f') ? ' degC' : ''}.`));

/** Puts the input of `derive` together; what was assumed is noted. */
export function prepare(fuel: Fuel, numbers: Numbers): Result<{ input: DeriveInput; notes: string[] }, Problem> {
  const notes: string[] = [];
  const { o2, co2, co, rh } = numbers;
  if (o2 === undefined && co2 === undefined) return err(problem('usage', computeTexts.giveO2OrCo2));
  if (numbers.humidity !== undefined && rh !== undefined) return err(problem('usage', computeTexts.humidityOrRh));
  const pressure = barometer(numbers);
  if (!pressure.ok) return pressure;
  const pressurePa = pressure.value;

  let humidity = numbers.humidity;
  if (rh !== undefined) {
    if (numbers['air-c'] === undefined) return err(problem('value-missing', computeTexts.rhNeedsAir));
    humidity = humidityKgPerKg({ relativePercent: rh, airC: numbers['air-c'], pressurePa });
    if (humidity === undefined) return err(problem('value-out-of-range', computeTexts.humidityNotPossible));
  }
  let fromCo2 = co2;
  if (o2 === undefined && co2 !== undefined) {
    const computed = o2FromCo2Percent(fuel.stoichiometry, co2, co);
    if (computed < -0.1)
      return err(problem('value-out-of-range', computeTexts.tooMuchCo2(co2, fuel.name, fuel.stoichiometry.co2MaxPercent.toFixed(2))));
    if (computed < 0) {
      // a maximum that was typed rounded must not fail by its last digit
      fromCo2 = fuel.stoichiometry.co2MaxPercent - (co ?? 0) * 1e-4;
      notes.push(computeTexts.mostCo2);
    }
  }
  if (humidity === undefined) notes.push(computeTexts.airTakenDry);
  const tolerances = {
    o2: numbers['o2-u'],
    co2: numbers['co2-u'],
    coPpm: numbers['co-u'],
    stackK: numbers['stack-u'],
    airK: numbers['air-u'],
    fuelPoints: numbers['fuel-u'],
  };
  return ok({
    input: {
      timeMs: 0,
      fuel,
      o2PercentDry: o2,
      co2PercentDry: fromCo2,
      coPpmDry: co,
      stackC: numbers['stack-c'],
      airC: numbers['air-c'],
      humidityKgPerKg: humidity,
      pressurePa,
      sulfurPpm: numbers['sulfur-ppm'],
      tolerances,
    },
    notes,
  });
}

/** @returns Pa, or nothing when neither pressure nor altitude was given */
function barometer(numbers: Numbers): Result<number | undefined, Problem> {
  const altitudeFt = numbers['altitude-ft'];
  const given = [numbers['pressure-kpa'], numbers['altitude-m'], altitudeFt].filter((value) => value !== undefined).length;
  if (given > 1) return err(problem('usage', computeTexts.onePressure));
  if (numbers['pressure-kpa'] !== undefined) return ok(numbers['pressure-kpa'] * 1000);
  const altitudeM = numbers['altitude-m'] ?? (altitudeFt === undefined ? undefined : altitudeFt * M_PER_FOOT);
  return ok(altitudeM === undefined ? undefined : STANDARD_PRESSURE_PA * pressureRatio(altitudeM));
}

/** `compute`: one set of values in, the whole combustion result out. */
import { pressureRatio } from '../../shared/combustion/atmosphere.ts';
import { STANDARD_PRESSURE_PA } from '../../shared/combustion/constants.ts';
import { derive } from '../../shared/combustion/figures/derive.ts';
import { co2MaxDoubt, co2MaxRefusal, withCo2Max } from '../../shared/combustion/co2-max.ts';
import { excessAirMethod3bPercent, excessAirSimplePercent, o2FromCo2Percent } from '../../shared/combustion/excess-air.ts';
import { checkGasConsistency } from '../../shared/combustion/f-factors.ts';
import type { Fuel } from '../../shared/combustion/fuel.ts';
import { humidityKgPerKg } from '../../shared/combustion/humid-air.ts';
import { roundToUncertainty } from '../../shared/combustion/figures/uncertainty.ts';
import type { BlankReason, Derived, DerivedKey } from '../../shared/measurement/derived.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { celsiusFromFahrenheit } from '../../shared/units/convert.ts';
import { quantities } from '../../shared/units/quantities.ts';
import { EXIT_DONE, fail, readNumber, readOptions, type Command } from './command.ts';
import { fuelOptions, fuelUsage, readFuel } from './input/fuel-option.ts';
import { jsonNumber } from './output/json-number.ts';
import type { DeriveInput } from '../../shared/combustion/figures/figures.ts';
import { whenDefined } from '../../shared/defined.ts';
import { computeTexts } from '../../shared/words/commands/combustion.ts';
import { blankSentences } from '../../shared/words/core/blank-sentences.ts';

const options = {
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

const usage = computeTexts.usage(fuelUsage);

/** Contract name -> figure. */
const keys = {
  excess_air_pct: 'excessAirPercent',
  lambda: 'lambda',
  co2_pct: 'co2Percent',
  co2_max_pct: 'co2MaxPercent',
  co_air_free_ppm: 'coAirFreePpm',
  co_at_3pct_o2_ppm: 'coAt3PercentO2Ppm',
  co_mg_kwh: 'coMgPerKwh',
  net_stack_c: 'netStackC',
  loss_dry_gas_pct: 'lossDryGasPercent',
  loss_latent_pct: 'lossLatentPercent',
  loss_vapour_pct: 'lossVapourPercent',
  loss_air_moisture_pct: 'lossAirMoisturePercent',
  loss_co_pct: 'lossCoPercent',
  stack_loss_hhv_pct: 'stackLossPercent',
  stack_loss_lhv_pct: 'stackLossLhvPercent',
  efficiency_hhv_pct: 'efficiencyHhvPercent',
  efficiency_lhv_pct: 'efficiencyLhvPercent',
  siegert_loss_pct: 'siegertLossPercent',
  h2o_wet_pct: 'h2oWetPercent',
  water_dew_point_c: 'waterDewPointC',
  water_dew_margin_k: 'waterDewPointMarginK',
  acid_dew_point_c: 'acidDewPointC',
  acid_dew_point_okkes_c: 'acidDewPointOkkesC',
  acid_dew_margin_k: 'acidDewPointMarginK',
} as const satisfies Record<string, DerivedKey>;

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

export const command: Command = {
  name: 'compute',
  usage,
  run(args, io) {
    const parsed = readOptions(args, options);
    if (!parsed.ok) return Promise.resolve(fail(io, parsed.error));
    const { values } = parsed.value;
    const fuel = readFuel(values);
    if (!fuel.ok) return Promise.resolve(fail(io, fuel.error));
    const numbers = readNumbers(values);
    if (!numbers.ok) return Promise.resolve(fail(io, numbers.error));
    const co2Max = numbers.value['co2-max'];
    const refusal = co2Max === undefined ? undefined : co2MaxRefusal(fuel.value.fuel, co2Max);
    if (refusal !== undefined) return Promise.resolve(fail(io, problem('value-out-of-range', refusal)));
    const prepared = prepare(withCo2Max(fuel.value.fuel, co2Max), numbers.value);
    if (!prepared.ok) return Promise.resolve(fail(io, prepared.error));
    const { input, notes } = prepared.value;
    const derived = derive(input);
    const allNotes = [...fuel.value.notes, ...notes, ...blankNotes(derived), ...co2MaxNotes(input), ...gasNotes(input, derived)];
    if (values.json === true) io.out(JSON.stringify(toJson(input, derived, allNotes)));
    else for (const line of toLines(input, derived, allNotes)) io.out(line);
    return Promise.resolve(EXIT_DONE);
  },
};

function readNumbers(values: Readonly<Partial<Record<keyof typeof options, string | boolean>>>): Result<Numbers, Problem> {
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
function prepare(fuel: Fuel, numbers: Numbers): Result<{ input: DeriveInput; notes: string[] }, Problem> {
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

/** One sentence per reason, not one per figure. */
const blankNotes = ({ blank }: Derived): string[] =>
  [...new Set(Object.values(blank))].map((reason: BlankReason) => blankSentences[reason]);

const co2MaxNotes = ({ fuel, o2PercentDry }: DeriveInput): string[] =>
  fuel.co2MaxSetPercent === undefined
    ? []
    : [
        ...whenDefined(co2MaxDoubt(fuel, fuel.co2MaxSetPercent)),
        o2PercentDry === undefined ? computeTexts.co2MaxGivesO2 : computeTexts.co2MaxLeavesLosses,
      ];

function gasNotes({ fuel, o2PercentDry, co2PercentDry, coPpmDry, stackC }: DeriveInput, { values }: Derived): string[] {
  const notes: string[] = [];
  if (o2PercentDry !== undefined && co2PercentDry !== undefined) {
    const check = checkGasConsistency(fuel, o2PercentDry, co2PercentDry, coPpmDry);
    if (check !== undefined) notes.push(check.text);
  }
  if ((values.excessAirPercent ?? 0) < 0) notes.push(computeTexts.tooMuchCo);
  if (values.efficiencyHhvPercent !== undefined && stackC !== undefined && (stackC > 600 || stackC < 50))
    notes.push(computeTexts.stackOutsideMethod);
  const airFree = values.coAirFreePpm;
  if (airFree !== undefined && airFree > 400) notes.push(computeTexts.coStop);
  else if (airFree !== undefined && airFree >= 100) notes.push(computeTexts.coFindCause);
  if (values.acidDewPointMarginK !== undefined && values.acidDewPointMarginK < 0) notes.push(computeTexts.belowAcidDewPoint);
  return notes;
}

/** O2 that the figures rest on: as given, or computed from CO2. */
const usedO2 = ({ fuel, o2PercentDry, co2PercentDry, coPpmDry }: DeriveInput): number | undefined =>
  o2PercentDry ?? (co2PercentDry === undefined ? undefined : Math.max(0, o2FromCo2Percent(fuel.stoichiometry, co2PercentDry, coPpmDry)));

function toJson(input: DeriveInput, derived: Derived, notes: readonly string[]): Record<string, unknown> {
  const o2 = usedO2(input);
  const result: Record<string, unknown> = {
    fuel: input.fuel.id,
    co2_max_from: input.fuel.co2MaxSetPercent === undefined ? 'fuel' : 'set',
    o2_pct: jsonNumber(o2),
    pressure_kpa: jsonNumber((input.pressurePa ?? STANDARD_PRESSURE_PA) / 1000),
  };
  for (const [name, key] of Object.entries(keys)) result[name] = jsonNumber(derived.values[key]);
  // like dry air: the efficiency was computed with this term at nothing, and the note says that it was assumed
  if (input.coPpmDry === undefined && derived.values.efficiencyHhvPercent !== undefined) result['loss_co_pct'] = 0;
  const hasAir = derived.values.excessAirPercent !== undefined && o2 !== undefined;
  result['excess_air_simple_pct'] = jsonNumber(hasAir ? excessAirSimplePercent(o2) : undefined);
  result['excess_air_method3b_pct'] = jsonNumber(
    hasAir && derived.values.co2Percent !== undefined
      ? excessAirMethod3bPercent({
          o2PercentDry: o2,
          co2PercentDry: input.co2PercentDry ?? derived.values.co2Percent,
          coPpmDry: input.coPpmDry,
        })
      : undefined,
  );
  result['efficiency_u_pct'] = jsonNumber(derived.expanded.efficiencyHhvPercent);
  result['u'] = Object.fromEntries(Object.entries(keys).map(([name, key]) => [name, jsonNumber(derived.expanded[key])]));
  result['notes'] = notes;
  return result;
}

function toLines(input: DeriveInput, derived: Derived, notes: readonly string[]): string[] {
  const rows = [
    `Fuel: ${input.fuel.name}`,
    `${'O2'.padEnd(32)}${(usedO2(input) ?? 0).toFixed(2)} %${input.o2PercentDry === undefined ? ' (from CO2)' : ''}`,
  ];
  for (const key of Object.values(keys)) {
    const { label, unit, ...rest } = quantities[key];
    const value = derived.values[key];
    const basis = 'basis' in rest ? ` (${rest.basis})` : '';
    const text = value === undefined ? '--' : `${writeWithUncertainty(value, derived.expanded[key])} ${unit}`.trimEnd();
    rows.push(`${`${label}${basis}`.padEnd(46)}${text}`);
  }
  return [...rows, ...notes.map((note) => `- ${note}`)];
}

const writeWithUncertainty = (value: number, expanded: number | undefined): string =>
  expanded === undefined || expanded < 1e-6 ? value.toFixed(2) : roundToUncertainty(value, expanded).text;

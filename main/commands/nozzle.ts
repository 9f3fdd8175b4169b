/** `nozzle`: flow at the pump pressure, heat input, air needed. */
import { densityRatio, pressureRatio } from '../../shared/combustion/atmosphere.ts';
import { STANDARD_PRESSURE_PA } from '../../shared/combustion/constants.ts';
import { excessAirPercent } from '../../shared/combustion/excess-air.ts';
import { airVolumeM3PerKg, firing } from '../../shared/combustion/nozzle.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { L_PER_US_GALLON, PA_PER_BAR, PA_PER_PSI } from '../../shared/units/convert.ts';
import { EXIT_DONE, fail, readNumber, readOptions, type Command } from './command.ts';
import { fuelOptions, fuelUsage, readFuel } from './input/fuel-option.ts';
import { jsonNumber } from './output/json-number.ts';
import { nozzleTexts } from '../../shared/words/commands/combustion.ts';

const options = {
  ...fuelOptions,
  'rated-gph': { type: 'string' },
  'rated-l-h': { type: 'string' },
  'pressure-psi': { type: 'string' },
  'pressure-bar': { type: 'string' },
  o2: { type: 'string' },
  'air-c': { type: 'string' },
  'altitude-ft': { type: 'string' },
  'altitude-m': { type: 'string' },
  json: { type: 'boolean' },
} as const;

const M_PER_FOOT = 0.3048;

const usage = nozzleTexts.usage(fuelUsage);

export const command: Command = {
  name: 'nozzle',
  usage,
  run(args, io) {
    const parsed = readOptions(args, options);
    if (!parsed.ok) return Promise.resolve(fail(io, parsed.error));
    const { values } = parsed.value;
    const fuel = readFuel(values);
    if (!fuel.ok) return Promise.resolve(fail(io, fuel.error));
    const rated = oneOf('rated-gph', values['rated-gph'], 'rated-l-h', values['rated-l-h'], L_PER_US_GALLON, 200);
    if (!rated.ok) return Promise.resolve(fail(io, rated.error));
    const psi = oneOf('pressure-psi', values['pressure-psi'], 'pressure-bar', values['pressure-bar'], PA_PER_PSI / PA_PER_BAR, 1500);
    if (!psi.ok) return Promise.resolve(fail(io, psi.error));
    const o2 = inRange('o2', values.o2, 0, 18);
    if (!o2.ok) return Promise.resolve(fail(io, o2.error));
    const airC = inRange('air-c', values['air-c'], -60, 100);
    if (!airC.ok) return Promise.resolve(fail(io, airC.error));
    if (values['altitude-ft'] !== undefined && values['altitude-m'] !== undefined) {
      return Promise.resolve(fail(io, problem('usage', nozzleTexts.oneAltitude)));
    }
    const feet = inRange('altitude-ft', values['altitude-ft'], -1600, 20_000);
    if (!feet.ok) return Promise.resolve(fail(io, feet.error));
    const metres = inRange('altitude-m', values['altitude-m'], -500, 6000);
    if (!metres.ok) return Promise.resolve(fail(io, metres.error));
    const altitudeM = metres.value ?? (feet.value ?? 0) * M_PER_FOOT;

    const flow = firing({ fuel: fuel.value.fuel, ratedGph: rated.value, pressurePa: psi.value * PA_PER_PSI });
    if (flow === undefined) return Promise.resolve(fail(io, problem('fuel-no-density', `${fuel.value.fuel.name}.`)));
    const lambda =
      o2.value === undefined ? undefined : 1 + excessAirPercent(fuel.value.fuel.stoichiometry, { o2PercentDry: o2.value }) / 100;
    const airKgPerH = lambda === undefined ? undefined : lambda * flow.airKgPerH;
    const result = {
      fuel: fuel.value.fuel.id,
      flow_gph: jsonNumber(flow.flowGph),
      flow_l_h: jsonNumber(flow.flowLPerH),
      flow_kg_h: jsonNumber(flow.flowKgPerH),
      input_hhv_kw: jsonNumber(flow.inputHhvKw),
      input_hhv_btu_h: jsonNumber(flow.inputHhvBtuPerH),
      input_lhv_kw: jsonNumber(flow.inputLhvKw),
      air_stoichiometric_kg_h: jsonNumber(flow.airKgPerH),
      air_stoichiometric_nm3_h: jsonNumber(flow.airNm3PerH),
      air_kg_h: jsonNumber(airKgPerH),
      air_m3_h: jsonNumber(
        airKgPerH === undefined
          ? undefined
          : airKgPerH * airVolumeM3PerKg({ airC: airC.value ?? 20, pressurePa: STANDARD_PRESSURE_PA * pressureRatio(altitudeM) }),
      ),
      pressure_ratio: jsonNumber(pressureRatio(altitudeM)),
      air_density_ratio: jsonNumber(densityRatio(altitudeM)),
      notes: [...fuel.value.notes, nozzleTexts.ratingTolerance],
    };
    if (values.json === true) io.out(JSON.stringify(result));
    else
      for (const [key, value] of Object.entries(result))
        io.out(`${key.padEnd(28)}${value === null ? '--' : typeof value === 'number' ? Number(value.toPrecision(5)) : String(value)}`);
    return Promise.resolve(EXIT_DONE);
  },
};

/** One of two units; the result is in the first one. `ratio`: second unit per first unit. */
function oneOf(
  name: string,
  text: string | undefined,
  otherName: string,
  otherText: string | undefined,
  ratio: number,
  high: number,
): Result<number, Problem> {
  if ((text === undefined) === (otherText === undefined)) return err(problem('usage', `Give --${name} or --${otherName}.`));
  const number = readNumber(text === undefined ? otherName : name, text ?? otherText);
  if (!number.ok) return number;
  const value = (number.value ?? 0) / (text === undefined ? ratio : 1);
  if (!(value > 0 && value <= high))
    return err(problem('value-out-of-range', nozzleTexts.notPossible(text === undefined ? otherName : name, String(number.value))));
  return ok(value);
}

function inRange(name: string, text: string | undefined, low: number, high: number): Result<number | undefined, Problem> {
  const number = readNumber(name, text);
  if (!number.ok || number.value === undefined) return number;
  return number.value >= low && number.value <= high
    ? number
    : err(problem('value-out-of-range', `--${name} ${number.value} is outside ${low} to ${high}.`));
}

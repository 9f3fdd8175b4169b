/** `fuel`: what follows from a fuel's composition. */
import { fFactors, fFactorsFromBalance } from '../../shared/combustion/f-factors.ts';
import type { Fuel } from '../../shared/combustion/fuel.ts';
import { NM3_PER_KMOL } from '../../shared/combustion/constants.ts';
import { problem } from '../../shared/problem.ts';
import { EXIT_DONE, fail, readOptions, type Command } from './command.ts';
import { fuelOptions, fuelUsage, readFuel } from './input/fuel-option.ts';
import { jsonNumber } from './output/json-number.ts';
import { fuelTexts } from '../../shared/words/commands/combustion.ts';

const options = { ...fuelOptions, json: { type: 'boolean' } } as const;

const usage = fuelTexts.usage(fuelUsage);

export const command: Command = {
  name: 'fuel',
  usage,
  run(args, io) {
    const parsed = readOptions(args, options, 1);
    if (!parsed.ok) return Promise.resolve(fail(io, parsed.error));
    const { values, positionals } = parsed.value;
    const [id] = positionals;
    if (id !== undefined && values.fuel !== undefined) return Promise.resolve(fail(io, problem('usage', fuelTexts.nameFuelOnce)));
    const fuel = readFuel(id === undefined ? values : { ...values, fuel: id });
    if (!fuel.ok) return Promise.resolve(fail(io, fuel.error));
    const result = describe(fuel.value.fuel, fuel.value.notes);
    if (values.json === true) io.out(JSON.stringify(result));
    else for (const [key, value] of Object.entries(result)) io.out(`${key.padEnd(24)}${write(value)}`);
    return Promise.resolve(EXIT_DONE);
  },
};

function describe(fuel: Fuel, notes: readonly string[]): Record<string, unknown> {
  const { stoichiometry: st, analysis } = fuel;
  const factors = fFactors(fuel);
  const exact = fFactorsFromBalance(fuel);
  return {
    id: fuel.id,
    name: fuel.name,
    c_pct: jsonNumber(100 * analysis.c),
    h_pct: jsonNumber(100 * analysis.h),
    o_pct: jsonNumber(100 * analysis.o),
    n_pct: jsonNumber(100 * analysis.n),
    s_pct: jsonNumber(100 * analysis.s),
    w_pct: jsonNumber(100 * analysis.w),
    hhv_kj_kg: jsonNumber(fuel.hhvKjPerKg),
    lhv_kj_kg: jsonNumber(fuel.lhvKjPerKg),
    density_kg_l: jsonNumber(fuel.densityKgPerL),
    air_fuel_kg_kg: jsonNumber(st.airFuelKgPerKg),
    air_nm3_kg: jsonNumber(st.air * NM3_PER_KMOL),
    dry_gas_nm3_kg: jsonNumber(st.dryGas * NM3_PER_KMOL),
    wet_gas_nm3_kg: jsonNumber(st.wetGas * NM3_PER_KMOL),
    co2_max_pct: jsonNumber(st.co2MaxPercent),
    dry_gas_air_ratio: jsonNumber(st.dryGasAirRatio),
    fd_dscf_mmbtu: jsonNumber(factors.fdDscfPerMmbtu),
    fw_wscf_mmbtu: jsonNumber(factors.fwWscfPerMmbtu),
    fc_scf_mmbtu: jsonNumber(factors.fcScfPerMmbtu),
    fo: jsonNumber(factors.fo),
    fd_exact_dscf_mmbtu: jsonNumber(exact.fdDscfPerMmbtu),
    fw_exact_wscf_mmbtu: jsonNumber(exact.fwWscfPerMmbtu),
    fc_exact_scf_mmbtu: jsonNumber(exact.fcScfPerMmbtu),
    source: fuel.source,
    notes,
  };
}

const write = (value: unknown): string => {
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.join(' ');
  if (typeof value === 'number') return String(Number(value.toPrecision(6)));
  return typeof value === 'string' ? value : '--';
};

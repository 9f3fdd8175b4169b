import { STANDARD_PRESSURE_PA } from '../../../shared/combustion/constants.ts';
import { excessAirMethod3bPercent, excessAirSimplePercent, o2FromCo2Percent } from '../../../shared/combustion/excess-air.ts';
import { roundToUncertainty } from '../../../shared/combustion/figures/uncertainty.ts';
import { figureNames, type Derived, type DerivedKey } from '../../../shared/measurement/derived.ts';
import { quantities } from '../../../shared/units/quantities.ts';
import { jsonNumber } from './json-number.ts';
import type { DeriveInput } from '../../../shared/combustion/figures/figures.ts';

const keys = Object.entries(figureNames) as [DerivedKey, string][];

/** O2 that the figures rest on: as given, or computed from CO2. */
const usedO2 = ({ fuel, o2PercentDry, co2PercentDry, coPpmDry }: DeriveInput): number | undefined =>
  o2PercentDry ?? (co2PercentDry === undefined ? undefined : Math.max(0, o2FromCo2Percent(fuel.stoichiometry, co2PercentDry, coPpmDry)));

export function toJson(input: DeriveInput, derived: Derived, notes: readonly string[]): Record<string, unknown> {
  const o2 = usedO2(input);
  const result: Record<string, unknown> = {
    fuel: input.fuel.id,
    co2_max_from: input.fuel.co2MaxSetPercent === undefined ? 'fuel' : 'set',
    o2_pct: jsonNumber(o2),
    pressure_kpa: jsonNumber((input.pressurePa ?? STANDARD_PRESSURE_PA) / 1000),
  };
  for (const [key, name] of keys) result[name] = jsonNumber(derived.values[key]);
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
  result['u'] = Object.fromEntries(keys.map(([key, name]) => [name, jsonNumber(derived.expanded[key])]));
  result['notes'] = notes;
  return result;
}

export function toLines(input: DeriveInput, derived: Derived, notes: readonly string[]): string[] {
  const rows = [
    `Fuel: ${input.fuel.name}`,
    `${'O2'.padEnd(32)}${(usedO2(input) ?? 0).toFixed(2)} %${input.o2PercentDry === undefined ? ' (from CO2)' : ''}`,
  ];
  for (const [key] of keys) {
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

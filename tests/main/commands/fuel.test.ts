import { describe, expect, it } from 'vitest';
import { command } from '../../../main/commands/fuel.ts';
import { goldenJson } from '../../shared/combustion/golden-table.ts';
import { runCommand } from './run-command.ts';

const contractKeys = [
  'hhv_kj_kg',
  'lhv_kj_kg',
  'density_kg_l',
  'air_fuel_kg_kg',
  'dry_gas_nm3_kg',
  'wet_gas_nm3_kg',
  'co2_max_pct',
  'dry_gas_air_ratio',
  'fd_dscf_mmbtu',
  'fw_wscf_mmbtu',
  'fc_scf_mmbtu',
  'fo',
];
type Row = {
  id: string;
  hhv_kJkg: number;
  lhv_kJkg: number;
  rho_kgL: number | null;
  af_kgkg: number;
  dry0_Nm3kg: number;
  wet0_Nm3kg: number;
  co2max_pct: number;
  dry_air_ratio: number;
};

describe('fuel', () => {
  it.each(goldenJson<{ fuels: Row[] }>('fuels.json').fuels)('$id as in the table', async (row) => {
    const { json, code } = await runCommand(command, `${row.id} --json`);
    expect(code).toBe(0);
    for (const key of contractKeys) expect(json, key).toHaveProperty(key);
    expect(json['hhv_kj_kg']).toBeCloseTo(row.hhv_kJkg, 0);
    expect(json['lhv_kj_kg']).toBeCloseTo(row.lhv_kJkg, 0);
    if (row.rho_kgL === null) expect(json['density_kg_l']).toBeNull();
    else expect(json['density_kg_l']).toBeCloseTo(row.rho_kgL, 4);
    expect(json['air_fuel_kg_kg']).toBeCloseTo(row.af_kgkg, 3);
    expect(json['dry_gas_nm3_kg']).toBeCloseTo(row.dry0_Nm3kg, 3);
    expect(json['wet_gas_nm3_kg']).toBeCloseTo(row.wet0_Nm3kg, 3);
    expect(json['co2_max_pct']).toBeCloseTo(row.co2max_pct, 2);
    expect(json['dry_gas_air_ratio']).toBeCloseTo(row.dry_air_ratio, 4);
  });

  it('No.2 by the Method 19 coefficients: Fd 9253, Fw 10 540, Fc 1432, Fo 1.350 (40 CFR 60 App. A-7, from memory)', async () => {
    const { json } = await runCommand(command, 'no2 --json');
    expect(json['fd_dscf_mmbtu']).toBeCloseTo(9253, -0.5);
    expect(json['fw_wscf_mmbtu']).toBeCloseTo(10_539.5, -0.5);
    expect(json['fc_scf_mmbtu']).toBeCloseTo(1432, -0.5);
    expect(json['fo']).toBeCloseTo(1.35, 3);
  });

  it('takes an own analysis and the specific gravity alone', async () => {
    const own = await runCommand(command, '--ultimate 74.87,25.13,0,0,0,0 --hhv 55512 --json');
    expect(own.json['co2_max_pct']).toBeCloseTo(11.698, 2);
    const cragoe = await runCommand(command, '--specific-gravity 0,855 --json');
    expect(cragoe.json['air_fuel_kg_kg']).toBeCloseTo(14.515, 2);
    expect(JSON.stringify(cragoe.json['notes'])).toMatch(/Cragoe/);
    expect((await runCommand(command, '--fuel no2 --json')).json['id']).toBe('no2');
  });

  it.each([
    ['', 2, /Which fuel/],
    ['no9', 1, /no such fuel.*no2, no2-2000s/],
    ['no2 b20', 2, /not expected/],
    ['no2 --fuel b20', 2, /once/],
    ['--ultimate 87,13,0,0,0', 2, /six numbers, .* 5 came/],
    ['--ultimate 87,13,0,0,0,0', 2, /--hhv/],
    ['--ultimate 80,13,0,0,0,0 --hhv 45357', 1, /add up to 93 %/],
    ['--ultimate 87,13,0,0,0,0 --hhv 19500', 1, /Btu\/lb/],
    ['--ultimate a,13,0,0,0,0 --hhv 45357', 2, /not a number/],
    ['--specific-gravity 850', 1, /0\.75 to 1/],
    ['no2 --hhv 45000', 2, /belong to --ultimate/],
  ])('refuses "%s", exit %s', async (line, code, words) => {
    const ran = await runCommand(command, line);
    expect(ran.code).toBe(code);
    expect(ran.out).toEqual([]);
    expect(ran.errors.length).toBe(1);
    expect(ran.errors[0]).toMatch(words);
  });
});

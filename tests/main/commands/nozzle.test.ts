import { describe, expect, it } from 'vitest';
import { command } from '../../../main/commands/nozzle.ts';
import { runCommand } from './run-command.ts';

describe('nozzle', () => {
  it.each([
    [0.85, 140, 1.0057],
    [1, 150, 1.2247],
    [0.65, 125, 0.7267],
    [0.5, 200, 0.7071],
    [1, 100, 1],
  ])('%s gph at %s psi -> %s gph (square-root law)', async (rated, psi, flow) => {
    const { json, code } = await runCommand(command, `--rated-gph ${rated} --pressure-psi ${psi} --fuel no2 --json`);
    expect(code).toBe(0);
    expect(json['flow_gph']).toBeCloseTo(flow, 4);
    expect(json['flow_l_h']).toBeCloseTo((json['flow_gph'] as number) * 3.785411784, 6);
    expect(json['flow_kg_h']).toBeCloseTo((json['flow_l_h'] as number) * 0.85, 6);
    // the fuel's own heating value: 45 357 kJ/kg
    expect(json['input_hhv_kw']).toBeCloseTo(((json['flow_kg_h'] as number) * 45_357) / 3600, 5);
    expect(json['input_hhv_btu_h']).toBeCloseTo((json['input_hhv_kw'] as number) * 3412.142, 0);
    expect(json['input_lhv_kw']).toBeCloseTo(((json['flow_kg_h'] as number) * 42_519.4) / 3600, 3);
  });

  it('takes metric units and gives the air at an O2', async () => {
    const us = (await runCommand(command, '--rated-gph 0.85 --pressure-psi 145.0377 --fuel no2 --o2 5 --json')).json;
    const metric = (await runCommand(command, '--rated-l-h 3.2176 --pressure-bar 10 --fuel no2 --o2 5 --json')).json;
    expect(metric['flow_gph']).toBeCloseTo(us['flow_gph'] as number, 4);
    expect(us['air_kg_h']).toBeCloseTo((us['air_stoichiometric_kg_h'] as number) * 1.29333, 2);
  });

  it('knows the altitude: 5000 ft has 0.8321 of the pressure and 0.8617 of the density (US Standard Atmosphere 1976, from memory)', async () => {
    const high = (await runCommand(command, '--rated-gph 0.85 --pressure-psi 140 --fuel no2 --o2 5 --altitude-ft 5000 --json')).json;
    const low = (await runCommand(command, '--rated-gph 0.85 --pressure-psi 140 --fuel no2 --o2 5 --json')).json;
    expect(Math.abs((high['pressure_ratio'] as number) - 0.8321)).toBeLessThan(1e-4);
    expect(Math.abs((high['air_density_ratio'] as number) - 0.8617)).toBeLessThan(1e-4);
    expect(low['pressure_ratio']).toBe(1);
    expect((low['air_m3_h'] as number) / (high['air_m3_h'] as number)).toBeCloseTo(0.832, 3);
    expect(high['air_kg_h']).toBe(low['air_kg_h']);
  });

  it.each([
    ['--pressure-psi 140 --fuel no2', 2, /--rated-gph/],
    ['--rated-gph 0.85 --fuel no2', 2, /--pressure-psi/],
    ['--rated-gph 0.85 --rated-l-h 3 --pressure-psi 100 --fuel no2', 2, /--rated-gph or/],
    ['--rated-gph 0 --pressure-psi 100 --fuel no2', 1, /not possible/],
    ['--rated-gph 0.85 --pressure-psi -100 --fuel no2', 1, /not possible/],
    ['--rated-gph x --pressure-psi 100 --fuel no2', 2, /not a number/],
    ['--rated-gph 0.85 --pressure-psi 100 --fuel methane', 1, /no liquid density/],
  ])('refuses %s, exit %s', async (line, code, words) => {
    const ran = await runCommand(command, line);
    expect(ran.code).toBe(code);
    expect(ran.out).toEqual([]);
    expect(ran.errors.join('\n')).toMatch(words);
  });
});

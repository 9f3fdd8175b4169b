import { describe, expect, it } from 'vitest';
import { command } from '../../../main/commands/compute.ts';
import { runCommand } from './run-command.ts';

const contractKeys = [
  'o2_pct',
  'excess_air_pct',
  'lambda',
  'co2_pct',
  'co2_max_pct',
  'co_air_free_ppm',
  'co_at_3pct_o2_ppm',
  'net_stack_c',
  'loss_dry_gas_pct',
  'loss_latent_pct',
  'loss_vapour_pct',
  'loss_air_moisture_pct',
  'loss_co_pct',
  'efficiency_hhv_pct',
  'efficiency_lhv_pct',
  'siegert_loss_pct',
  'h2o_wet_pct',
  'water_dew_point_c',
  'acid_dew_point_c',
  'acid_dew_point_okkes_c',
  'efficiency_u_pct',
  'notes',
];
const compute = async (line: string) => runCommand(command, `${line} --json`);
const near = (value: unknown, expected: number, tolerance: number): void => {
  expect(typeof value).toBe('number');
  expect(Math.abs((value as number) - expected)).toBeLessThanOrEqual(tolerance);
};

describe('compute', () => {
  it('has every key of the contract, null where nothing can be said', async () => {
    const { json, code } = await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 20');
    expect(code).toBe(0);
    for (const key of contractKeys) expect(json, key).toHaveProperty(key);
    expect(json['co_air_free_ppm']).toBeNull();
    expect(json['loss_co_pct']).toBe(0);
    expect(json['notes']).toContainEqual(expect.stringMatching(/no CO reading: combustion is taken as complete/));
    expect(json['acid_dew_point_c']).toBeNull();
    near(json['efficiency_hhv_pct'], 85.395, 0.1);
    near(json['siegert_loss_pct'], 8.91, 0.01);
    near(json['efficiency_u_pct'], 0.35, 0.01);
  });

  it('worked case D, and the German oil example of the statute (180/20 degC, 5 % -> 7.920 %)', async () => {
    const d = (await compute('--fuel no2 --o2 8 --stack-c 260 --air-c 15 --humidity 0.006 --co 50')).json;
    near(d['efficiency_hhv_pct'], 79.86, 0.1);
    near(d['loss_dry_gas_pct'], 12.46, 0.05);
    near(d['loss_air_moisture_pct'], 0.141, 0.01);
    near((await compute('--fuel no2 --o2 5 --stack-c 180 --air-c 20')).json['siegert_loss_pct'], 7.92, 0.001);
  });

  it('takes the uncertainties as half-widths: U 0.1988 without the fuel term', async () => {
    near((await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 20 --fuel-u 0')).json['efficiency_u_pct'], 0.1988, 0.002);
    near(
      (await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 20 --fuel-u 0 --o2-u 0 --stack-u 0 --air-u 0')).json['efficiency_u_pct'],
      0,
      1e-12,
    );
  });

  it('takes degF: 392/68 degF is 200/20 degC', async () => {
    const { json } = await compute('--fuel no2 --o2 5 --stack-f 392 --air-f 68');
    near(json['net_stack_c'], 180, 1e-6);
    near(json['efficiency_hhv_pct'], 85.395, 0.1);
  });

  it('takes CO2 instead of O2: 12.535 % on No.2 is O2 4 %', async () => {
    const { json } = await compute('--fuel no2 --co2 12.535 --stack-c 200 --air-c 20');
    near(json['o2_pct'], 4, 0.002);
    near(json['excess_air_pct'], 22.08, 0.02);
    near(json['co2_pct'], 12.535, 1e-6);
  });

  it('says in words that O2 3.8 % and CO2 14.3 % do not fit (test table of 1919)', async () => {
    const { json, code } = await compute('--fuel no2 --o2 3.8 --co2 14.3 --stack-c 200 --air-c 20');
    expect(code).toBe(0);
    expect(JSON.stringify(json['notes'])).toMatch(/inconsistent/);
    expect(JSON.stringify((await compute('--fuel no2 --o2 5 --co2 11.8 --stack-c 200 --air-c 20')).json['notes'])).not.toMatch(
      /inconsistent/,
    );
  });

  it('changes sulphur, pressure and humidity', async () => {
    const base = (await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 20 --sulfur-ppm 2000')).json;
    near(base['acid_dew_point_c'], 115.2, 0.2);
    near(base['acid_dew_point_okkes_c'], 115.0, 0.2);
    const high = (await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 20 --pressure-kpa 84.31')).json;
    expect(high['water_dew_point_c']).toBeLessThan(45.07 - 3);
    const altitude = (await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 20 --altitude-ft 5000')).json;
    near(altitude['pressure_kpa'], 84.31, 0.01);
    near(altitude['water_dew_point_c'], high['water_dew_point_c'] as number, 0.01);
    const damp = (await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 20 --humidity 0.01')).json;
    expect(damp['h2o_wet_pct']).toBeGreaterThan(10);
    expect(damp['water_dew_point_c']).toBeGreaterThan(46);
    // 50 % at 25 degC is 0.00988 kg/kg
    const rh = (await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 25 --rh 50')).json;
    const same = (await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 25 --humidity 0.00988')).json;
    near(rh['efficiency_hhv_pct'], same['efficiency_hhv_pct'] as number, 0.001);
  });

  it.each([
    {
      line: '--fuel no2 --o2 18.5 --stack-c 200 --air-c 20',
      nulls: ['excess_air_pct', 'lambda', 'efficiency_hhv_pct', 'loss_dry_gas_pct', 'siegert_loss_pct'],
      note: /18 %/,
    },
    { line: '--fuel no2 --o2 15.5 --co 50 --stack-c 200 --air-c 20', nulls: ['co_air_free_ppm'], note: /15 %/ },
    { line: '--fuel no2 --o2 5 --stack-c 20 --air-c 20', nulls: ['efficiency_hhv_pct', 'loss_latent_pct'], note: /not warmer/ },
    { line: '--fuel no2 --o2 5 --stack-c 44 --air-c 20', nulls: ['efficiency_hhv_pct', 'loss_latent_pct'], note: /dew point/ },
    { line: '--fuel no2 --o2 5 --stack-c 200', nulls: ['efficiency_hhv_pct', 'net_stack_c'], note: /air temperature/ },
    { line: '--fuel no1 --o2 5 --stack-c 200 --air-c 20', nulls: ['siegert_loss_pct'], note: /Siegert/ },
  ])('leaves blank and says why: $line', async ({ line, nulls, note }) => {
    const { json, code } = await compute(line);
    expect(code).toBe(0);
    for (const key of nulls) expect(json[key], key).toBeNull();
    expect(JSON.stringify(json['notes'])).toMatch(note);
  });

  it('O2 15.5 % still has an excess air', async () => {
    expect((await compute('--fuel no2 --o2 15.5 --co 50 --stack-c 200 --air-c 20')).json['excess_air_pct']).toBeGreaterThan(200);
  });

  it('takes a decimal comma, a true minus and a plain minus', async () => {
    near((await compute('--fuel no2 --o2 4,5 --stack-c 200 --air-c 20')).json['o2_pct'], 4.5, 0);
    near((await compute('--fuel no2 --o2 5 --stack-c 200 --air-c \u221210')).json['net_stack_c'], 210, 1e-9);
    near((await compute('--fuel no2 --o2 5 --stack-c 200 --air-c -10')).json['net_stack_c'], 210, 1e-9);
    near((await compute('--fuel no2 --o2 5 --stack-c 200 --air-c=-10')).json['net_stack_c'], 210, 1e-9);
  });

  it.each([
    ['--fuel no2 --stack-c 200 --air-c 20', 2, /--o2 or --co2/],
    ['--fuel no2 --o2 five', 2, /not a number/],
    ['--fuel no2 --o2 1.234,5', 2, /two separators/],
    ['--fuel no2 --o2 5 --wrong 3', 2, /no option --wrong/],
    ['--fuel no2 --o2 5 --o2 6', 2, /twice/],
    ['--fuel no2 --o2', 2, /needs a value/],
    ['--fuel no2 --o2 5 extra', 2, /not expected/],
    ['--fuel no2 --o2 5 --stack-c 200 --stack-f 400', 2, /not both/],
    ['--o2 5', 2, /Which fuel/],
    ['--fuel coal --o2 5', 1, /no such fuel/],
    ['--fuel no2 --o2 -1', 1, /outside/],
    ['--fuel no2 --o2 45', 1, /outside/],
    ['--fuel no2 --co2 17', 1, /more than/],
    ['--fuel no2 --o2 5 --co -5', 1, /outside/],
    ['--fuel no2 --o2 5 --stack-c 5000', 1, /outside/],
    ['--fuel no2 --o2 5 --pressure-kpa 5', 1, /outside/],
    ['--fuel no2 --o2 NaN', 2, /not a number/],
    ['--fuel no2 --o2 5 --pressure-kpa 100 --altitude-m 10', 2, /only one/],
  ])('refuses %s in one line, exit %s', async (line, code, words) => {
    const ran = await compute(line);
    expect(ran.code).toBe(code);
    expect(ran.out).toEqual([]);
    expect(ran.errors.length).toBe(1);
    expect(ran.errors[0]).toMatch(words);
    expect(ran.errors[0]).not.toMatch(/\n/);
  });

  it('takes an own analysis', async () => {
    const { json } = await runCommand(command, [
      '--ultimate',
      '87,13,0,0,0,0',
      '--hhv',
      '45357',
      '--o2',
      '5',
      '--co',
      '0',
      '--stack-c',
      '200',
      '--air-c',
      '20',
      '--json',
    ]);
    near(json['efficiency_hhv_pct'], 85.395, 0.1);
    expect(json['siegert_loss_pct']).toBeNull();
    const commas = await runCommand(command, ['--ultimate', '86,5;13,5;0;0;0;0', '--hhv', '45500', '--o2', '5', '--json']);
    expect(commas.code).toBe(0);
  });

  it('warns of CO above 100 and 400 ppm air-free (common practice)', async () => {
    expect(JSON.stringify((await compute('--fuel no2 --o2 5 --co 50')).json['notes'])).not.toMatch(/air-free:/);
    expect(JSON.stringify((await compute('--fuel no2 --o2 5 --co 100')).json['notes'])).toMatch(/find the cause/);
    expect(JSON.stringify((await compute('--fuel no2 --o2 5 --co 400')).json['notes'])).toMatch(/stop and correct/);
  });

  it('prints for people, too', async () => {
    const { out, code } = await runCommand(command, '--fuel no2 --o2 5 --stack-c 200 --air-c 20 --co 30');
    expect(code).toBe(0);
    expect(out.join('\n')).toMatch(/Efficiency \(HHV\) +85\.4 ± 0\.4 %/);
    expect(out.join('\n')).not.toMatch(/NaN|undefined/);
  });
});

describe('--co2-max', () => {
  it('turns O2 into CO2 by Siegert’s relation, says where it came from and what it leaves alone', async () => {
    const plain = (await compute('--fuel no2 --o2 5 --stack-c 200 --air-c 20')).json;
    const { json } = await compute('--fuel no2 --o2 5 --co2-max 15.2 --stack-c 200 --air-c 20');
    near(json['co2_pct'], 15.2 * (1 - 5 / 20.95), 0.003);
    expect([json['co2_max_pct'], json['co2_max_from'], plain['co2_max_from']]).toEqual([15.2, 'set', 'fuel']);
    expect(json['efficiency_hhv_pct']).toBe(plain['efficiency_hhv_pct']);
    expect(json['notes']).toContainEqual(expect.stringMatching(/losses and efficiency .* do not change/));
  });
  it('turns CO2 into O2, and all else follows', async () => {
    const { json } = await compute('--fuel no2 --co2 12 --co2-max 15.2 --stack-c 200 --air-c 20');
    near(json['o2_pct'], 20.95 * (1 - 12 / 15.2), 0.003);
    expect(json['notes']).toContainEqual(expect.stringMatching(/O2 is computed from CO2/));
  });
  it('is refused where no such fuel has it, and doubted where it is seldom', async () => {
    expect((await compute('--fuel no2 --o2 5 --co2-max 11.8')).code).toBe(1);
    expect((await compute('--fuel no2 --o2 5 --co2-max 14.5')).json['notes']).toContainEqual(expect.stringMatching(/outside the usual/));
  });
});

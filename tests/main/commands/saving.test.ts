import { describe, expect, it } from 'vitest';
import { command } from '../../../main/commands/saving.ts';
import { runCommand } from './run-command.ts';

describe('saving', () => {
  it('80 -> 85 %, 900 gal of No.2: 5.882 %, 52.94 gal, 540.5 kg (40 CFR 98 Table C-1)', async () => {
    const { json, code } = await runCommand(command, '--before 80 --after 85 --annual-gal 900 --fuel no2 --json');
    expect(code).toBe(0);
    expect(json['fuel_saved_pct']).toBeCloseTo(5.882, 3);
    expect(json['gallons_saved']).toBeCloseTo(52.94, 2);
    expect(Math.abs((json['co2_saved_kg'] as number) - 540.5)).toBeLessThan(0.1);
  });

  it('null where nothing can be said: no consumption, or a gas', async () => {
    const none = (await runCommand(command, '--before 80 --after 85 --fuel no2 --json')).json;
    expect(none).toMatchObject({ gallons_saved: null, co2_saved_kg: null });
    for (const gas of ['natural-gas', 'methane', 'propane']) {
      expect((await runCommand(command, `--before 80 --after 85 --annual-gal 900 --fuel ${gas} --json`)).json['co2_saved_kg']).toBeNull();
    }
  });

  it('says that a worse burner wastes', async () => {
    const { json } = await runCommand(command, '--before 85 --after 80 --annual-gal 900 --fuel no2 --json');
    expect(json['fuel_saved_pct']).toBeCloseTo(-6.25, 6);
    expect(JSON.stringify(json['notes'])).toMatch(/wasted/);
  });

  it.each([
    ['--before 80 --fuel no2', 2, /--before and --after/],
    ['--before -5 --after 85 --fuel no2', 1, /not possible/],
    ['--before 80 --after 120 --fuel no2', 1, /not possible/],
    ['--before 0 --after 85 --fuel no2', 1, /not possible/],
    ['--before 80 --after 85 --annual-gal -1 --fuel no2', 1, /below zero/],
    ['--before eighty --after 85 --fuel no2', 2, /not a number/],
    ['--before 80 --after 85', 2, /Which fuel/],
  ])('refuses %s, exit %s', async (line, code, words) => {
    const ran = await runCommand(command, line);
    expect(ran.code).toBe(code);
    expect(ran.out).toEqual([]);
    expect(ran.errors.join('\n')).toMatch(words);
  });
});

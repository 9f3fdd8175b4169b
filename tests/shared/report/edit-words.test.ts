import { describe, expect, it } from 'vitest';
import { editText } from '../../../shared/report/edit-words.ts';
import type { Edit } from '../../../shared/tuning/visit/visit.ts';
import { START_WALL_MS, fullVisit } from '../../helpers/visits/full-visit.ts';

const { visit } = fullVisit();
const say = (path: Edit['path'], before: unknown, after: unknown, units: 'metric' | 'us' = 'metric') =>
  editText(
    { path, before: before as Edit['before'], after: after as Edit['after'] },
    { visit, units, applianceName: () => 'Boiler north' },
  );
const spaces = (text: string): string => text.replace(/\u2009/g, ' ');
const line = (...given: Parameters<typeof say>): string => {
  const { field, before, after } = say(...given);
  return spaces(`${field}: ${before} -> ${after}`);
};

describe('a change of a visit in words', () => {
  it('names the field, with values and units', () => {
    expect(line(['setUp', 'rows', 'electrodeGapMm', 'asLeft'], 3.9, 3.6)).toBe('Electrode gap, as left: 3.9 mm -> 3.6 mm');
    expect(line(['setUp', 'rows', 'pumpPressurePa', 'asFound'], undefined, 965_266)).toBe('Pump pressure, as found: – -> 9.7 bar');
    // 140 psi, 1 psi = 6894.757 Pa
    expect(line(['setUp', 'rows', 'pumpPressurePa', 'asFound'], undefined, 965_266, 'us')).toBe('Pump pressure, as found: – -> 140 psi');
    expect(line(['airTypedC'], 18, 21)).toBe('Air temperature, typed: 18 °C -> 21 °C');
    expect(line(['airTypedC'], undefined, 20, 'us')).toBe('Air temperature, typed: – -> 68 °F');
    expect(line(['fuelId'], 'no2', 'no1')).toBe('Fuel: No. 2 oil -> No. 1 oil');
    expect(line(['kind'], 'service', 'training')).toBe('Kind of visit: service, to be signed -> training, not signed');
    expect(line(['pressurised'], false, true)).toBe('Chamber under pressure: no -> yes');
    expect(line(['applianceId'], undefined, 'x')).toBe('Appliance: – -> Boiler north');
    expect(line(['stages', 0, 'asLeftTrialId'], visit.trials[1]?.id, visit.trials[2]?.id)).toBe('As-left: trial 2 -> trial 3');
    expect(line(['stages', 0, 'reserveCo2Points'], 1, 1.5)).toBe('Reserve air: 1.0 points CO2 -> 1.5 points CO2');
    expect(line(['at', 'step'], 'as-found', 'safety')).toBe(`${say(['at', 'step'], 'as-found', 'safety').field}: As-found -> Safety`);
    expect(line(['roomCo', 2], undefined, { wallMs: START_WALL_MS, ppm: 4, place: 'boiler room' })).toBe(
      'CO in the room: – -> 4 ppm; place boiler room',
    );
    expect(line(['notes', 1], undefined, { wallMs: START_WALL_MS, text: 'seal renewed' })).toBe('Note: – -> seal renewed');
    expect(line(['cautions', 0], undefined, { wallMs: START_WALL_MS, key: 'hot-surfaces' })).toBe(
      'Caution acknowledged: – -> Flue, probe and door are hot.',
    );
  });

  it('of a group says all that is new, and of two versions only what differs', () => {
    expect(
      line(
        ['people', 0],
        { role: 'technician', name: 'A. Sample', licence: 'T-1' },
        { role: 'technician', name: 'A. Sample', licence: 'T-2' },
      ),
    ).toBe('Technician: licence T-1 -> licence T-2');
    const positions = (shutter: number) => ({
      stage: '1',
      positions: [
        { name: 'shutter', value: shutter },
        { name: 'band', value: 3 },
      ],
    });
    expect(line(['settingFound'], positions(7.2), positions(6))).toBe('Adjusters as found: shutter 7.2, band 3 -> shutter 6, band 3');
    expect(
      line(['safety', 13], undefined, {
        test: 'lockout-no-ignition',
        result: 'fail',
        seconds: 22.35,
        markedSeconds: 15,
        wallMs: START_WALL_MS,
        note: 'late',
      }),
    ).toBe('Safety run-through, Lockout, no ignition: – -> fail; measured 22.4 s; marked 15.0 s; note late');
    expect(line(['bypasses', 0, 'closedWallMs'], undefined, START_WALL_MS)).toBe(
      'Bypass, detector unplugged for the lockout test, removed: – -> 13:02',
    );
    const card = visit.targetCard;
    const changed = { ...card, lines: card?.lines.map((one, at) => (at === 0 ? { ...one, high: (one.high ?? 0) + 1 } : one)) };
    const { before, after } = say(['targetCard'], card, changed);
    expect(before).not.toBe(after);
    expect(before.length).toBeLessThan(40);
    expect(line(['flueCoLimits'], { noticePpm: 100, alarmPpm: 400 }, { noticePpm: 100, alarmPpm: 600, reason: 'old head' })).toBe(
      'Limits of CO in the flue: alarm 400 ppm -> alarm 600 ppm; reason old head',
    );
  });

  it('a time that was put right is seen', () => {
    expect(line(['roomCo', 0], { wallMs: START_WALL_MS, ppm: 0 }, { wallMs: START_WALL_MS + 60_000, ppm: 0 })).toBe(
      'CO in the room: time 13:02 -> time 13:03',
    );
    expect(line(['startedWallMs'], START_WALL_MS, START_WALL_MS + 3_600_000)).toMatch(/^Started: .*13:02 -> .*14:02$/);
  });

  it('never shows bare data, whatever was changed', () => {
    let seen = 0;
    const look = (path: Edit['path'], value: unknown): void => {
      if (path.length > 0 && path.length <= 8) {
        for (const [before, after] of [
          [undefined, value],
          [value, undefined],
        ]) {
          const said = say(path, before, after);
          const all = `${said.field} ${said.before} ${said.after}`;
          expect(all, path.join(' ')).not.toMatch(/[{}[\]"]|undefined|null|NaN|object|[a-z][A-Z][a-z]/);
          expect(said.field, path.join(' ')).not.toBe('');
          seen += 1;
        }
      }
      if (typeof value === 'object' && value !== null)
        for (const [key, inner] of Object.entries(value)) look([...path, Array.isArray(value) ? Number(key) : key], inner);
    };
    // the others cannot be changed by an edit
    const { edits: _e, format: _f, id: _i, number: _n, ...rest } = visit;
    look([], rest);
    expect(seen).toBeGreaterThan(300);
  });

  it('cuts a long text between words', () => {
    const { after } = say(['notes', 0], undefined, { wallMs: 0, text: 'word '.repeat(200) });
    expect(after.length).toBeLessThan(250);
    expect(after).toMatch(/word …$/);
  });
});

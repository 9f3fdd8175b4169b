/** What an alarm of the room is, and which floor of O2 may be set. */
import { describe, expect, it } from 'vitest';
import { roomCoAlarm } from '../../../../shared/tuning/advice/alarms.ts';
import { setFlueCoLimits, setO2Floor, flueCoDefaults } from '../../../../shared/tuning/advice/cautions.ts';

describe('CO in the room', () => {
  // levels of the cautions: 9 find the source, 35 burner off and out of the room, 100 everybody out; "from" means at it
  it.each([
    [8.9, undefined],
    [9, 'notice'],
    [34, 'notice'],
    [35, 'stop'],
    [99, 'stop'],
    [100, 'out'],
  ])('of %s ppm is %s', (ppm, level) => expect(roomCoAlarm('v', [{ ppm }])?.level).toBe(level));
  it('is the last that was written down, up or down; none is no alarm', () => {
    expect(roomCoAlarm('v', [{ ppm: 120 }, { ppm: 4 }])).toBeUndefined();
    expect(roomCoAlarm('v', [{ ppm: 4 }, { ppm: 120 }])).toEqual({ key: 'room-co', visitId: 'v', level: 'out', ppm: 120 });
    expect(roomCoAlarm('v', [])).toBeUndefined();
  });
});

describe('the floor of O2', () => {
  it.each([
    [2, '', true],
    [3.5, '', true],
    [10, '', true],
    [10.1, 'a reason', false],
    [0.5, 'maker’s card', true],
    [0.4, 'maker’s card', false],
    [1.9, '', false],
    [1.9, ' a ', false],
    [1.9, 'abc', true],
    [Number.NaN, 'a reason', false],
  ])('of %s with “%s” may be set: %s', (floor, reason, may) => {
    const set = setO2Floor(floor, reason);
    expect(set.ok).toBe(may);
    if (set.ok) expect(set.value).toBe(floor);
  });
});

describe('limits of CO in the flue', () => {
  const { noticePpm, alarmPpm } = flueCoDefaults;
  const refusal = (limits: { noticePpm: number; alarmPpm: number; reason?: string }): string | undefined => {
    const set = setFlueCoLimits(limits);
    return set.ok ? undefined : set.error.key;
  };
  it('may be lowered freely, and raised with a reason; either of the two', () => {
    expect(refusal({ noticePpm, alarmPpm })).toBeUndefined();
    expect(refusal({ noticePpm: noticePpm - 1, alarmPpm: alarmPpm - 1 })).toBeUndefined();
    expect(refusal({ noticePpm, alarmPpm: alarmPpm + 1 })).toBe('limit-needs-reason');
    expect(refusal({ noticePpm: noticePpm + 1, alarmPpm })).toBe('limit-needs-reason');
    expect(refusal({ noticePpm, alarmPpm: alarmPpm + 1, reason: 'local rule' })).toBeUndefined();
  });
  it('are above nothing, and the notice comes no later than the alarm', () => {
    expect(refusal({ noticePpm: 0, alarmPpm })).toBe('limit-not-positive');
    expect(refusal({ noticePpm: 10, alarmPpm: 0 })).toBe('limit-not-positive');
    expect(refusal({ noticePpm: 10, alarmPpm: Infinity })).toBe('limit-not-positive');
    expect(refusal({ noticePpm: 60, alarmPpm: 50 })).toBe('limit-order');
    expect(refusal({ noticePpm: 50, alarmPpm: 50 })).toBeUndefined();
  });
});

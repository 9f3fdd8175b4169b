import { describe, expect, it } from 'vitest';
import { practiceGases } from '../../../shared/bench/practice.ts';
import { draftAfter, emptyDraft } from '../../../renderer/views/bench/set-up/set-up-draft.ts';
import { practiceTest } from '../../shared/bench/run-plan.ts';

const own = { ...practiceGases.high, name: 'CO 1004', serial: 'B 77' };
const test = {
  ...practiceTest(),
  room: { airC: 21.5, relativeHumidityPercent: 45, pressurePa: 98_400, dried: false, place: 'yard' },
  person: 'B. Tester',
  bench: 'bench 2',
  gases: [
    { slot: 'zero' as const, gas: practiceGases.zero },
    { slot: 'high' as const, gas: own, reason: 'new one is ordered' },
  ],
};
const after = (today: string, gases = [{ id: 'g7', body: own }]) => draftAfter(test, { gases, today, dayOf: () => '2026-11-24', seed: 3 });

describe('the set-up of the next instrument', () => {
  it('has plan, bottles, limits, rule, room and people of the one before, and asks which instrument it is', () => {
    expect(after('2026-11-24')).toEqual({
      ...emptyDraft('B. Tester'),
      planName: 'Short round',
      bottles: { zero: 'practice', high: 'g7' },
      reasons: { high: 'new one is ordered' },
      room: { airC: '21.5', humidity: '45', pressure: '984', place: 'yard' },
      dried: false,
      place: 'bench 2',
      limitsName: 'in service',
      rule: 'simple',
      seed: 3,
    });
  });
  it('asks anew on another day for what belongs to a day', () => {
    const { reasons, room, bottles } = after('2026-11-25');
    expect(reasons).toEqual({});
    expect(room).toEqual({ airC: '', humidity: '', pressure: '', place: 'yard' });
    expect(bottles).toEqual({ zero: 'practice', high: 'g7' });
  });
  it('has no bottle that is not there any more', () => expect(after('2026-11-24', []).bottles).toEqual({ zero: 'practice' }));
  it('states no figure of the room by itself', () => expect(Object.values(emptyDraft('').room)).toEqual(['', '', '', '']));
});

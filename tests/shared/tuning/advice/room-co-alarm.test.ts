/** CO in the room: 9 ppm find the source, 35 ppm burner off and out of the room, 100 ppm everybody out (product.md). */
import { describe, expect, it } from 'vitest';
import type { Sample } from '../../../../shared/measurement/sample.ts';
import { measuredRoomCo, roomCoAlarm, roomNotWritten, type Alarm } from '../../../../shared/tuning/advice/alarms.ts';

const line = (values: Sample['values'], rest: Partial<Sample> = {}): Sample => ({ timeMs: 1000, values, ...rest });
const run = (id: string): never => ({ id }) as never;
const measured = (ppm: number, runId = 'r1'): Alarm[] => {
  const alarm = measuredRoomCo(runId, line({ ambientCo: ppm }), undefined);
  return alarm === undefined ? [] : [alarm];
};

describe('CO in the room', () => {
  it.each([
    [0, undefined],
    [8.9, undefined],
    [9, 'notice'],
    [34.9, 'notice'],
    [35, 'stop'],
    [99.9, 'stop'],
    [100, 'out'],
    [2000, 'out'],
  ])('of %s ppm is %s, measured or typed', (ppm, level) => {
    expect(measuredRoomCo('r1', line({ ambientCo: ppm }), undefined)?.level).toBe(level);
    expect(roomCoAlarm('v1', [{ ppm: 200 }, { ppm }])?.level).toBe(level);
  });
  it('typed counts as it was typed last; without one there is none', () => {
    expect(roomCoAlarm('v1', [{ ppm: 2 }, { ppm: 41 }])).toEqual({ key: 'room-co', visitId: 'v1', level: 'stop', ppm: 41 });
    expect(roomCoAlarm('v1', [])).toBeUndefined();
  });
  it('measured names its run and is shown as whole ppm', () => {
    expect(measuredRoomCo('r1', line({ ambientCo: 40.6 }), undefined)).toEqual({ key: 'room-co', runId: 'r1', level: 'stop', ppm: 41 });
  });
  it('over the range of the meter is everybody out, at 100 ppm or at the end of its range if that is higher', () => {
    const over = (end?: number): unknown =>
      measuredRoomCo(
        'r1',
        line(
          {},
          { absent: { ambientCo: 'over-range' }, ...(end === undefined ? {} : { bounds: { ambientCo: { kind: 'above', value: end } } }) },
        ),
        undefined,
      );
    expect(over()).toEqual({ key: 'room-co', runId: 'r1', level: 'out', ppm: 100, overRange: true });
    expect(over(50)).toMatchObject({ level: 'out', ppm: 100 });
    expect(over(500)).toMatchObject({ level: 'out', ppm: 500 });
  });
  it('stays what it was while a line has no figure of the room, and ends with a lower figure only', () => {
    const [before] = measured(120) as [never];
    expect(measuredRoomCo('r1', line({ co: 30 }), before)).toBe(before);
    expect(measuredRoomCo('r1', line({}, { absent: { ambientCo: 'error' } }), before)).toBe(before);
    expect(measuredRoomCo('r1', line({ ambientCo: 12 }), before)?.level).toBe('notice');
    expect(measuredRoomCo('r1', line({ ambientCo: 3 }), before)).toBeUndefined();
  });
});

describe('what a visit has to say of the room before it is signed', () => {
  const visit = (typed: number[], ...runs: string[]): never => ({ runs: runs.map(run), roomCo: typed.map((ppm) => ({ ppm })) }) as never;
  it.each([
    ['nothing measured', [2], [], undefined],
    ['a notice', [], measured(20), undefined],
    ['a stop, nothing written', [], measured(40), 40],
    ['a stop, a notice written', [12], measured(40), 40],
    ['a stop, a stop written', [36], measured(80), undefined],
    ['a stop, more written', [120], measured(80), undefined],
    ['everybody out, a stop written', [60], measured(150), 150],
    ['what was written first does not count', [120, 2], measured(40), 40],
    ['the worst of two instruments', [], [...measured(40), ...measured(150, 'r2')], 150],
    ['an instrument of another visit', [], measured(150, 'other'), undefined],
  ])('%s', (_, typed, alarms, ppm) => {
    expect(roomNotWritten(visit(typed, 'r1', 'r2'), alarms)).toBe(ppm);
  });
});

import { expect, it } from 'vitest';
import { createAlarmService } from '../../../main/alarms/alarm-service.ts';
import type { StateReason } from '../../../shared/measurement/state.ts';
import { infoOf, stateOf } from '../../renderer/helpers/records.ts';

/** CO at 650 ppm and O2 at 5 %, ten lines a second, for five seconds. */
function levelWith(reasons: Partial<Record<'co' | 'o2', StateReason>>) {
  const service = createAlarmService({ runInfo: () => infoOf({ phase: 'running' }), isOnBench: () => false, publish: () => undefined });
  const states = (['co', 'o2'] as const).map((channel) => stateOf(channel, 'suspect', { reason: reasons[channel] }));
  service.told('run-1', { kind: 'states', states });
  for (let at = 0; at < 50; at++) service.told('run-1', { kind: 'sample', sample: { timeMs: at * 100, values: { co: 650, o2: 5 } } });
  return service.now().map((alarm) => alarm.key === 'flue-co' && alarm.level);
}

it('CO in the flue is an alarm; what is stuck or diluted counts as well, for it hides more than it shows', () => {
  expect(levelWith({})).toEqual(['alarm']);
  expect(levelWith({ co: 'stuck' })).toEqual(['alarm']);
});

it.each(['fresh-air', 'probe-out', 'zeroing', 'warming-up', 'not-measuring'] as const)(
  'what the instrument breathes is no flue gas (%s), whichever of CO and O2 tells it',
  (reason) => {
    expect(levelWith({ co: reason, o2: reason })).toEqual([]);
    expect(levelWith({ o2: reason })).toEqual([]);
    expect(levelWith({ co: reason })).toEqual([]);
  },
);

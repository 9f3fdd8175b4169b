import { describe, expect, it } from 'vitest';
import { stepIds, type StepId } from '../../shared/tuning/step-names.ts';
import { newVisit, type Visit } from '../../shared/tuning/visit.ts';
import { wayOutOf } from '../../renderer/views/visit/way-out.ts';
import { makeTrial } from '../shared/tuning/make-trial.ts';

const visit = (more: Partial<Visit> = {}): Visit => ({
  ...newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] }),
  ...more,
});
const room = (ppm: number): Partial<Visit> => ({ roomCo: [{ wallMs: 1, ppm }] });
const oily: Partial<Visit> = {
  trials: [{ ...makeTrial({ id: 'a', o2: 5, co: 10, shutter: 4 }), smoke: { spots: [{ number: 0, oilTrace: true }] } }],
};
const smoking: Partial<Visit> = { trials: [makeTrial({ id: 'a', o2: 3, co: 900, shutter: 3, smoke: 0 })] };

const roomSays = 'Shut the burner off, open up, get people out of the room.';
const oilSays = 'Oil on the paper. Take the probe out. Find the cause before another reading.';
const coSays = 'Open the air or stop the burner, and find out why.';
const flame: readonly StepId[] = ['as-found', 'warm-up', 'air-curve', 'as-left'];

/** state -> sentence -> button, and at which steps */
const table: readonly [state: string, more: Partial<Visit>, live: boolean, steps: readonly StepId[], says: string, button: string][] = [
  ['35 ppm in the room', room(35), false, stepIds, roomSays, 'Read the room again'],
  ['120 ppm in the room, and oil', { ...room(120), ...oily }, true, stepIds, roomSays, 'Read the room again'],
  ['oil on the paper', oily, false, flame, oilSays, 'Enter the cause found'],
  ['oil on the paper and a CO alarm', oily, true, flame, oilSays, 'Enter the cause found'],
  ['a CO alarm at the instrument', {}, true, ['as-found', 'warm-up', 'as-left'], coSays, 'Go to the air curve'],
  ['a CO alarm in the newest reading', smoking, false, ['as-found', 'warm-up', 'as-left'], coSays, 'Go to the air curve'],
];

describe('law 17: the main button does what the sentence beside it says', () => {
  it.each(table)('%s', (_, more, live, steps, says, button) => {
    for (const step of stepIds) {
      const out = wayOutOf(step, visit(more), live);
      if (steps.includes(step)) expect(out).toMatchObject({ says, button });
      else expect(out).toBeUndefined();
    }
  });
  it.each([
    ['34 ppm in the room', room(34)],
    ['oil whose cause was entered', { ...oily, oilCauses: [{ wallMs: 5, text: 'nozzle loose' }] }],
    ['nothing at all', {}],
  ])('%s leaves each step its own sentence and button', (_, more) => {
    for (const step of stepIds) expect(wayOutOf(step, visit(more), false)).toBeUndefined();
  });
});

import { describe, expect, it } from 'vitest';
import { stepIds, type StepId } from '../../shared/tuning/visit/step-names.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import { channelRows } from '../../renderer/state/channels.ts';
import { headlineOf } from '../../renderer/state/readiness.ts';
import type { RunRecord } from '../../renderer/state/run-record.ts';
import type { Mark } from '../../shared/measurement/mark.ts';
import { mainDeedOf } from '../../renderer/views/tune/mark-bar/main-deed.ts';
import { wayOutOf } from '../../renderer/views/visit/way-out.ts';
import { readingOf, recordWith, stateOf } from '../renderer/helpers/records.ts';
import { makeTrial } from '../shared/tuning/make-trial.ts';
import { visit, settled, fullReady, inPhase } from './law-17-records.ts';

const room = (ppm: number): Partial<Visit> => ({ roomCo: [{ wallMs: 1, ppm }] });
const oily: Partial<Visit> = {
  trials: [{ ...makeTrial({ id: 'a', o2: 5, co: 10, shutter: 4 }), smoke: { spots: [{ number: 0, oilTrace: true }] } }],
};
const smoking: Partial<Visit> = { trials: [makeTrial({ id: 'a', o2: 3, co: 900, shutter: 3, smoke: 0 })] };
const roomSays = 'Shut the burner off, open windows, get people out of the room.';
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
const stack = stateOf('stackTemperature', 'settling', { value: 211, band: 2, secondsLeft: { value: 260, low: 200, high: 330 } });
const gasReady = recordWith({ states: [...settled, stack], openReading: readingOf('open') });
const taken: RunRecord = { ...gasReady, taken: [{ id: 'mine', ready: 'gas', timeMs: 60_000 }] };
const typed: RunRecord = {
  ...taken,
  marks: [{ id: 'm', timeMs: 61_000, body: { kind: 'smoke', spots: [{ number: 0 }] } } as unknown as RunRecord['marks'][number]],
};
/** O2 on a slope for 20 s, CO to and fro */
const unrest = (marks: Mark[] = []): RunRecord =>
  recordWith({ states: [stateOf('o2', 'drifting', { sinceMs: 40_000 }), stateOf('co', 'surging', { sinceMs: 50_000 })], marks });
const draftMeasured: Mark = { id: 'd', timeMs: 45_000, body: { kind: 'draft', overFirePa: -5 } };
const smokeTyped: Mark = { id: 's', timeMs: 46_000, body: { kind: 'smoke', spots: [{ number: 0 }] } };
/** The live view: state -> what the one sentence says -> what the main button says */
const liveTable: readonly [state: string, record: RunRecord, says: string, button: string, under?: string][] = [
  ['the full reading is ready', fullReady, 'Full reading is ready. Take it', 'Take reading'],
  ['the gas reading is ready', gasReady, 'Gas reading is ready.', 'Take gas reading'],
  ['a reading was taken, the smoke is missing', taken, 'Pump a smoke spot', 'Type smoke'],
  [
    'O2 is still moving',
    recordWith({ states: [...settled.slice(1), stateOf('o2', 'moving')] }),
    'Waiting for O2: still moving, no forecast yet.',
    'Take reading',
    'by hand',
  ],
  [
    'CO is over its range',
    recordWith({ states: [stateOf('o2', 'settled'), stateOf('co', 'absent', { reason: 'over-range' })] }),
    'or take a reading by hand',
    'Take reading',
    'by hand',
  ],
  ['O2 drifts and CO surges', unrest(), 'Measure the draft. O2 drifts, CO surges: no reading.', 'Measure draft'],
  [
    'O2 drifts after a reading was taken: no spot for a flame that is not the one of the reading',
    { ...unrest(), taken: [{ id: 'taken', timeMs: 20_000, ready: 'full' }] },
    'Measure the draft.',
    'Measure draft',
  ],
  [
    'O2 drifts and the draft was measured since',
    unrest([draftMeasured]),
    'O2 drifts, CO surges: no reading. Usually falling draft',
    'Take reading',
    'by hand',
  ],
  [
    'the same after a reading was taken: the drift first, and no spot',
    { ...unrest([draftMeasured]), taken: [{ id: 'taken', timeMs: 20_000, ready: 'full' }] },
    'O2 drifts, CO surges: no reading. Usually falling draft',
    'Take reading',
    'by hand',
  ],
  [
    'the same when the smoke was typed too',
    { ...unrest([draftMeasured, smokeTyped]), taken: [{ id: 'taken', timeMs: 20_000, ready: 'gas' }] },
    'O2 drifts, CO surges: no reading. Usually falling draft',
    'Take reading',
    'by hand',
  ],
  ['everything was taken and typed', typed, 'Turn the air and mark it, or take it again by hand.', 'Take again', 'by hand'],
  [
    'everything was typed off an instrument without a port',
    {
      ...typed,
      info: { ...typed.info, source: { kind: 'typed' } },
      readings: [readingOf('mine', { fromMs: 59_500, toMs: 59_500 })],
    },
    'Turn the air and mark it, or type readings again.',
    'Type readings',
    'again',
  ],
  ['the run has ended', inPhase('ended'), 'Open a source to measure again.', 'Open a source'],
  ['the port is lost', inPhase('lost'), 'Figures stay blank until the instrument sends again.', 'Pick another port'],
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

describe('law 17 on the live view', () => {
  it.each(liveTable)('%s', (_, record, says, button, under) => {
    const { strong, rest } = headlineOf(
      record,
      channelRows(record, () => undefined),
      'metric',
    );
    expect(`${strong} ${rest}`).toContain(says);
    expect(mainDeedOf(record)).toMatchObject({ text: button, under });
  });
  it('while lines are learned or the run is paused nothing can be pressed', () => {
    for (const phase of ['learning', 'connecting', 'paused'] as const) expect(mainDeedOf(inPhase(phase)).off).toBe(true);
  });
  it.each(liveTable)('%s, and an alarm: the button is the way out of it', (_, record) => {
    expect(mainDeedOf(record, 'room').text).toBe('Read the room again');
    if (record.info.phase === 'running') expect(mainDeedOf(record, 'flue').text).toBe('Mark more air');
  });
});

/** Page 1 of a burner that was left off. */
import type { UnsafeReason } from '../../tuning/advice/safe.ts';
import { ventName } from '../visit/venting.ts';

export const notSafeWords = {
  title: 'Burner check',
  headline: 'Not safe to leave running. Left off.',
  known: 'What is known',
  limit: 'limit',
  when: 'when',
  roomCo: (place: string | undefined): string => (place === undefined || place === '' ? 'CO in the room' : `CO in the room, ${place}`),
  roomCoLimits: { stop: 'from 35: burner off', out: 'from 100: everybody out' },
  forTheRecord: 'for the record',
  flueCo: { airFree: 'CO in the flue, air-free', measured: 'CO in the flue, as measured' },
  smoke: 'Smoke number',
  atMost: (text: string): string => `at most ${text}`,
  marked: (text: string): string => `at most ${text}, on the control`,
  failed: 'failed',
  notDone: 'not done',
  further: (count: number): string => `and ${count} more`,
  left: 'How it was left',
  leftOff: 'Left off',
  leftOffAbout: 'The burner is switched off.',
  redTagged: 'Red-tagged',
  redTaggedAbout: 'The tag says: do not run it.',
  ownerTold: 'Told',
  before: 'Before it runs again',
  asFound: 'As-found, before it was stopped',
  noAsLeft: 'There is no as-left reading: the burner was stopped.',
  newVisit: 'Make a new visit: as-found, CO in the room with the burner running, every safety test.',
} as const;

export const lower = (text: string): string => text.replace(/^[A-Z](?=[a-z])/, (first) => first.toLowerCase());

/** What has to be done about one reason; a test that was not made is part of the new visit. */
export function repairWords(reason: UnsafeReason, titleOf: (test: string) => string): string | undefined {
  switch (reason.key) {
    case 'room-co':
      return 'Find where the CO comes in: heat exchanger, flue joints, chimney, air supply. Repair it.';
    case 'flue-co':
      return 'Find why it makes CO: air, nozzle, head, draft, soot. Put it right.';
    case 'oil':
      return 'Find why unburned oil reaches the smoke paper. Put it right.';
    case 'bypass':
      return `Take out the bypass: ${reason.what}.`;
    case 'safety-failed':
      return `Repair what failed, then repeat: ${reason.tests.map((test) => lower(titleOf(test))).join('; ')}.`;
    case 'venting':
      return `Put right: ${reason.items.map((item) => lower(ventName(item))).join('; ')}.`;
    case 'defect':
      return `Repair: ${reason.what}.`;
    case 'smoke':
      return 'Find why it smokes: air, nozzle, head, draft, soot. Put it right.';
    case 'safety-open':
      return undefined;
  }
}

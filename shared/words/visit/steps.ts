/** The steps of a visit: their names, what is missing in each and why one has to be repeated. */
import type { StaleReason } from '../../tuning/visit/staleness.ts';
import type { StepId } from '../../tuning/visit/step-names.ts';
import type { Missing } from '../../tuning/visit/steps.ts';
import { leftOffWords } from '../tune/advice.ts';
import { geometryNames } from '../geometry/geometry.ts';
import { setUpWords } from './set-up-items.ts';

export const stepWords: Readonly<Record<StepId, { name: string; about: string }>> = {
  start: { name: 'Start', about: 'Cautions, appliance, fuel and instrument.' },
  'set-up': { name: 'Set-up sheet', about: 'Measured before firing, against the burner maker’s figures.' },
  'warm-up': { name: 'Warm up and draft', about: 'Draft and regulator first: they change the air.' },
  'as-found': { name: 'As-found', about: 'One full reading before anything is changed.' },
  'air-curve': { name: 'Air curve', about: 'Trials from much air down to a little smoke.' },
  'as-left': { name: 'As-left', about: 'The final setting, locked and read again.' },
  safety: { name: 'Safety', about: 'Make every control act, with the stopwatch.' },
  report: { name: 'Report', about: 'The visit in writing, signed.' },
};

const gapWords = {
  reading: 'a reading',
  'settled-reading': 'a settled reading',
  smoke: 'a smoke number, or "not taken"',
  draft: 'a draft',
  'full-reading': 'a full reading, with stack and air',
} as const;

export function missingWords(missing: Missing, stageCount = 1): string {
  const at = 'stage' in missing && stageCount > 1 ? `Stage ${missing.stage}: ` : '';
  switch (missing.key) {
    case 'caution':
      return missing.cautions.length === 1 ? 'Read the caution.' : `Read the ${missing.cautions.length} cautions.`;
    case 'appliance':
      return 'Choose or enter the appliance.';
    case 'fuel':
      return 'Choose the fuel.';
    case 'instrument':
      return 'Choose the instrument.';
    case 'technician':
      return 'Enter who does the work.';
    case 'room-co':
      return 'Read CO in the room.';
    case 'zero-place':
      return 'Say where the instrument was zeroed.';
    case 'setting-found':
      return 'Enter where the adjusters are.';
    case 'target-card':
      return 'Choose a target card, or say that there is none.';
    case 'gauge-zero':
      return 'Zero the draft gauge, hose off.';
    case 'draft-set':
      return 'Enter the draft before you turn the air.';
    case 'regulator':
      return 'Enter how the draft regulator was left.';
    case 'probe-smoke':
      return 'Take a smoke spot before the probe goes in.';
    case 'probe-stays-out':
      return 'The probe stays out until a spot is at smoke 2 or less, without oil.';
    case 'signature':
      return 'Sign the visit.';
    case 'safety-tests':
      return 'Go through the remaining safety tests.';
    case 'geometry-item':
      return `Measure: ${geometryNames[missing.item].toLowerCase()}.`;
    case 'geometry-out':
      return `Not as on the card: ${geometryNames[missing.item].toLowerCase()}.`;
    case 'geometry-stale':
      return `Measure again: ${geometryNames[missing.item].toLowerCase()}.`;
    case 'set-up-item':
      return `Measure: ${setUpWords[missing.item].toLowerCase()}.`;
    case 'set-up-out':
      return `Not as the maker’s figure: ${setUpWords[missing.item].toLowerCase()}.`;
    case 'as-found':
      return `${at}Take the as-found reading, or say why not.`;
    case 'trial-gap':
      return `${at}The trial still needs ${gapWords[missing.gap]}.`;
    case 'curve-trials':
      return `${at}${missing.have === 0 ? 'No trial' : missing.have === 1 ? 'One trial' : 'Two trials'} with smoke so far; the curve needs three.`;
    case 'onset':
      return `${at}Take a trial with smoke and one without: smoke begins between them.`;
    case 'as-left':
      return `${at}Choose the as-left trial.`;
    case 'as-left-stale':
      return `${at}${staleWords(missing.reason)} Read as-left again.`;
    case 'as-left-moved':
      return `${at}The burner was set elsewhere after the as-left reading. Put it back and mark it, or choose the trial at which it is now.`;
    case 'echo':
      return `${at}Tighten the screws and read once more.`;
    case 'safety-failed':
      return `Failed: ${missing.test}.`;
    case 'bypass-open':
      return `Bypass in place: ${missing.what}. Remove it before you leave.`;
    case 'left-off':
      return leftOffWords.missing;
  }
}

const changeWords = {
  draft: 'The draft was changed',
  nozzle: 'The nozzle was changed',
  pressure: 'The oil pressure was changed',
  head: 'The head was moved',
  electrodes: 'The electrodes were set',
  cleaning: 'The appliance was cleaned',
  sealing: 'Air leaks were sealed',
  house: 'A fan or a door was changed',
} as const;
export const staleWords = ({ kind }: StaleReason): string =>
  `${changeWords[kind]} after this reading, so it no longer shows how the air is set.`;

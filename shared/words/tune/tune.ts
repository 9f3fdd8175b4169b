/** Every sentence of the Tune workspace that is about the work itself. Figures come in inner units and are written by `Formats`. */
import type { DecisionRule } from '../../measurement/decision-rule.ts';
import type { SmokeApproach, TargetWindow } from '../../tuning/curve/air-curve.ts';
import type { BeforeAfter, NoBeforeAfter } from '../../tuning/visit/before-after.ts';
import type { LimitRefusal } from '../../tuning/advice/cautions.ts';
import type { DraftPlace, TypedDraft } from '../../tuning/trial/draft.ts';
import type { LengthRefusal } from '../../units/length.ts';
import type { LockEcho } from '../../tuning/trial/lock-echo.ts';
import type { PositionRefusal } from '../../tuning/trial/adjuster.ts';
import type { SetUpItem, SetUpVerdict } from '../../tuning/set-up/set-up-sheet.ts';
import type { SmokeOnset } from '../../tuning/curve/smoke-onset.ts';
import type { SmokeRefusal, SmokeResult } from '../../tuning/trial/smoke.ts';
import type { StaleReason } from '../../tuning/visit/staleness.ts';
import type { StepId } from '../../tuning/visit/step-names.ts';
import type { Missing } from '../../tuning/visit/steps.ts';
import type { CardQuantity, CardVerdict, LineVerdict } from '../../tuning/card/target-card.ts';
import type { ShiftQuestion } from '../../tuning/trial/unmarked-shift.ts';
import { leftOffWords, oilStops } from './advice.ts';
import { geometryNames } from '../geometry/geometry.ts';
import type { Formats } from './tune-formats.ts';
import type { SignRefusal } from '../../tuning/visit/sign-visit.ts';

export const stepWords: Readonly<Record<StepId, { name: string; about: string }>> = {
  start: { name: 'Start', about: 'Cautions, appliance, fuel and instrument.' },
  'set-up': { name: 'Set-up sheet', about: 'Measured before firing, against the burner maker’s figures.' },
  'warm-up': { name: 'Warm up and draft', about: 'Draft and regulator first: they move the air.' },
  'as-found': { name: 'As-found', about: 'One full reading before anything is changed.' },
  'air-curve': { name: 'Air curve', about: 'Trials from open air into a little smoke.' },
  'as-left': { name: 'As-left', about: 'The final setting, locked and read again.' },
  safety: { name: 'Safety', about: 'Every control made to act, with the stopwatch.' },
  report: { name: 'Report', about: 'The visit in writing, signed.' },
};
export const stepStates = { done: 'done', open: 'open', stale: 'to be repeated' } as const;

export const setUpWords: Readonly<Record<SetUpItem, string>> = {
  electrodeGapMm: 'Electrode gap',
  heightAboveCentrelineMm: 'Height above nozzle centreline',
  aheadOfNozzleMm: 'Distance ahead of nozzle face',
  clearanceToMetalMm: 'Tip to nearest metal',
  nozzleToHeadMm: 'Nozzle to head',
  headSetting: 'Head setting',
  nozzleFlowLh: 'Nozzle flow, as stamped',
  nozzleAngleDeg: 'Nozzle angle',
  pumpPressurePa: 'Pump pressure',
  cutOffDropPercent: 'Pressure drop at shut-off',
  cutOffHoldS: 'Pressure holds after shut-off',
  vacuumPa: 'Vacuum',
};
export const setUpVerdicts: Readonly<Record<SetUpVerdict, string>> = {
  in: 'inside',
  out: 'outside',
  'not-given': 'no maker’s figure with a tolerance',
  'not-measured': 'not measured',
};
export const setUpHint = (item: SetUpItem, source: string): string =>
  `${setUpWords[item]}: unusual, check it. The maker’s figure counts. (${source})`;

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
      return 'Enter the draft before the air is touched.';
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
      return `Out of the maker’s figure: ${setUpWords[missing.item].toLowerCase()}.`;
    case 'as-found':
      return `${at}Take the as-found reading, or say why not.`;
    case 'trial-gap':
      return `${at}The trial lacks ${gapWords[missing.gap]}.`;
    case 'curve-trials':
      return `${at}${missing.have === 0 ? 'No trial' : missing.have === 1 ? 'One trial' : 'Two trials'} with smoke so far; the curve needs three.`;
    case 'onset':
      return `${at}Smoke onset needs a trial with smoke and one without.`;
    case 'as-left':
      return `${at}Choose the as-left trial.`;
    case 'as-left-stale':
      return `${at}${staleWords(missing.reason)} Read as-left again.`;
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
  `${changeWords[kind]} after this reading, so it no longer says where the air is.`;

// cautions

export const cautionWords = {
  'trained-people': 'For trained and licensed people only.',
  'local-code': 'Local code and the burner maker’s instructions come first.',
  'not-a-safety-device': 'Flueside advises. It is no safety device and no substitute for a calibrated instrument.',
  'room-co':
    'Keep measuring CO in the room, with the meter zeroed outdoors. At 35 ppm stop the job. At 100 ppm everybody leaves; call for help, do not stay to ventilate.',
  'power-off': 'Switch off the power at the service switch, close the oil valve, and check that it is dead.',
  'high-voltage': 'The electrodes carry more than 10 000 volts. Keep hands out while there is power.',
  'oil-pressure': 'Oil is under pressure. Relieve the pressure before opening a fitting, and never pressurize lines to find leaks.',
  'oil-in-chamber': 'Look for oil in the chamber. Never fire onto it: remove it first.',
  'stand-aside': 'Stand to the side at light-off, never with your face in line with the door.',
  'hot-surfaces': 'Flue, probe and door are hot.',
  'smoke-before-probe': 'Take a smoke spot before the probe goes in: oil mist and soot ruin filter and cells.',
  'flue-co': 'CO in the flue: the notice and the alarm of this visit are air-free. Open the air at once when it climbs.',
  'one-reset': 'Press reset once. If it locks out again, stop and find out why.',
  bypass: 'Enter every jumper and unplugged detector before it is put in place. The visit cannot be signed while one is in place.',
  'hot-relight': 'Flame just lost in a hot chamber: wait for the purge, never relight by hand.',
  'limits-back': 'Put limits and low-water devices back in circuit before you leave.',
  'ports-closed': 'Keep door and ports shut while reading: air leaking in makes every figure wrong.',
} as const;

export const limitRefusal = (refusal: LimitRefusal, f: Formats): string => {
  switch (refusal.key) {
    case 'limit-needs-reason':
      return `Type a reason: it goes into the report with the alarm at ${f.ppm(refusal.alarmPpm)}.`;
    case 'limit-order':
      return 'The notice cannot be above the alarm.';
    case 'limit-not-positive':
      return 'Type a limit above zero.';
    case 'floor-needs-reason':
      return `Type a reason: it goes into the report with the lowest O2 of ${f.o2(refusal.floorPercent)}.`;
    case 'floor-not-possible':
      return 'The lowest O2 lies between 0.5 and 10 %.';
  }
};

// refusals

export const smokeRefusal = (refusal: SmokeRefusal, f: Formats): string => {
  switch (refusal.key) {
    case 'smoke-above-scale':
      return `The scale ends at 9; ${f.figure(refusal.typed)} is not on it. Nothing was changed.`;
    case 'smoke-below-scale':
      return 'Smoke starts at 0. Nothing was changed.';
    case 'smoke-not-half':
      return `Smoke is read in halves. Nearest is ${f.smoke(refusal.nearest)}.`;
    case 'smoke-unclear':
      return 'Type a smoke number from 0 to 9, for example 1 or 1½.';
  }
};
export const positionRefusal = (refusal: PositionRefusal, f: Formats): string => {
  switch (refusal.key) {
    case 'position-not-a-number':
      return `Type a number for ${refusal.adjuster}.`;
    case 'position-below-scale':
      return `The scale of ${refusal.adjuster} starts at ${f.figure(refusal.min)}; ${f.figure(refusal.typed)} is below it. Correct the figure, or the scale.`;
    case 'position-above-scale':
      return `The scale of ${refusal.adjuster} ends at ${f.figure(refusal.max)}; ${f.figure(refusal.typed)} is beyond it. Correct the figure, or the scale.`;
  }
};
export const lengthRefusal = (refusal: LengthRefusal): string =>
  refusal.key === 'length-empty'
    ? 'Type a length, for example 4.5 or 5/32.'
    : refusal.key === 'length-fraction-mm'
      ? `"${refusal.text}" is a fraction in mm. Fractions are inches: write in behind it, or type the mm as a decimal.`
      : `"${refusal.text}" is not a length. Type it like 4.5 mm, 5/32 or 1 1/16.`;
export const signRefusal = (refusal: SignRefusal): string => {
  switch (refusal.key) {
    case 'training':
      return 'A training visit is closed, not signed.';
    case 'simulated':
      return 'This visit holds simulated or replayed data. It can be closed as training, never signed.';
    case 'signed':
      return 'This visit is signed already. Add a correction with a reason instead.';
    case 'bypass-open':
      return `Remove the bypass first: ${refusal.what}.`;
    case 'not-safe':
      return leftOffWords.missing;
  }
};

// draft and smoke

const placeWords: Readonly<Record<DraftPlace, string>> = { 'over-fire': 'over the fire', breech: 'at the breech' };
export const draftQuestion = (
  ask: Extract<TypedDraft, { kind: 'ask' }>,
  f: Formats,
): { question: string; suction: string; pressure: string } => ({
  question: `Suction or pressure ${placeWords[ask.place]}?`,
  suction: `Suction, ${f.draft(ask.suctionPa)}`,
  pressure: `Pressure, ${f.draft(ask.pressurePa)}`,
});

export const smokeRuleWords = {
  'mean-of-three-whole': 'mean of three spots, rounded to whole',
  'mean-to-half': 'mean, rounded to halves',
  'single-spot': 'last spot',
  'worst-spot': 'darkest spot',
} as const;
export function smokeAdvice(result: SmokeResult): string | undefined {
  if (result.oilTrace) return oilStops;
  if (result.toRepeat > 0 && result.stillNeeded > 0)
    return `${result.toRepeat === 1 ? 'One spot' : `${result.toRepeat} spots`} wet or uneven: repeat.`;
  if (result.stillNeeded > 0) return `${result.stillNeeded === 1 ? 'One more spot' : `${result.stillNeeded} more spots`} under this rule.`;
  return undefined;
}

export const shiftQuestion = (question: ShiftQuestion, f: Formats): { title: string; about: string; nothing: string } => ({
  title: 'What was changed?',
  about: `O2 went from ${f.o2(question.fromPercent)} to ${f.o2(question.toPercent)} and no mark says why. The mark is set at the time it started.`,
  nothing: 'Nothing was changed',
});

// air curve

export function onsetWords(onset: SmokeOnset, f: Formats): string {
  if (onset.state === 'found') return `Smoke begins at O2 ${f.o2(onset.o2)}, between ${f.o2(onset.low)} and ${f.o2(onset.high)}.`;
  if (onset.missing === 'smoky-side') return 'Not enough points: no trial with clear smoke yet. Smoke of a half can still be clean paper.';
  if (onset.missing === 'clean-side') return 'Not enough points: no trial without smoke yet.';
  return `Not enough points: ${onset.have === 0 ? 'no trial with smoke number' : `${onset.have} of 3 trials`} so far.`;
}

export function windowWords(window: TargetWindow, f: Formats): string {
  const reserve = `${f.points(window.reserveCo2Points)} points of CO2 are ${f.points(window.reserveO2Points)} points of O2`;
  if (window.conflict) {
    const end =
      window.upperEnd === 'co-rises'
        ? 'CO rises again'
        : window.upperEnd === 'target-card'
          ? 'the target card ends'
          : 'too much air begins';
    return `Onset plus reserve is O2 ${f.o2(window.fromO2)}, but ${end} at ${f.o2(window.toO2)}. Reserve and upper limit conflict: look for leaks, nozzle, pressure and head before choosing less reserve.`;
  }
  const why = {
    'reserve-limit': 'more air only wastes fuel',
    'co-rises': 'CO rises beyond it',
    'target-card': 'the target card ends there',
  }[window.upperEnd];
  return `Aim for O2 ${f.o2(window.fromO2)} to ${f.o2(window.toO2)}: ${reserve}, and ${why}.`;
}

export const approachWords: Readonly<Record<SmokeApproach, string>> = {
  'from-smoke': 'Set by opening from the smoke.',
  'closed-from-lean': 'Smoke was seen only after this setting was read. Close until smoke shows, open again, and read once more.',
  'no-smoky-trial': 'No smoke was seen with less air, so the reserve is not known. Close until smoke shows, then open again.',
  'not-known': 'This trial is not on the curve.',
};

// target card

export const quantityWords: Readonly<Record<CardQuantity, string>> = {
  o2Percent: 'O2',
  co2Percent: 'CO2',
  excessAirPercent: 'Excess air',
  coPpm: 'CO',
  coAirFreePpm: 'CO air-free',
  coAt3PercentO2Ppm: 'CO at 3 % O2',
  coMgPerKwh: 'CO per fuel energy',
  smokeNumber: 'Smoke',
  oilTrace: 'Oil on the paper',
  stackC: 'Stack, gross',
  netStackK: 'Net stack',
  efficiencyHhvPercent: 'Efficiency, HHV',
  efficiencyLhvPercent: 'Efficiency, LHV',
  siegertLossPercent: 'Flue-gas loss, Siegert',
  overFirePa: 'Draft over the fire',
  breechPa: 'Draft at the breech',
  draftDropPa: 'Draft drop',
  reserveO2Percent: 'Reserve air',
  roomCoPpm: 'Room CO',
};
export const verdictWords: Readonly<Record<CardVerdict, string>> = {
  pass: 'pass',
  fail: 'fail',
  'too-close': 'too close to call',
  'not-known': 'not known',
};
export const decisionRuleWords: Readonly<Record<DecisionRule, { name: string; about: string }>> = {
  simple: { name: 'Simple', about: 'The value itself is compared with the limit.' },
  'guarded-acceptance': {
    name: 'Guarded acceptance',
    about: 'Passes only when inside the limit by its uncertainty; in between it is too close to call.',
  },
  'guarded-rejection': { name: 'Guarded rejection', about: 'Fails only when outside the limit by more than its uncertainty.' },
};
export const verdictNote = (line: LineVerdict): string | undefined =>
  line.verdict === 'not-known'
    ? line.figure
      ? 'Its uncertainty is not known.'
      : 'Not measured.'
    : line.withinUncertainty && line.verdict !== 'too-close'
      ? 'The limit lies inside the uncertainty.'
      : undefined;
export const noCardWords = 'No target card: judged against the appliance sheet only.';

// as-left

export const echoWords = (echo: LockEcho, f: Formats): string => {
  if (!echo.worst) return 'Held. After tightening the reading repeats within its uncertainty.';
  const { channel, before, after } = echo.worst;
  const write = channel === 'o2' ? f.o2 : channel === 'co' ? f.ppm : f.temperature;
  const name = channel === 'o2' ? 'O2' : channel === 'co' ? 'CO' : 'Stack';
  return `Shifted. ${name} went from ${write(before)} to ${write(after)} when the screws were tightened. Set it again and tighten with less force.`;
};

export function beforeAfterWords(result: BeforeAfter | NoBeforeAfter, f: Formats): string {
  if (typeof result === 'string') {
    return {
      'before-not-full': 'No comparison: as-found lacks O2, stack or air temperature.',
      'after-not-full': 'No comparison: as-left lacks O2, stack or air temperature.',
      'before-not-computable': 'No comparison: the efficiency as found cannot be computed.',
      'after-not-computable': 'No comparison: the efficiency as left cannot be computed.',
    }[result];
  }
  const gain = `${f.points(Math.abs(result.gainPoints))} ±${f.points(result.gainExpanded)} points of efficiency (HHV)`;
  if (!result.clear) return `Efficiency is the same within ±${f.points(result.gainExpanded)} points; no saving is claimed.`;
  if (result.gainPoints < 0) return `${gain} lower than as found.`;
  return `${gain} gained; ${f.points(result.fuelSavedPercent)} ±${f.points(result.fuelSavedExpanded)}\u2009% less fuel for the same heat.`;
}

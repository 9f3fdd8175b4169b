/** The safety run-through in words: title, what to do, what passes, and the caution that belongs to it. */
import type { FlameSignalVerdict, SafetyTestId, TimingNote, TimingVerdict } from '../../tuning/safety/safety-plan.ts';

export type SafetyWords = {
  readonly title: string;
  readonly todo: string;
  readonly passes: string;
  readonly caution?: { readonly bold: string; readonly why: string };
  /** on the stopwatch's button */
  readonly startKey?: string;
  readonly stopKey?: string;
};

const oneReset = {
  bold: 'Look for oil in the chamber. Never light onto it.',
  why: 'Press reset once only. If it locks out again, stop and find the cause. The control maker’s instructions and local code come first.',
};
const bypass = {
  bold: 'Enter every jumper and every unplugged detector here first.',
  why: 'The visit cannot be signed while one is in place.',
};

export const safetyWords: Record<SafetyTestId, SafetyWords> = {
  'room-co-before': {
    title: 'Room CO before',
    todo: 'With the instrument zeroed outdoors, read the air of the room where you work.',
    passes:
      'Below 9 ppm. From 9 ppm: find the source. From 35 ppm: burner off, everybody out of the room. From 100 ppm: everybody out of the house.',
    caution: { bold: 'From 100 ppm everybody out.', why: 'Call for help from outside. Do not stay to ventilate.' },
  },
  'lockout-no-ignition': {
    title: 'Lockout, no ignition',
    todo: 'Burner off. Shut the oil, or keep the flame detector dark. Start the burner. Start the watch when the oil valve opens (it clicks), stop it when the control locks out. If you start the watch together with the burner, enter the valve-on delay.',
    passes: 'Locks out within the time marked on the control.',
    caution: oneReset,
    startKey: 'Start the watch',
    stopKey: 'Lockout now: stop the watch',
  },
  'manual-reset': {
    title: 'Reset by hand only',
    todo: 'Wait one minute after the lockout. Then press reset once.',
    passes: 'It stays out until reset is pressed, and starts on that press.',
    caution: oneReset,
  },
  'flame-failure': {
    title: 'Flame failure to lockout',
    todo: 'With the burner running steadily, darken the detector or shut the oil. Start the watch when the control loses the flame: when you darken the detector, or, with the oil shut, when the flame goes out. Stop it at lockout. A control that recycles tries once more: when the burner starts again, press “Burner starts again: lap”.',
    passes: 'The control closes the oil valve and locks out within its marked times. A control that recycles may try once more first.',
    caution: oneReset,
    startKey: 'Flame lost: start the watch',
    stopKey: 'Lockout now: stop the watch',
  },
  'false-light': {
    title: 'No start with light',
    todo: 'Burner off. Let the detector see light, then call for heat.',
    passes: 'The burner does not start.',
    caution: bypass,
  },
  'flame-signal': {
    title: 'Flame detector',
    todo: 'Measure what the detector gives with the flame on: resistance, or flame current. A photo-resistive one should read 100 kΩ or more in the dark.',
    passes: 'Within what the control’s sheet says; 300 to 1 000 Ω is usual for a photo-resistive one.',
  },
  'high-limit': {
    title: 'High limit',
    todo: 'Lower the set point, or let the temperature rise with the circulator or fan stopped. Stay with it.',
    passes: 'The burner stops at the set point within the tolerance of the control, and starts again after the temperature has fallen.',
    caution: { bold: 'Never leave with a limit or a low-water device out of circuit.', why: 'Put the set point back where it was.' },
  },
  'low-water': {
    title: 'Low water',
    todo: 'Where it is fitted: press its test button first. Then drain slowly, or blow the device down as its maker says.',
    passes: 'The burner stops before the water leaves the glass.',
    caution: { bold: 'Hot water and steam.', why: 'Never feed cold water into a dry hot boiler.' },
  },
  'relief-valve': {
    title: 'Relief valve',
    todo: 'Compare its rating with the boiler’s plate. Lift it where that is safe.',
    passes: 'The rating suits, it lifts and seats again.',
    caution: { bold: 'Hot water and steam come out here.', why: 'Stand clear of the discharge.' },
  },
  switches: {
    title: 'Emergency switch',
    todo: 'Run the burner. Use the emergency switch, the service switch and, where there is one, the overhead thermal switch.',
    passes: 'Each of them stops the burner.',
  },
  'blocked-vent': {
    title: 'Blocked vent, power vent',
    todo: 'Keep the draft proving switch from closing, as its maker says.',
    passes: 'The burner stops or does not start.',
    caution: { bold: 'Flue gas can come into the room.', why: 'Watch the room CO. From 35 ppm: burner off, everybody out of the room.' },
  },
  'oil-valves': {
    title: 'Oil safety valves',
    todo: 'Look at the fusible valves and the line.',
    passes: 'Present, move freely, no leaks.',
  },
  'switch-over': {
    title: 'Change of stage',
    todo: 'Let it go from low to high fire and back, several times. Watch the flame, the draft and the instrument.',
    passes: 'No thump, no flame-out, no smoke that stays; CO falls back within a minute of each change. Common practice.',
    caution: { bold: 'Stand to the side at the change.', why: 'Air and oil do not move together: it may smoke or puff.' },
  },
  restarts: {
    title: 'Three restarts',
    todo: 'Start at least three times: cold, warm within two minutes, hot. Stand to the side. Watch the flame go out.',
    passes: 'No thump, no smoke that stays; the flame is out within 2 s of the stop.',
    caution: { bold: 'Stand to the side at light-off.', why: 'A delayed ignition comes out of the front.' },
  },
  'leaks-covers-room-co': {
    title: 'Oil leaks, covers, room CO',
    todo: 'Look for oil at every joint. Covers on, test holes plugged, screws locked. Read the room air once more.',
    passes: 'Joints dry, covers and holes closed, room CO not above what it was before.',
  },
};

export const timingWords: Record<TimingVerdict, string> = {
  pass: 'within the rated time',
  fail: 'over the rated time',
  'too-close': 'too close to call',
  'no-mark': 'no rated time typed',
};

export const timingNotes: Record<TimingNote, string> = {
  'far-below-mark': 'Less than half of the rated time. Look at the control’s marking again.',
  'differs-from-last-visit': 'More than 20 % away from the last visit.',
};

export const flameSignalWords: Record<FlameSignalVerdict, string> = {
  usual: 'usual',
  weak: 'weak. Clean the detector, and look at its view of the flame',
  'too-weak': 'too weak for most controls',
  shorted: 'close to a short circuit',
};

export const flameCurrentWords = {
  enough: 'above the least current of the control',
  weak: 'close to the least current of the control. Clean the detector, and look at its view of the flame',
  'too-weak': 'below the least current of the control',
} as const;

/** Why a time cannot be judged yet. */
export const timingMissing = {
  rated: 'No rated time entered: the time is not judged.',
  'valve-on-delay': 'Enter the valve-on delay: the control counts from the oil valve opening.',
  'recycle-wait': 'When the burner starts again, press “Burner starts again: lap”, or enter the recycle wait.',
  'restart-after-lockout': 'The recycle wait is longer than the time on the watch. Check both.',
} as const;
export const controlWords = {
  onFlameLoss: 'On loss of flame the control',
  onFlameLosses: { '': 'not entered', 'locks-out': 'locks out', recycles: 'recycles, then locks out' },
  startedFrom: 'Watch started when',
  startedFroms: { 'valve-opens': 'the oil valve opened', 'burner-starts': 'the burner started', 'flame-lost': 'the flame was lost' },
  valveOnDelay: 'Valve-on delay',
  recycleWait: 'Recycle wait',
  lap: 'Burner starts again: lap',
  lapAt: (seconds: string): string => `burner started again after ${seconds} s`,
  counted: (seconds: string): string => `${seconds} s counted by the control`,
  /** what the rated time is of, by test and by marking */
  rated: {
    'lockout-no-ignition': { us: 'Trial for ignition on the control', metric: 'Safety time on the control' },
    'flame-failure': { us: 'Lockout time on the control', metric: 'Time on the control' },
    recycling: { us: 'Trial for ignition on the control', metric: 'Safety time on the control' },
  },
} as const;

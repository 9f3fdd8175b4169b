/** What is said at each step of the leading. Effects on the flame, bending advice and cautions are common practice; the burner maker's sheet comes first. */
import type { FiguresCard } from '../../geometry/figures-card.ts';
import type { GeometryItem } from '../../geometry/items.ts';
import type { HandStepId, LoosePart, StepGroup } from '../../geometry/steps.ts';

export const groupNames: Readonly<Record<StepGroup, string>> = {
  safe: 'Safe',
  'as-found': 'As found',
  'assembly-out': 'Assembly out',
  electrodes: 'Electrodes',
  'back-in': 'Back in, zero',
  'head-setting': 'Head setting',
  tighten: 'Tighten, measure',
};

type StepWords = { readonly name: string; readonly title: string; readonly does: string; readonly list?: readonly string[] };

const handStepWords: Readonly<Record<HandStepId, StepWords>> = {
  'power-off': {
    name: 'Power off',
    title: 'Power off, tested',
    does: 'Switch the burner off, lock the switch, and prove with a tester that nothing is live.',
    list: ['Tester tried on a live point first', 'No voltage at the burner terminals', 'Tester tried on the live point again'],
  },
  'oil-shut': { name: 'Oil shut', title: 'Oil shut', does: 'Close the oil valve at the burner. Have rags and a tray ready.' },
  'cool-and-dry': {
    name: 'Cool, no oil',
    title: 'Cool, no oil in the chamber',
    does: 'Wait until the burner can be touched. Look into the chamber: take out any oil before anything is lit.',
  },
  'hands-and-eyes': {
    name: 'Hands, eyes',
    title: 'Hands and eyes protected',
    does: 'Wear gloves against oil and sharp sheet metal, and glasses against splinters of porcelain.',
  },
  'adjuster-as-found': {
    name: 'Adjuster',
    title: 'Position of the head adjuster',
    does: 'Read the head adjuster on its own marks and write it down as found.',
  },
  'mark-parts': {
    name: 'Marks',
    title: 'Mark every part that comes off',
    does: 'Scribe a line across each joint, so that a part with a hole off the middle goes back the way it was.',
  },
  photo: {
    name: 'Photo',
    title: 'A photo, before anything moves',
    does: 'Take one photo of the assembly in place, and one from the side. Attach the files, or write down where they are.',
  },
  'take-out': {
    name: 'Take out',
    title: 'Assembly out',
    does: 'Disconnect the oil line, free the assembly, draw it out straight. Put it down on something soft.',
  },
  'nozzle-stamp': {
    name: 'Nozzle stamp',
    title: 'What is stamped on the nozzle',
    does: 'Read flow, angle and pattern. Type a new nozzle as left: the card may ask for another head setting with it.',
  },
  'look-over': {
    name: 'Look over',
    title: 'Porcelain, tips, cables, head',
    does: 'Look at each one in good light. Replace it when in doubt.',
    list: [
      'Porcelain: no crack, no soot, dry',
      'Tips: not burnt short, same shape',
      'Cables, springs or bus bars: clean, tight, no cracks',
      'Head: clean, round, not burnt, not bent',
    ],
  },
  gap: {
    name: 'Gap',
    title: 'Electrode gap',
    does: 'Measure between the two tips; with one electrode, from its tip to the earthed metal.',
  },
  height: { name: 'Height', title: 'Height of the tips', does: 'Measure straight up from the nozzle centreline to each tip.' },
  ahead: { name: 'Ahead of the face', title: 'Tips ahead of the nozzle face', does: 'Measure from the nozzle face forward to the tips.' },
  metal: {
    name: 'To nearest metal',
    title: 'Tip to nearest metal',
    does: 'Measure from each tip to the nearest metal other than the other tip; type the smaller one.',
  },
  level: { name: 'Both alike, level', title: 'Both tips alike', does: 'Measure how much higher one tip is than the other.' },
  'nozzle-to-head': { name: 'Nozzle to head', title: 'Nozzle to head', does: 'Measure from the nozzle face to the front of the head.' },
  centred: {
    name: 'Centred',
    title: 'Nozzle in the middle of the head',
    does: 'Measure how far the nozzle is off the middle of the opening. Then tighten both electrode clamps.',
  },
  'put-back': { name: 'Put back', title: 'Assembly back in', does: 'Slide it in without touching the tips. Tighten it where it is held.' },
  'adjuster-to-zero': {
    name: 'Adjuster to zero',
    title: 'Head adjuster to its zero',
    does: 'Free the head lock and turn the adjuster to the zero mark. Leave the zero lock tight.',
  },
  'fine-to-zero': {
    name: 'Fine to zero',
    title: 'Fine adjuster to its zero',
    does: 'Turn the fine adjuster back to its first notch. It is set by the nozzle flow later.',
  },
  'head-to-tube-end': {
    name: 'Head to tube end',
    title: 'Head to tube end, at zero',
    does: 'Free the zero lock only now. Measure from the front of the head to the end of the tube.',
  },
  'zero-tight': {
    name: 'Zero tight',
    title: 'Zero tight and marked',
    does: 'Tighten the zero lock. Make a mark across it, so that a move is seen.',
  },
  'head-setting': {
    name: 'Head setting',
    title: 'Head setting',
    does: 'Set the head for this nozzle flow, from the zero just made. Lock it.',
  },
  'shutter-start': {
    name: 'Shutter',
    title: 'Shutter, start position',
    does: 'Set the shutter to where the card starts. The air curve decides later.',
  },
  'band-start': {
    name: 'Band',
    title: 'Band, start position',
    does: 'Set the band to where the card starts. The air curve decides later.',
  },
  'all-tight': { name: 'All tight', title: 'Tighten what is loose', does: 'One by one. Nothing is lit while a part is loose.' },
  'as-left': {
    name: 'As left',
    title: 'As left',
    does: 'Measure again what depends on a moved part. Pump pressure and cut-off follow with the burner running.',
  },
};

/** What is done at a step, on this burner: a card may say how its head adjuster is marked, and that it has two steps. */
export function stepWords(id: HandStepId, adjuster: FiguresCard['adjuster']): StepWords {
  const plain = handStepWords[id];
  const { steps, zeroMark, fineNotches } = adjuster ?? {};
  const mark = zeroMark === undefined ? 'its zero mark' : `its zero mark, “${zeroMark}”`;
  if (steps !== 'two')
    return id === 'adjuster-to-zero' && zeroMark !== undefined ? { ...plain, does: plain.does.replace('the zero mark', mark) } : plain;
  switch (id) {
    case 'adjuster-as-found':
      return {
        ...plain,
        does: 'Read the fine adjuster on its own notches and write it down as found. Scribe a line across the coarse plate.',
      };
    case 'adjuster-to-zero':
      return {
        name: 'Coarse to zero',
        title: 'Coarse plate to its zero',
        does: `Free the head lock and set the coarse plate to ${mark}. Leave the zero lock tight.`,
      };
    case 'head-setting':
      return {
        ...plain,
        does: `Set the fine adjuster for this nozzle flow, from the zero just made${fineNotches === undefined ? '' : `: it has ${fineNotches} notches`}. The coarse plate stays. Lock it.`,
      };
    default:
      return plain;
  }
}

export const looseNames: Readonly<Record<LoosePart, string>> = {
  oilLine: 'oil line',
  assembly: 'assembly',
  leftElectrodeClamp: 'left electrode clamp',
  rightElectrodeClamp: 'right electrode clamp',
  zeroLock: 'zero lock',
  headLock: 'head lock',
  shutterLock: 'shutter lock',
  bandLock: 'band lock',
};

type Effects = { readonly small: readonly [title: string, text: string]; readonly large: readonly [title: string, text: string] };

/** What the flame does when it stays wrong. Common practice, all of it. */
export const effectWords: Readonly<Record<GeometryItem, Effects>> = {
  electrodeGap: {
    small: ['If it stays too narrow', 'The spark is short and weak, and carbon bridges it. It lights late or not at all.'],
    large: ['If it stays too wide', 'The spark may not jump, or finds another way. It lights late, and the porcelain can be damaged.'],
  },
  heightAboveCentreline: {
    small: ['If it stays too low', 'Oil wets the tips, carbon bridges the gap. It lights late or not at all.'],
    large: ['If it stays too high', 'The spark is outside the spray. It lights late, with a puff.'],
  },
  aheadOfNozzle: {
    small: ['If it stays too far back', 'The spark does not reach the spray. It lights late, with a puff.'],
    large: ['If it stays too far forward', 'Oil wets the tips and carbon grows on them.'],
  },
  tipToMetal: {
    small: ['If it stays too near', 'The spark jumps to the metal and not across the gap. It lights now and then, or not at all.'],
    large: ['If it stays too far', 'Look at the other figures again: the tips have moved out of their place.'],
  },
  tipDifference: {
    small: ['', ''],
    large: ['If they stay uneven', 'One tip may sit in the spray. Carbon grows on that side and it lights late.'],
  },
  nozzleToHead: {
    small: ['If it stays too close', 'The spray widens outside the head: smoke although the air is open.'],
    large: ['If it stays too far apart', 'The spray strikes the back of the head: oil on the head, soot, smoke.'],
  },
  offCentre: {
    small: ['', ''],
    large: ['If it stays off centre', 'The flame leans to one side: smoke on one side at an O2 that should be clean.'],
  },
  headToTubeEnd: {
    small: ['If it stays too far forward', 'Every mark of the head adjuster is wrong from here on. Air passes where it should not.'],
    large: [
      'If it stays too far back',
      'Every mark of the head adjuster is wrong from here on. The flame touches the tube end: CO and soot.',
    ],
  },
  headSetting: {
    small: ['If it stays too low', 'Too little opening for this flow: high speed, a lifting flame, noise.'],
    large: ['If it stays too high', 'Too much opening for this flow: low speed, poor mixing, smoke at high O2.'],
  },
  shutterStart: {
    small: ['If it stays too low', 'The first flame may smoke. The air curve starts from the open side.'],
    large: ['If it stays too high', 'The first flame may be hard to light. The air curve closes it later.'],
  },
  bandStart: {
    small: ['If it stays too low', 'The first flame may smoke. The air curve starts from the open side.'],
    large: ['If it stays too high', 'The first flame may be hard to light. The air curve closes it later.'],
  },
};

/** One line, in notice colour, until its step is over. */
export const cautionAt = (group: StepGroup, id: HandStepId): readonly [strong: string, rest: string] | undefined => {
  if (group === 'safe') return undefined;
  if (id === 'head-to-tube-end')
    return ['The zero lock is loose at this step only.', 'Leave the adjuster at zero until the lock is tight again.'];
  if (id === 'nozzle-stamp') return ['Power off.', 'Two spanners: one holds the adapter. Never blow through the nozzle.'];
  if (group === 'electrodes')
    return [
      'Keep the power off.',
      'The tips carry more than 10\u202f000\u00a0V while it is on. Bend the wire; never lever on the porcelain.',
    ];
  return ['Keep the power off.', 'Keep the oil valve closed until everything is tight.'];
};

/** Every sentence about electrodes, nozzle and head. */
import type { CardFigure, CardProblem } from '../../geometry/figures-card.ts';
import type { Found } from '../../geometry/figures-for.ts';
import { isLength, type Direction, type GeometryItem } from '../../geometry/items.ts';
import type { GeometryChange, Stale, StaleReason } from '../../geometry/stale.ts';
import type { GeometryVerdict } from '../../geometry/verdict.ts';
import { inchFraction, type LengthUnit } from '../../units/length.ts';

export const geometryNames: Readonly<Record<GeometryItem, string>> = {
  electrodeGap: 'Electrode gap',
  heightAboveCentreline: 'Height above centreline',
  aheadOfNozzle: 'Ahead of nozzle face',
  tipToMetal: 'Tip to nearest metal',
  tipDifference: 'Difference of tips',
  nozzleToHead: 'Nozzle to head',
  offCentre: 'Off centre',
  headToTubeEnd: 'Head to tube end',
  headSetting: 'Head setting',
  shutterStart: 'Shutter, start position',
  bandStart: 'Band, start position',
};

/** The verb that mends it, as it stands after the amount: "1/16 in too low. Raise both tips." */
export const geometryOrders: Readonly<Record<Direction, string>> = {
  'spread-tips': 'Spread the tips',
  'close-tips': 'Bring the tips together',
  'raise-tips': 'Raise both tips',
  'lower-tips': 'Lower both tips',
  'move-tips-forward': 'Move both tips forward',
  'move-tips-back': 'Move both tips back',
  'move-tips-from-metal': 'Move the tip away from the metal',
  'move-tips-to-metal': 'Move the tip nearer to the metal',
  'level-tips': 'Level the tips',
  'move-nozzle-forward': 'Move the nozzle towards the head',
  'move-nozzle-back': 'Move the nozzle away from the head',
  'centre-nozzle': 'Centre the nozzle',
  'move-head-forward': 'Move the head forward',
  'move-head-back': 'Move the head back',
  'set-to': 'Set it to the card figure',
};

/** The same in a word or two, beside the arrow. */
export const orderVerbs: Readonly<Record<Direction, string>> = {
  'spread-tips': 'spread',
  'close-tips': 'together',
  'raise-tips': 'raise',
  'lower-tips': 'lower',
  'move-tips-forward': 'forward',
  'move-tips-back': 'back',
  'move-tips-from-metal': 'away',
  'move-tips-to-metal': 'nearer',
  'level-tips': 'level',
  'move-nozzle-forward': 'nozzle in',
  'move-nozzle-back': 'nozzle back',
  'centre-nozzle': 'centre',
  'move-head-forward': 'head forward',
  'move-head-back': 'head back',
  'set-to': '',
};

const sides: Partial<Record<GeometryItem, readonly [tooSmall: string, tooLarge: string]>> = {
  electrodeGap: ['too narrow', 'too wide'],
  heightAboveCentreline: ['too low', 'too high'],
  aheadOfNozzle: ['too far back', 'too far forward'],
  tipToMetal: ['too near', 'too far'],
  tipDifference: ['too little', 'too uneven'],
  nozzleToHead: ['too close', 'too far apart'],
  offCentre: ['too little', 'too far off centre'],
  headToTubeEnd: ['too far forward', 'too far back'],
};

/** A length with its unit: '1/16 in', '1.5 mm'. Between two marks of 1/64 in the inch is decimal. */
export function lengthWords(mm: number, unit: LengthUnit): string {
  if (unit === 'mm') return `${Number(mm.toFixed(1))}\u2009mm`;
  const { text, exact } = inchFraction(mm, 64);
  return `${exact ? text : Number((mm / 25.4).toFixed(3))}\u2009in`;
}
const amountWords = (item: GeometryItem, by: number, unit: LengthUnit): string =>
  isLength(item) ? lengthWords(by, unit) : String(Number(by.toFixed(2)));

/** As the card has it: '1/2 ±1/32 in', 'at least 6 mm'. */
export function cardFigureWords(item: GeometryItem, { nominal, tolerance, low, high }: CardFigure, unit: LengthUnit): string {
  const own = unit === 'mm' ? '\u2009mm' : '\u2009in';
  // a figure that was typed with its unit has it already
  const ended = (text: string): string => (!isLength(item) || /[a-z"″.]$/i.test(text) ? text : `${text}${own}`);
  if (low !== undefined && high !== undefined) return `${low} to ${ended(high)}`;
  if (low !== undefined) return `at least ${ended(low)}`;
  if (high !== undefined) return `at most ${ended(high)}`;
  if (tolerance === undefined) return ended(nominal ?? '');
  return `${nominal ?? ''} ±${ended(tolerance)}`;
}

const noFigureWords: Readonly<Record<Exclude<Found, { state: 'given' }>['why'] | 'no-tolerance', string>> = {
  'not-on-card': 'no maker’s figure',
  'other-burner': 'enter tube end, head and electrodes: no maker’s figure for this burner',
  'no-row-for-flow': 'no maker’s figure for this nozzle flow',
  'two-rows-for-flow': 'the card has two settings for this nozzle flow',
  'flow-unknown': 'needs the nozzle flow',
  'flow-unit': 'the card gives flows in another unit',
  'flow-unreadable': 'the nozzle flow cannot be read',
  'card-contradicts': 'correct the card first: it contradicts itself here',
  'no-tolerance': 'the card gives no tolerance',
};

export type VerdictLines = { readonly state: string; readonly order: string; readonly shortOrder: string };

/** How much and which way, then the verb: two lines on the screen. */
export function failLines(item: GeometryItem, verdict: Extract<GeometryVerdict, { verdict: 'fail' }>, unit: LengthUnit): VerdictLines {
  const [small, large] = sides[item] ?? ['too low', 'too high'];
  const by = amountWords(item, verdict.by, unit);
  const state = `${by} ${verdict.side === 'too-small' ? small : large}`;
  if (verdict.direction === 'set-to') {
    const order = `Set it to ${Number((verdict.limits.nominal ?? verdict.limits.low).toFixed(2))}`;
    return { state, order: `${order}.`, shortOrder: `${order}.` };
  }
  return { state, order: `${geometryOrders[verdict.direction]}.`, shortOrder: `${geometryOrders[verdict.direction]} ${by}.` };
}

/** One line for a verdict, an order where there is something to do. */
export function geometryVerdictWords(item: GeometryItem, verdict: GeometryVerdict, unit: LengthUnit): string {
  switch (verdict.verdict) {
    case 'pass':
      return 'within limits';
    case 'not-measured':
      return 'not measured';
    case 'no-figure':
      return noFigureWords[verdict.why];
    case 'unreadable':
      return cardProblemWords(verdict.problem);
    case 'fail': {
      const { state, order } = failLines(item, verdict, unit);
      return `${state}. ${order}`;
    }
  }
}

const changeWords: Readonly<Record<GeometryChange, string>> = {
  zero: 'the head’s zero was moved',
  nozzle: 'the nozzle was changed',
  electrodes: 'the electrodes were moved',
  head: 'the head was changed',
  tube: 'the tube was changed',
};
const brieflyChanged: Readonly<Record<GeometryChange, string>> = {
  zero: 'zero moved',
  nozzle: 'new nozzle',
  electrodes: 'electrodes moved',
  head: 'head changed',
  tube: 'tube changed',
};
const staleNames: Readonly<Record<Exclude<Stale, GeometryItem>, string>> = { readings: 'Readings', ignitionTests: 'Ignition tests' };
export const staleName = (what: Stale): string =>
  what === 'readings' || what === 'ignitionTests' ? staleNames[what] : geometryNames[what];
export const staleSince = (because: GeometryChange): string => `measured before ${changeWords[because]}: do it again.`;
/** in a table row, beside the figure's name */
export const staleBriefly = (because: GeometryChange): string => `Again: ${brieflyChanged[because]}`;
export const measuredBefore = (because: GeometryChange): string => `Measured before ${changeWords[because]}: do it again.`;
export const staleWords = ({ what, because }: StaleReason): string => `${staleName(what)}: do it again, ${changeWords[because]}.`;

/** What is wrong with a card, and what to do about it. */
export function cardProblemWords(problem: CardProblem): string {
  switch (problem.key) {
    case 'figure-unreadable':
      if (problem.refusal === 'length-fraction-mm')
        return `${geometryNames[problem.item]}: "${problem.text}" is a fraction in mm. Fractions are inches: write in behind it, or type mm.`;
      return `${geometryNames[problem.item]}: "${problem.text}" is not ${isLength(problem.item) ? 'a length. Type 7/16, 0.44 or 11 mm.' : 'a number. Type the mark, like 2.5.'}`;
    case 'figure-negative':
      return `${geometryNames[problem.item]}: "${problem.text}" is below zero. Type how far, without a sign.`;
    case 'figure-empty':
      return `${geometryNames[problem.item]}: the card has no figure here. Type one, or take the row out.`;
    case 'limits-swapped':
      return `${geometryNames[problem.item]}: ${problem.low} is above ${problem.high}. Swap them.`;
    case 'nominal-outside':
      return `${geometryNames[problem.item]}: ${problem.nominal} is outside its own limits.`;
    case 'tolerance-too-wide':
      return `${geometryNames[problem.item]}: a tolerance of ${problem.tolerance} is more than the figure ${problem.nominal}. Check the sheet.`;
    case 'tolerance-alone':
      return `${geometryNames[problem.item]}: ±${problem.tolerance} has no figure that it belongs to. Type the figure.`;
    case 'tolerance-and-limits':
      return `${geometryNames[problem.item]} has both ± and limits. Keep what the sheet says, take the other out.`;
    case 'figure-unclear':
      return `${geometryNames[problem.item]}: two figures hold for one burner, and neither says more about it. Say for which burner each of them is.`;
    case 'figure-and-flow':
      return `${geometryNames[problem.item]} is among the figures and in the table by nozzle flow. Take one out.`;
    case 'unit-unlikely':
      return `${geometryNames[problem.item]}: ${problem.text}${/[a-z"″.]$/i.test(problem.text) ? '' : problem.unit === 'mm' ? '\u2009mm' : '\u2009in'} is not possible here. Is it ${problem.unit === 'mm' ? 'inches' : 'mm'}?`;
    case 'figure-twice':
      return `${geometryNames[problem.item]} is on the card twice for the same burner. Take one out.`;
    case 'for-unknown':
      return `${geometryNames[problem.item]} holds for "${problem.value}", which the card does not list.`;
    case 'beyond-notches':
      return `Row ${problem.row + 1}: head setting ${problem.text}, but the fine adjuster has ${problem.notches} notches.`;
    case 'flow-unreadable':
      return `Row ${problem.row + 1}: "${problem.text}" is not a flow.`;
    case 'flow-swapped':
      return `Row ${problem.row + 1}: ${problem.from} is above ${problem.to}. Swap them.`;
    case 'flow-overlap':
      return `${problem.at} is in two rows (${problem.rows[0] + 1} and ${problem.rows[1] + 1}). Change one of the ranges; until then it gets no setting.`;
  }
}

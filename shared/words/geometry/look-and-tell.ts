/** Look and tell: what is asked, what is answered, and what the flame would have shown. Effects are common practice. */
import { limitsOf } from '../../geometry/figures-card.ts';
import { figuresFor } from '../../geometry/figures-for.ts';
import type { GeometryItem } from '../../geometry/items.ts';
import { kindItem, typedOn, verdictOf, type ErrorKind, type TaughtBurner } from '../../geometry/look-and-tell.ts';
import { cardFigureWords, geometryVerdictWords } from './geometry.ts';
import { effectWords } from './geometry-steps.ts';

export const kindNames: Readonly<Record<ErrorKind, string>> = {
  gap: 'Gap',
  height: 'Height of tips',
  ahead: 'Ahead of face',
  metal: 'Metal too near',
  level: 'Tips not level',
  centre: 'Off centre',
  'tube-end': 'Head to tube end',
  zero: 'Head setting',
  porcelain: 'Porcelain cracked',
  nozzle: 'Wrong nozzle',
};

const counted = (count: number, one: string): string => (count === 0 ? `none ${one}` : `${count} ${one}`);

export const lookAndTell = {
  title: 'Look and tell',
  open: 'Look and tell',
  place: (at: number, of: number): string => `burner ${at} of ${of}`,
  withRule: (from: number): string => `with the rule; by eye alone from burner ${from}`,
  byEye: 'by eye alone',
  found: 'found',
  missed: 'missed',
  falseAlarm: (count: number): string => (count === 1 ? 'false alarm' : 'false alarms'),
  ruleHelp: 'Drag the rule, or move it with the arrow keys.',
  eyeHelp: 'No rule now. Compare with the card figures below.',
  answerHelp: 'Brackets show where the card wants it.',
  numbersHelp: 'The numbers are those of the list.',
  nothingHelp: 'Nothing to mark: this burner is as the card wants it.',
  rightHelp: 'As the card wants it.',
  turnRule: 'Turn the rule',
  side: 'from the side',
  front: 'from the front',
  drawing: 'The burner from the side and from the front, drawn to scale',
  question: 'What is wrong here?',
  questionAbout: (tolerance: string): string => `None, one, two or three.${tolerance === '' ? '' : ` Tolerance ${tolerance}.`}`,
  answers: 'Answers',
  stamp: 'nozzle stamp',
  headSetTo: 'head set to',
  tube: 'tube',
  cardFor: (flow: string): string => `head at ${flow}`,
  card: 'Card figures',
  skip: 'Skip',
  end: 'End',
  fire: 'Fire it as it is',
  fireAbout: 'Fire it to see the smoke, or go on.',
  setRight: 'See it set right',
  asItWas: 'See it as it was',
  check: 'Check my answer',
  says: (told: readonly string[]): string =>
    told.length === 0 ? 'You say: nothing is wrong.' : `You say: ${told.join(', ').toLowerCase()}.`,
  next: 'Next burner',
  last: 'See the result',
  result: ({ found, missed, falseAlarms }: { found: number; missed: number; falseAlarms: number }): string =>
    found + missed + falseAlarms === 0
      ? 'Nothing was wrong'
      : [
          found > 0 || missed > 0 ? counted(found, 'found') : '',
          missed > 0 ? `${missed} missed` : '',
          falseAlarms > 0 ? (falseAlarms === 1 ? '1 false alarm' : `${falseAlarms} false alarms`) : '',
        ]
          .filter((part) => part !== '')
          .join(', ')
          .replace(/^none/, 'None'),
  nothing: 'Every figure is within the card. A burner is not made better by finding something.',
  saidNothing: 'You said so.',
  over: (of: number): string => `${of} burners`,
  overSkipped: (count: number): string => (count === 0 ? '' : `${count} skipped.`),
  overAbout: 'Misses and false alarms count alike: a part that is turned though it was right has to be set again.',
  again: 'Another lesson',
  flame: 'Flame',
} as const;

export type AnswerLine = { readonly figure: string; readonly flame: string };

const lookAgain: Readonly<Record<ErrorKind, string>> = {
  gap: 'Lay the rule between the tips, not along the wires.',
  height: 'Measure straight up from the centreline to the tip.',
  ahead: 'Measure from the nozzle face, not from its shoulder.',
  metal: 'Only what is nearer than the other tip and the card’s figure counts.',
  level: 'Level tips can still both be wrong. Compare left with right first, then with the card.',
  centre: 'Compare the orifice with the crossing of the two axes.',
  'tube-end': 'Measure from the front of the head to the end of the tube, and look which tube end it is.',
  zero: 'The head setting goes by the nozzle flow: find its row on the card.',
  porcelain: 'A crack runs through the porcelain from edge to edge.',
  nozzle: 'Compare the stamp with the flow on the card’s row.',
};

/** What is said of one answer: the figure beside the card's with its order, then what the flame would have shown. */
export function answerLine(burner: TaughtBurner, kind: ErrorKind): AnswerLine {
  const isPlanted = burner.planted.includes(kind);
  if (kind === 'porcelain')
    return isPlanted
      ? { figure: 'A crack runs through it. Replace it.', flame: 'Lights well when cold, late when warm: the crack opens with the heat.' }
      : { figure: 'The porcelain is whole.', flame: lookAgain.porcelain };
  if (kind === 'nozzle')
    return isPlanted
      ? {
          figure: `Stamped ${burner.stampedFlow}, the burner is set for ${burner.wantedFlow}. Change it, or set head and air for it.`,
          flame: isLarger(burner)
            ? 'Too little air for its oil: O2 falls, smoke and CO rise.'
            : 'Too much air for its oil: O2 rises, the stack cools.',
        }
      : { figure: `Stamped ${burner.stampedFlow}, as the burner is set.`, flame: lookAgain.nozzle };
  const item = kindItem[kind];
  const unit = burner.card.lengthUnit;
  const verdict = verdictOf(burner, item);
  const value = burner.figures[item];
  const found = figuresFor(burner.card, burner.burner)[item];
  const card = found.state === 'given' ? cardFigureWords(item, found.figure, unit) : '';
  const typed = value === undefined ? '' : typedOn(item, value, unit);
  if (!isPlanted) return { figure: `${typed}, card ${card}.`, flame: lookAgain[kind] };
  const effects = effectWords[item];
  const isLarge = verdict.verdict === 'fail' && verdict.side === 'too-large';
  const [, flame] = isLarge || effects.small[0] === '' ? effects.large : effects.small;
  return { figure: `${typed}, card ${card}: ${geometryVerdictWords(item, verdict, unit)}`, flame };
}

const isLarger = ({ stampedFlow, wantedFlow }: TaughtBurner): boolean => parseFloat(stampedFlow) > parseFloat(wantedFlow);

/** The card's figures by the words of the answers: a narrow column has room for them. */
const shortNames: Readonly<Partial<Record<GeometryItem, string>>> = {
  electrodeGap: 'gap',
  heightAboveCentreline: 'height',
  aheadOfNozzle: 'ahead of face',
  tipToMetal: 'nearest metal',
  tipDifference: 'tips level',
  offCentre: 'off centre',
  nozzleToHead: 'nozzle to head',
  headToTubeEnd: 'head to tube end',
};

/** The card's figures for the burner in front, in the order of the answers. */
export function cardFigures({ card, burner, wantedFlow }: TaughtBurner): { item: GeometryItem; name: string; text: string }[] {
  const found = figuresFor(card, burner);
  const items: readonly GeometryItem[] = [
    'electrodeGap',
    'heightAboveCentreline',
    'aheadOfNozzle',
    'tipToMetal',
    'tipDifference',
    'offCentre',
    'nozzleToHead',
    'headToTubeEnd',
    'headSetting',
  ];
  return items.flatMap((item) => {
    const one = found[item];
    return one.state === 'given' && limitsOf(item, one.figure, card.lengthUnit) !== undefined
      ? [{ item, name: shortNames[item] ?? lookAndTell.cardFor(wantedFlow), text: cardFigureWords(item, one.figure, card.lengthUnit) }]
      : [];
  });
}

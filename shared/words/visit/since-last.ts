/** As found now beside as left the last time. */
import { common } from '../common.ts';
import { quantityWords } from './target-card.ts';
import type { CompareNote, NoSinceLast, SinceCause, SinceLast, SinceNote } from '../../tuning/visit/since-last.ts';

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
const fuelName = (id: string): string => common.fuels[id] ?? id;
const upper = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** What changed, and where to look first; then why, and what to look at next. */
type Sentences = { says: string; why: string; then: string };
const causes: Readonly<Record<SinceCause, (names: readonly string[]) => Sentences>> = {
  oil: () => ({
    says: 'Oil on the paper. Find its cause before anything else.',
    why: 'While unburned oil goes up the flue, no other figure can be relied on.',
    then: 'Nozzle, oil pressure, electrodes and cut-off.',
  }),
  nozzle: () => ({
    says: 'This is not the nozzle that was left. Find out who put it in, and what was set for it.',
    why: 'Head, air and draft are set for one nozzle. What was left with another nozzle says little about this one.',
    then: 'Compare stamp and pressure with the plate, then head setting and air.',
  }),
  fuel: () => ({
    says: 'This is not the fuel of the last visit. Set the burner up as a new job.',
    why: 'What could be compared is as it was left; gas, smoke and stack were not compared.',
    then: 'Compare nozzle and pump pressure with what the plate says for this fuel.',
  }),
  turned: (names) => ({
    says: `${upper(listed(names))} ${names.length === 1 ? 'is' : 'are'} not where ${names.length === 1 ? 'it was' : 'they were'} left. Find out who turned it, and why.`,
    why: 'This alone may explain the other changes.',
    then: 'The change may hide a fault: look at draft and smoke before turning it back.',
  }),
  pressure: () => ({
    says: 'The pump pressure changed. Look at pump, filter and strainer first.',
    why: 'Oil flow follows the square root of the pressure. The air stays the same, so excess air changes too.',
    then: 'Set the pressure to the plate, then read again.',
  }),
  passages: () => ({
    says: 'More draft is lost in the boiler. Look at the flue passages first.',
    why: 'The chimney draws at least as strongly as before, but less of it reaches the fire: less air gets in.',
    then: 'If they are clean: a fallen baffle.',
  }),
  chimney: () => ({
    says: 'The chimney draws less. Look at regulator, flue pipe and chimney first.',
    why: 'The draft at the breech is weaker than it was left.',
    then: 'If they are as they were: weather, and fans or doors in the house.',
  }),
  'stronger-draft': () => ({
    says: 'The draft is stronger. Look at the draft regulator first.',
    why: 'More draft pulls more air through the same openings.',
    then: 'If it swings free: the weather, and what was sealed or opened at the flue.',
  }),
  'less-air': () => ({
    says: 'Less air at the same positions. Look at air inlet and fan wheel first.',
    why: 'Nothing was turned, and the draft does not explain it.',
    then: 'If they are clean: more oil than before, by nozzle or pump pressure.',
  }),
  'more-air': () => ({
    says: 'More air at the same positions. Look for less oil, or for air that leaks in.',
    why: 'Nothing was turned, and the draft does not explain it.',
    then: 'Nozzle, filter and pump pressure; then the joints of the boiler and the flue pipe.',
  }),
  'less-air-marks-unknown': () => ({
    says: 'Less air than was left. Look at the shutter and band first, then at air inlet and fan wheel.',
    why: 'Where the adjusters were left is not known here: they may have been turned.',
    then: 'If they are clean: more oil than before, by nozzle or pump pressure.',
  }),
  'more-air-marks-unknown': () => ({
    says: 'More air than was left. Look at the shutter and band first, then for less oil or an air leak.',
    why: 'Where the adjusters were left is not known here: they may have been turned.',
    then: 'Nozzle, filter and pump pressure; then the joints of the boiler and the flue pipe.',
  }),
  hotter: () => ({
    says: 'The stack is hotter at the same air. Look at the heating surfaces first.',
    why: 'Heat that is not taken up goes up the flue.',
    then: 'If they are clean: nozzle and pump pressure, then the baffles.',
  }),
  flame: () => ({
    says: 'It burns worse with the same air. Look at the nozzle first.',
    why: 'Air and draft are as they were left.',
    then: 'Then electrodes, head and pump pressure.',
  }),
  other: () => ({
    says: 'Something changed, but it points to no single cause.',
    why: 'Look at the rows whose mark is outside its box.',
    then: '',
  }),
  nothing: () => ({
    says: 'Nothing changed by more than the uncertainty.',
    why: 'What could be compared is as it was left.',
    then: 'A fault that comes and goes does not show here.',
  }),
};

export const sinceWords = {
  title: 'What changed since the last visit',
  lastLeft: 'last left',
  now: 'now',
  slot: 'box: last left ±, mark: now',
  change: 'change',
  visit: (number: number, day: string): string => `visit ${number}, ${day}`,
  papers: (day: string | undefined): string => (day === undefined ? 'by the papers' : `by the papers, ${day.replaceAll(' ', '\u00a0')}`),
  asFound: (trial: number): string => `trial ${trial}`,
  asLeft: 'as left',
  within: (half: string): string => `within ${half}`,
  notKnown: 'not known',
  lookFirst: 'Look here first',
  why: 'Why',
  then: 'After that',
  stillSame: (names: readonly string[]): string => `Not changed: ${listed(names)}.`,
  count: (changed: number, all: number): string => `${changed} of ${all} changed by more than the uncertainty.`,
  papersTitle: 'Papers of the last visit',
  papersAbout: 'First visit here? Type what a label or report at the appliance says the last visit left.',
  papersDay: 'Day on the paper',
  papersFuel: 'Fuel on the paper',
  papersFuelUnsaid: 'not on the paper',
  papersNozzle: 'Nozzle, as stamped',
  papersOpen: 'Type the papers',
  wrongDraft: 'Type suction with a minus here.',
  wrongDay: 'Type the day like 2025-11-03.',
  cause: (finding: SinceLast['finding']): Sentences => causes[finding.cause](finding.names),
  none: {
    'nothing-left': 'No earlier visit left a reading at this stage.',
    'nothing-found': 'Take the as-found reading: it is then compared with what the last visit left.',
    'nothing-common': 'No figure is in both visits.',
  } satisfies Record<NoSinceLast, string>,
} as const;

export const sinceQuantityName = (quantity: SinceLast['finding']['moved'][number]): string => quantityWords[quantity];

/** @param flow writes a nozzle flow in the units shown */
export function sinceNote(note: SinceNote, flow: (litresPerHour: number) => string): string {
  switch (note.key) {
    case 'other-fuel':
      return `The last visit burned ${fuelName(note.before)}, this one ${fuelName(note.now)}: gas, smoke and stack are not compared.`;
    case 'other-nozzle':
      return `The nozzle is not the one that was left${
        note.beforeLh === undefined || note.nowLh === undefined || flow(note.beforeLh) === flow(note.nowLh)
          ? ''
          : ` (${flow(note.beforeLh)}, now ${flow(note.nowLh)})`
      }: gas, smoke, stack and draft drop are not compared.`;
    case 'not-signed':
      return `Visit ${note.number} was not signed: its figures are not confirmed.`;
    case 'other-units':
      return `Visit ${note.number} was written in other units. Both columns are in this window’s units.`;
    case 'other-scale':
      return `${upper(note.name)} had another scale then: its positions are not compared.`;
    case 'papers':
      return 'The papers give no ±, so today’s ± is used for both columns.';
  }
}

/** Between the left of two visits. @param flow writes a nozzle flow in the units shown */
export function compareNote(note: CompareNote, [a, b]: readonly [number, number], flow: (litresPerHour: number) => string): string {
  switch (note.key) {
    case 'other-fuel':
      return `Visit ${a} burned ${fuelName(note.before)}, visit ${b} ${fuelName(note.now)}: gas, smoke and stack are not compared.`;
    case 'other-nozzle': {
      const [before, now] = [note.beforeLh, note.nowLh].map((litres) => (litres === undefined ? undefined : flow(litres)));
      const flows = before === undefined || now === undefined || before === now ? '' : ` (${before}, then ${now})`;
      return `Visits ${a} and ${b} left different nozzles${flows}: gas, smoke, stack and draft drop are not compared.`;
    }
    case 'other-smoke-rule':
      return `Visits ${a} and ${b} count smoke spots by different rules: smoke is not compared.`;
    case 'not-signed':
      return `Visit ${note.number} is not signed: its figures are not confirmed.`;
    case 'other-scale':
      return `${upper(note.name)} had another scale at visit ${a}: its positions are not compared.`;
  }
}

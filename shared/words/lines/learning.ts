/** What learning says about lines: each piece of evidence, the question about the columns, and why lines are refused. */
import type { ColumnVerdict, Trouble } from '../../lines/learning/evidence.ts';
import type { FieldPlace } from '../../measurement/recipe.ts';
import { coByValuesOnly, coLooksLike, takenWords, unitWord, whyTaken, whyOpen, whyRuledOut } from './column-reasons.ts';

export const placeWord = (at: FieldPlace): string =>
  typeof at === 'number' ? `column ${at + 1}` : typeof at === 'string' ? `“${at}”` : `characters ${at.start + 1} to ${at.end}`;

const columnText = (one: ColumnVerdict): string => {
  const name = typeof one.at === 'number' && one.name !== '' ? ` “${one.name}”` : '';
  const unit = one.unitText === '' ? '' : ` ${unitWord(one.unitText)}`;
  return `${placeWord(one.at)}${name}${unit} (${one.examples.join(', ')})`;
};

export const question = {
  title: 'Is this what your instrument sends?',
  nothingUsed: 'nothing is used until you answer',
  caption: 'The columns and what each is taken for',
  head: ['name', 'sent in', 'three values', 'taken for', 'why', 'ruled out, and why'] as const,
  notUsed: 'not used',
  clock: 'clock',
  answerFor: (place: string): string => `What ${place} is`,
  unitFor: (place: string): string => `Unit of ${place}`,
  hidden: (count: number): string => (count === 1 ? '1 more column is not used.' : `${count} more columns are not used.`),
  notSent: 'Not sent',
  notSentWhy: {
    o2: 'you type it',
    co: 'you type it',
    co2: 'computed from O2',
    stackTemperature: 'you type it',
    airTemperature: 'you type it',
    draft: 'you type it',
    pumpPressure: 'you type it',
    smoke: 'you type it',
    ambientCo: 'from its own meter',
  },
  smoke: 'Smoke',
  legend: { sure: 'sure: name or unit says so', look: 'look at it: a person has to say', none: 'not a channel' },
  lookAt: (places: readonly string[]): string =>
    places.length === 0 ? 'Look at the columns, then press Enter.' : `Look at ${places.join(', ')}, then press Enter.`,
  once: (count: number): string => `One answer for ${count === 1 ? 'the 1 column' : `all ${count} columns`}. It can be changed later.`,
  change: 'Change a column',
  noneFits: 'None fits',
  use: (count: number): string => (count === 1 ? 'Use this 1 channel' : `Use these ${count} channels`),
  open: 'Look at the columns',
  openLines: 'Show lines',
  alert: (count: number): string =>
    `It has ${count === 1 ? '1 column' : `${count} columns`} that a person has to look at. Nothing is used until then.`,
  declined: 'Nothing is used. The lines are saved; fill in the recipe yourself, or choose another.',
} as const;

/** The question in one paragraph, for the command line. */
export function questionText(columns: readonly ColumnVerdict[]): string {
  const looks = columns.filter(({ sureness }) => sureness === 'look');
  const sure = columns.filter(({ sureness }) => sureness === 'sure');
  const say = (one: ColumnVerdict): string =>
    `${columnText(one)}: ${one.taken === undefined || one.taken === 'time' ? 'not used' : takenWords[one.taken]}? ${whyOpen(one)}.`;
  return [
    question.title,
    ...looks.slice(0, 8).map((one) => `Look at ${say(one)}`),
    ...(looks.length > 8 ? [`${looks.length - 8} more columns are open.`] : []),
    ...(sure.length === 0
      ? []
      : [
          `Sure: ${sure.map((one) => `${columnText(one)} is ${one.taken === undefined || one.taken === 'time' ? 'not used' : takenWords[one.taken]}`).join('; ')}.`,
        ]),
    '“Not sent” is always an answer.',
  ].join(' ');
}

/** One sentence for each column that is used. */
export const columnReasons = (columns: readonly ColumnVerdict[]): string[] =>
  columns.flatMap((one) =>
    one.taken === undefined || one.taken === 'time'
      ? []
      : [`${takenWords[one.taken]}: ${columnText(one)}, ${[whyTaken(one), whyOpen(one)].filter((text) => text !== '').join('; ')}`],
  );

/** What a person should check of a recipe that was learned from a file, in one sentence; '' = nothing. */
export function toCompare(columns: readonly ColumnVerdict[]): string {
  const co = columns.find(coByValuesOnly);
  return co === undefined ? '' : `Only its values say that ${columnText(co)} is CO: ${coLooksLike}.`;
}

const named = (columns: readonly ColumnVerdict[]): string => {
  const rows = columns.filter(({ evidence, name }) => name !== '' && !evidence.some(({ key }) => key === 'clock'));
  const shown = rows.slice(0, 4).map((one) => `${columnText(one)}: ${whyRuledOut(one).replace(/^all channels: /, '')}`);
  return shown.length === 0 ? '' : ` Seen: ${shown.join('; ')}${rows.length > 4 ? `; and ${rows.length - 4} more` : ''}.`;
};

/** The real cause and the next step. */
export function troubleText(trouble: Trouble, columns: readonly ColumnVerdict[] = [], lineCount = 0): string {
  switch (trouble) {
    case 'too-few-lines':
      return lineCount === 0 ? 'There are no lines.' : `There are only ${lineCount} lines; at least five are needed.`;
    case 'wrong-baud':
      return 'Most of the data are unreadable: the speed of the port was probably wrong. Try the usual speeds.';
    case 'utf-16':
      return 'The text is in UTF-16, as some spreadsheets save it. Save it as UTF-8 or as plain CSV, then open that file.';
    case 'lines-too-long':
      return 'Lines are longer than 16 kB. Send one reading a line.';
    case 'frames':
      return 'These are frames of a bus in hexadecimal. No column names a gas; they need a recipe made for this bus.';
    case 'no-shape':
      return 'These are messages or a report; no values come again and again in the same place. Send readings, one line each.';
    case 'no-gas':
      return `No column names a gas or a stack temperature.${named(columns)} Send O2, CO or the stack temperature with its name and unit, or make a recipe by hand.`;
    case 'no-names':
      return 'No column has a name, and the values alone do not say what they are. Send a line with names, or make a recipe by hand.';
    case 'names-in-messages':
      return 'A gas is named inside messages, where no value has a place of its own. Write the values as columns or as O2=4.2, or make a recipe by hand.';
    case 'impossible':
      return `The values cannot be: the sensor is probably broken or not connected.${named(columns)}`;
    case 'reads-nothing':
      return 'A recipe was found, but it reads almost none of these lines. Make a recipe by hand, or send lines that are all alike.';
  }
}

export const evidence = { title: 'Why each column is what it is', ruledOut: 'Ruled out:' } as const;

/** Choices beside the columns. */
export const choiceWords = {
  'date-order': { text: 'Which comes first in the date?', first: 'The day', second: 'The month' },
  'draft-sign': {
    text: 'The draft is sent as a positive number. What does that mean?',
    first: 'Pressure above the room',
    second: 'Suction',
  },
} as const;

export const display = {
  once: 'Once for this instrument',
  title: (figures: readonly string[]): string => `Does the display show ${figures.join(' and ')}?`,
  how: 'Compare them side by side. The last digit may differ by one: the line can be 1 s older than the display.',
  yes: (count: number): string => (count === 2 ? 'Yes, both' : count === 1 ? 'Yes' : 'Yes, all'),
  no: 'No, other figures',
  until: 'No reading can be taken before you answer. If you say yes, everything read so far counts.',
  ifNo: 'If you say no, nothing read so far counts: correct the columns in the table that opens.',
  notConfirmed: 'not confirmed',
  line: 'line',
  first: 'First figures',
  asSent: 'the newest line, as sent',
  youSaid: 'you said so',
  showLines: 'Show lines',
  later: 'Later',
  agree: 'Yes, the display agrees',
  alertWhy: 'Its figures are not confirmed. No reading is taken until then.',
  waiting: 'Waiting for the first figures.',
  remembered: 'Recipe and instrument are remembered.',
  alert: 'Compare with the display.',
} as const;

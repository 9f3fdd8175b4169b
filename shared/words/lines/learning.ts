/** What learning says about lines: each piece of evidence, the question about the columns, and why lines are refused. */
import { delimiterWords } from '../core/lines.ts';
import type { ColumnVerdict, Evidence, Trouble } from '../../lines/learning/evidence.ts';
import type { ClockReason, LineReason } from '../../lines/learning/line-reason.ts';
import type { ChannelId } from '../../measurement/channel.ts';
import type { FieldPlace } from '../../measurement/recipe.ts';
import type { SentUnit } from '../../measurement/sent-unit.ts';
import { sentUnitWords } from './sent-units.ts';

export const takenWords: Readonly<Record<ChannelId, string>> = {
  o2: 'O2',
  co: 'CO',
  co2: 'CO2',
  stackTemperature: 'Stack, gross',
  airTemperature: 'Air at the intake',
  no: 'NO',
  no2: 'NO2',
  so2: 'SO2',
  draft: 'Draft',
  pumpPressure: 'Oil pressure',
  ambientCo: 'Room CO',
  aux1: 'Extra 1',
  aux2: 'Extra 2',
  aux3: 'Extra 3',
  aux4: 'Extra 4',
};
const shortWords: Readonly<Partial<Record<ChannelId, string>>> = { stackTemperature: 'stack', airTemperature: 'air' };
const channelWord = (channel: ChannelId | 'all'): string =>
  channel === 'all' ? 'all channels' : (shortWords[channel] ?? takenWords[channel]);

/** What other names in a header mean; the word that is not here is shown as it is. */
const otherThings: Readonly<Record<string, string>> = {
  mass: 'a mass or weight',
  flow: 'a flow or speed',
  voltage: 'a voltage',
  raw: 'a raw sensor signal',
  humidity: 'a humidity',
  flag: 'a status or alarm',
  pressure: 'a pressure',
  target: 'a set point',
  background: 'a background value',
  calibration: 'a calibration value',
  sensor: 'the temperature of a sensor or board',
  water: 'a water temperature',
  surface: 'the temperature of a surface or part',
  lambda: 'an air ratio, not a gas',
  power: 'a power or energy',
  position: 'a valve or damper position',
  dust: 'dust or smoke',
  spread: 'a spread or limit',
  ratio: 'a ratio or index',
  otherGas: 'another gas',
  change: 'a change, loss or total, not a content',
  number: 'a serial number or name',
  network: 'a radio or network value',
  otherTemperature: 'a temperature of something else',
  battery: 'a battery',
  status: 'a status',
  counter: 'a counter',
  time: 'a time',
  date: 'a date',
  stack: 'the stack temperature',
  air: 'the air temperature',
  o2: 'O2',
  co: 'CO',
  co2: 'CO2',
  no: 'NO',
  no2: 'NO2',
  nox: 'NOx',
  so2: 'SO2',
  draft: 'a draft',
  efficiency: 'an efficiency',
  loss: 'a loss',
  excessAir: 'excess air',
  dewPoint: 'a dew point',
  net: 'a temperature difference',
  coCorrected: 'a corrected CO',
  ambientCo: 'room CO',
  reference: 'a reference value',
  pumpPressure: 'an oil pressure',
  other: 'another quantity',
  check: 'a check value',
};

const figure = (value: number | undefined): string => (value === undefined ? '' : String(Number(value.toPrecision(4))));
const unitWord = (unit: string | undefined): string => (unit === undefined ? '' : (sentUnitWords[unit as SentUnit] ?? unit));

function reason({ key, text, low, high, channel }: Evidence): string {
  switch (key) {
    case 'name-says':
      return 'name';
    case 'name-hints':
      return 'the name hints at it';
    case 'unit-fits':
      return 'unit';
    case 'moves-like':
      return 'moves with the other columns';
    case 'values-fit':
      return `values ${figure(low)} to ${figure(high)}`;
    case 'from-o2':
      return 'follows from O2';
    case 'unit-missing':
      return 'no unit';
    case 'unit-assumed':
      return `no unit, ${unitWord(text)} from the values`;
    case 'place-unknown':
      return 'no word says where this temperature is';
    case 'rival':
      return `${text ?? 'several'} columns have this name`;
    case 'factors-above':
      return 'factors above: these may be raw counts';
    case 'wet-gas':
      return 'wet gas; the figures here are dry';
    case 'reference-state':
      return 'mg/m³: temperature and oxygen reference are not said';
    case 'unit-contradicts':
      return `name and unit (${unitWord(text)}) contradict`;
    case 'values-contradict':
      return channel === 'all'
        ? `the values do not fit the unit ${unitWord(text)}`
        : `the values are not possible for ${channelWord(channel)} in ${unitWord(text)}`;
    case 'names-swapped':
      return `the values look like those of ${channelWord((text ?? 'all') as ChannelId)}: the names may be swapped`;
    case 'by-turns':
      return 'lines of two kinds, instruments or places come by turns';
    case 'air-only':
      return 'a room temperature alone: no gas and no stack beside it';
    case 'only-values':
      return 'only the values suggest it';
    case 'foreign-unit':
      return `${unitWord(text)} is not a unit of ${channel === 'all' ? 'any channel' : channelWord(channel)}`;
    case 'other-name':
      return otherThings[text ?? ''] ?? text ?? 'another quantity';
    case 'unknown-name':
      return 'the name says something else';
    case 'clock':
      return 'a clock or date';
    case 'counter':
      return 'a counter';
    case 'constant':
      return 'never changes';
    case 'text':
      return 'words, not numbers';
    case 'hexadecimal':
      return 'hexadecimal digits';
    case 'empty':
      return 'empty';
    case 'impossible':
      return `${figure(low)} to ${figure(high)} cannot be`;
    case 'computed':
      return 'computed by the instrument';
    case 'taken-by-another':
      return 'another column fits better';
  }
}

/** 'name and unit' */
export function whyTaken({ evidence, taken }: Pick<ColumnVerdict, 'evidence' | 'taken'>): string {
  if (taken === 'time') return 'clock';
  const rows = evidence.filter(({ channel, side }) => channel === taken && side === 'for').map(reason);
  return rows.length === 2 && rows[0] === 'name' && rows[1] === 'unit' ? 'name and unit' : [...new Set(rows)].join('; ');
}

/** what a person has to look at */
export const whyOpen = ({ evidence }: Pick<ColumnVerdict, 'evidence'>): string =>
  [...new Set(evidence.filter(({ side }) => side === 'open').map(reason))].join('; ');

/** 'CO: g is not a unit of CO' */
export function whyRuledOut({ evidence, taken }: Pick<ColumnVerdict, 'evidence' | 'taken'>): string {
  const rows = evidence.filter(({ side }) => side === 'against');
  // A column that is used need not say that it is nothing else.
  const telling = taken === undefined || taken === 'time' ? rows : rows.filter(({ key }) => key !== 'other-name' && key !== 'unknown-name');
  const seen = new Map<string, string[]>();
  for (const row of telling) seen.set(reason(row), [...(seen.get(reason(row)) ?? []), channelWord(row.channel)]);
  return [...seen].map(([why, channels]) => `${channels.length >= 4 ? 'all channels' : channels.join(', ')}: ${why}`).join('; ');
}

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
  title: (figures: readonly string[]): string => `The display shows ${figures.join(' and ')}?`,
  how: 'Compare them side by side. The last digit may differ by one: the line can be 1 s older than the display.',
  yes: (count: number): string => (count === 2 ? 'Yes, both' : count === 1 ? 'Yes' : 'Yes, all'),
  no: 'No, other figures',
  until: 'Until then no reading is taken. The lines are saved with the run; if you say yes, they count from the first one.',
  ifNo: 'If you say no, the table of the columns opens and nothing is used.',
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

const clockReasons: Readonly<Record<ClockReason, string>> = {
  'date-time': 'Date and time are in one column',
  'day-of-year': 'Day of the year and time',
  clock: 'Clock time in a column of its own',
  'six-digits': 'Clock time as six digits',
  'counts-seconds': 'A column counts seconds',
  'counts-milliseconds': 'A column counts milliseconds',
  'counts-minutes': 'A column counts minutes',
  'counts-days': 'A column counts days',
};
const separatorWords = (separator: string): string =>
  separator === 'blank' ? 'a blank' : separator === 'glued' ? 'nothing' : `'${separator}'`;

/** How the lines are built. */
export function lineReason(reason: LineReason): string {
  switch (reason.key) {
    case 'columns':
      return `${reason.count} columns between ${delimiterWords(reason.delimiter)} in ${reason.lines} of ${reason.all} lines`;
    case 'header':
      return 'a header names the columns';
    case 'units-row':
      return 'a row of units is above or below the names';
    case 'json':
      return `JSON objects in ${reason.count} lines`;
    case 'json-one-value':
      return `JSON objects with one value each; '${reason.tag}' says which`;
    case 'tagged':
      return `${reason.column === 1 ? 'the first column' : `column ${reason.column}`} says what a line holds: ${reason.tags.join(', ')}`;
    case 'hex-registers':
      return `${reason.count} registers in hex pairs`;
    case 'fixed':
      return `all lines have ${reason.length} characters, and the digits change as those of ${reason.count} numbers side by side`;
    case 'keys-in-turn':
      return `${reason.count} keys come one after the other, again and again`;
    case 'markup':
      return `${reason.count} names in markup in ${reason.lines} lines`;
    case 'names-behind':
      return `${reason.count} names behind their values in ${reason.lines} lines`;
    case 'keys':
      return `${reason.count} keys with ${separatorWords(reason.separator)} before the value in ${reason.lines} lines`;
    case 'template':
      return `${reason.count} numbers with the same characters between them in ${reason.lines} lines`;
    case 'comma-twice':
      return `${reason.count} parts between commas for ${reason.names} names: the comma is the decimal mark too`;
    case 'cycle':
      return `one value a line; ${reason.count} lines come round again and again`;
    case 'clock':
      return clockReasons[reason.clock];
    case 'check':
      return `The check fits in ${reason.lines} lines${reason.isProbable ? ' (probable)' : ''}`;
  }
}

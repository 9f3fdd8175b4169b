/** Why a column is taken for a channel, is still open, or is ruled out. */
import type { ColumnVerdict, Evidence } from '../../lines/learning/evidence.ts';
import type { ChannelId } from '../../measurement/channel.ts';
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
  spread: 'a mean, spread or limit',
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
export const unitWord = (unit: string | undefined): string => (unit === undefined ? '' : (sentUnitWords[unit as SentUnit] ?? unit));

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
    case 'factor-in-name':
      return low === undefined
        ? `'${text ?? ''}' may mean times or divided by: the scale is set in the recipe`
        : `'${text ?? ''}': values are taken times ${figure(low)}; compare with the display`;
    case 'two-values':
      return 'comes twice in a line with two values';
    case 'more-behind':
      return `'${text ?? ''}' cannot be read: write a number with its unit and nothing behind it`;
    case 'wet-gas':
      return 'wet gas; the figures here are dry';
    case 'reference-state':
      return 'mg/m³: temperature and oxygen reference are not said';
    case 'co-corrected':
      return `a line says '${text ?? ''}': corrected CO is not measured CO`;
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

/** Only how it moves says that a column is CO: other gases of a flue move so too. */
export const coByValuesOnly = ({ evidence, taken }: Pick<ColumnVerdict, 'evidence' | 'taken'>): boolean =>
  taken === 'co' && !evidence.some(({ channel, side, kind }) => channel === 'co' && side === 'for' && kind === 'name');
export const coLooksLike = 'NO and corrected CO look alike, so compare it with the display of the instrument';

/** 'name and unit' */
export function whyTaken({ evidence, taken }: Pick<ColumnVerdict, 'evidence' | 'taken'>): string {
  if (taken === 'time') return 'clock';
  const rows = evidence.filter(({ channel, side }) => channel === taken && side === 'for').map(reason);
  if (coByValuesOnly({ evidence, taken }) && rows.length > 0) rows.push(coLooksLike);
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

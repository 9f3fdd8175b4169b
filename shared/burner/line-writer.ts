import type { Shown, ShownValues } from './instrument.ts';
import type { LineShape, SimulatedChannel } from './scenario.ts';

/**
 * The same values in eight dialects that line-based instruments commonly speak: separated columns with and without a header, blanks with
 * signs and padding, key=value, JSON, a sentence with an XOR checksum as in NMEA 0183, one tagged value per line, fixed width.
 * None is any instrument's own format.
 */
export interface LineWriter {
  /** written once, before the first values */
  readonly header: string | undefined;
  readonly terminator: '\r\n' | '\n';
  /** one or, for the cyclic shape, several lines */
  write(values: ShownValues | 'warming-up', timeMs: number, purging: boolean): readonly string[];
}

export interface WriterOptions {
  readonly shape: LineShape;
  readonly channels: readonly SimulatedChannel[];
  /** the last digit of each channel: decides the decimals */
  readonly steps: Readonly<Record<SimulatedChannel, number>>;
}

const columnNames = { o2: 'O2 %', co: 'CO ppm', stackTemperature: 'stack C', airTemperature: 'air C', draft: 'draft Pa' } as const;
const keys = { o2: 'O2', co: 'CO', stackTemperature: 'TS', airTemperature: 'TA', draft: 'DR' } as const;
const glued = { o2: '%', co: 'ppm', stackTemperature: 'C', airTemperature: 'C', draft: 'Pa' } as const;
const tags = { o2: 'A', co: 'B', stackTemperature: 'C', airTemperature: 'D', draft: 'E' } as const;
const jsonKeys = { o2: 'o2', co: 'co', stackTemperature: 't_stack', airTemperature: 't_air', draft: 'draft_pa' } as const;
/** characters and decimals in the fixed-width shape; the decimal point is left out */
const fixedFields = {
  o2: { width: 4, decimals: 2 },
  co: { width: 5, decimals: 0 },
  stackTemperature: { width: 5, decimals: 1 },
  airTemperature: { width: 4, decimals: 1 },
  draft: { width: 5, decimals: 1 },
} as const;

const OVER_RANGE_WORD = 'OL';
const NO_VALUE_WORD = '---';

const decimalsOf = (step: number): number => {
  const text = String(step);
  return text.includes('.') ? text.length - text.indexOf('.') - 1 : 0;
};
/** toFixed without the minus of "-0.0" */
const written = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
};
const secondsText = (timeMs: number): string =>
  timeMs % 1000 === 0 ? String(timeMs / 1000) : (timeMs / 1000).toFixed(3).replace(/0+$/, '');

export const xorChecksum = (text: string): string => {
  let sum = 0;
  for (let index = 0; index < text.length; index++) sum ^= text.charCodeAt(index);
  return sum.toString(16).toUpperCase().padStart(2, '0');
};

export function createLineWriter({ shape, channels, steps }: WriterOptions): LineWriter {
  const word = (channel: SimulatedChannel, shown: Shown | undefined): string =>
    shown === undefined ? NO_VALUE_WORD : shown === 'over-range' ? OVER_RANGE_WORD : written(shown, decimalsOf(steps[channel]));
  const words = (values: ShownValues | 'warming-up'): [SimulatedChannel, string, Shown | undefined][] =>
    channels.map((channel) => {
      const shown = values === 'warming-up' ? undefined : values[channel];
      return [channel, word(channel, shown), shown];
    });
  const status = (values: ShownValues | 'warming-up', purging: boolean): string =>
    values === 'warming-up' ? 'WARM' : purging ? 'PURGE' : 'OK';

  const columns = (separator: string, comma: boolean): LineWriter => ({
    header: ['time s', ...channels.map((channel) => columnNames[channel])].join(separator),
    terminator: '\r\n',
    write: (values, timeMs) => {
      const line = [secondsText(timeMs), ...words(values).map(([, text]) => text)].join(separator);
      return [comma ? line.replaceAll('.', ',') : line];
    },
  });

  switch (shape) {
    case 'columns':
      return columns(',', false);
    case 'semicolon':
      return columns(';', true);
    case 'blanks':
      return {
        header: undefined,
        terminator: '\r\n',
        write: (values) => [
          words(values)
            .map(([, text, shown]) => padded(text, shown))
            .join('  '),
        ],
      };
    case 'keyed':
      return {
        header: undefined,
        terminator: '\r\n',
        write: (values, _timeMs, purging) => [
          [
            ...words(values).map(([channel, text, shown]) => `${keys[channel]}=${text}${typeof shown === 'number' ? glued[channel] : ''}`),
            `ST=${status(values, purging)}`,
          ].join(' '),
        ],
      };
    case 'json':
      return {
        header: undefined,
        terminator: '\n',
        write: (values, timeMs) => [
          JSON.stringify(
            Object.fromEntries([
              ['t', timeMs / 1000],
              ...words(values).map(([channel, text, shown]): [string, number | string | null] => [
                jsonKeys[channel],
                shown === undefined ? null : shown === 'over-range' ? OVER_RANGE_WORD : Number(text),
              ]),
            ]),
          ),
        ],
      };
    case 'nmea':
      return {
        header: undefined,
        terminator: '\r\n',
        write: (values) => {
          const body = ['FSGAS', ...words(values).map(([, text, shown]) => (typeof shown === 'number' ? text : ''))].join(',');
          return [`$${body}*${xorChecksum(body)}`];
        },
      };
    case 'cyclic':
      return {
        header: undefined,
        terminator: '\r\n',
        write: (values) => words(values).map(([channel, text, shown]) => `${tags[channel]} ${padded(text, shown)}`),
      };
    case 'fixed':
      return {
        header: undefined,
        terminator: '\r\n',
        write: (values, _timeMs, purging) => [
          `${channels.map((channel) => fixedField(channel, values === 'warming-up' ? undefined : values[channel])).join('')} ${values === 'warming-up' ? 1 : purging ? 2 : 0}`,
        ],
      };
  }
}

/** Sign and leading zeros, as in "+0212.4". */
function padded(text: string, shown: Shown | undefined): string {
  if (typeof shown !== 'number') return text.padStart(7);
  const negative = text.startsWith('-');
  return (negative ? '-' : '+') + (negative ? text.slice(1) : text).padStart(6, '0');
}

function fixedField(channel: SimulatedChannel, shown: Shown | undefined): string {
  const { width, decimals } = fixedFields[channel];
  if (shown === undefined) return '-'.repeat(width);
  if (shown === 'over-range') return '9'.repeat(width);
  const digits = String(Math.round(Math.abs(shown) * 10 ** decimals));
  return Math.round(shown * 10 ** decimals) < 0 ? `-${digits.padStart(width - 1, '0')}` : digits.padStart(width, '0');
}

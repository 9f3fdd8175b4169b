/** What was noticed about the lines as a whole. */
import { delimiterWords } from '../core/lines.ts';
import type { ClockReason, LineReason } from '../../lines/learning/line-reason.ts';

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

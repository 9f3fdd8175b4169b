import { sampleCorrelation } from 'simple-statistics';
import type { RecipeTime } from '../../measurement/recipe.ts';
import { clockMs, type DateOrder, type FieldTime } from '../reading/instrument-clock.ts';
import type { ClockReason } from './line-reason.ts';
import type { Column, Table } from './tables/table.ts';
import { defined } from '../../defined.ts';

/** The instrument's clock among the columns. `columns` are those that it takes; none of them can be a channel. */
export type FoundClock = {
  readonly time: RecipeTime;
  readonly columns: readonly number[];
  readonly isDateUnclear: boolean;
  readonly reason: ClockReason | undefined;
};

/** Do so many of the texts that hold something fit? Wide tables have many columns: it ends as soon as too many do not. */
function doFit({ texts }: Column, least: number, fits: (text: string) => boolean): boolean {
  let filled = 0;
  for (const text of texts) if (text !== '') filled += 1;
  if (filled === 0) return false;
  let odd = 0;
  for (const text of texts) {
    if (text === '' || fits(text)) continue;
    odd += 1;
    if ((filled - odd) / filled < least) return false;
  }
  return true;
}

/** Clocks and dates have marks that no number has: where every text is a number, none of them is one. */
const doTextsFit = (column: Column, least: number, fits: (text: string) => boolean): boolean =>
  column.statistics?.share !== 1 && doFit(column, least, fits);

const hasClock = (text: string): boolean => /(?<![\d.,])\d{1,2}:\d{2}(:\d{2}([.,:]\d{1,6})?)?(?!\d)/.test(text);
const isClock = (text: string): boolean => /^\s*"?\d{1,2}[:h]\d{2}([:m]\d{2}([.,:]\d{1,6})?)?\s*([AaPp]\.?[Mm]\.?)?"?\s*$/.test(text);
const hasDate = (text: string): boolean =>
  /(?<!\d)(\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.](\d{1,2}|[A-Za-z]{3})[-/.](\d{4}|\d{2}))(?!\d)|^\d{8}T\d{4,6}/.test(text);
const isHalfDay = (text: string): boolean => /^[AaPp]\.?[Mm]\.?$/.test(text);
const isDayOfYear = (text: string): boolean => /^\s*(\d{4}[-\s])?\d{1,3}[\s:/T-]+\d{1,2}:\d{2}:\d{2}/.test(text) && !hasDate(text);

/** The order of a date's parts, and whether the lines settle it. */
function dateOrder(texts: readonly string[]): { order: DateOrder; isUnclear: boolean } {
  let firstMost = 0;
  let secondMost = 0;
  let mark = '/';
  for (const text of texts) {
    const found = /(\d{1,4})([-/.])(\d{1,2}|[A-Za-z]{3})[-/.](\d{1,4})/.exec(text);
    if (found === null) {
      if (/^\d{8}T/.test(text)) return { order: 'year-month-day', isUnclear: false };
      continue;
    }
    if ((found[1] ?? '').length === 4) return { order: 'year-month-day', isUnclear: false };
    if (/[A-Za-z]/.test(found[3] ?? '')) return { order: 'day-month-year', isUnclear: false };
    mark = found[2] ?? mark;
    firstMost = Math.max(firstMost, Number(found[1]));
    secondMost = Math.max(secondMost, Number(found[3]));
  }
  if (firstMost > 31) return { order: 'year-month-day', isUnclear: false };
  if (firstMost > 12) return { order: 'day-month-year', isUnclear: false };
  if (secondMost > 12) return { order: 'month-day-year', isUnclear: false };
  return { order: 'day-month-year', isUnclear: mark === '/' };
}

/** Lines come at uneven times, so steps may differ. What rises with every one of so many lines, in a straight line, is no measured value. */
const FEWEST_STRAIGHT = 40;
const ONE_GO = 250;
const STRAIGHT = 0.9995;
/** a column that is named like a clock may pause */
const STRAIGHT_IF_SAID = 0.97;

/** Numbers that never fall, save where a counter starts again. */
type Climb = {
  readonly step: number;
  readonly wraps: boolean;
  readonly last: number;
  /** share of steps that are one or a few usual ones */
  readonly evenness: number;
  /** correlation with the line's number when every single value is larger than the one before, else 0 */
  readonly straightness: number;
};

function climbs(column: Column): Climb | undefined {
  const numbers = column.values.filter((value) => value !== undefined);
  if (numbers.length < 4) return undefined;
  const ups: number[] = [];
  let falls = 0;
  let still = 0;
  for (let at = 1; at < numbers.length; at++) {
    const step = (numbers[at] ?? 0) - (numbers[at - 1] ?? 0);
    if (step > 0) ups.push(step);
    else if (step < 0) falls += 1;
    else still += 1;
  }
  if (ups.length < numbers.length * 0.45 || falls > Math.max(1, numbers.length * 0.03)) return undefined;
  ups.sort((a, b) => a - b);
  const step = ups[Math.floor(ups.length / 2)] ?? 0;
  // Lost lines make steps of two and three; whole degrees of a warming stack do so too, but not one in ten of them only.
  const single = ups.filter((up) => Math.abs(up - step) <= step * 0.15).length;
  const multiple = ups.filter(
    (up) => up > step * 1.15 && Math.abs(up - Math.round(up / step) * step) <= step * 0.15 && up < step * 6,
  ).length;
  const even = single < ups.length * 0.8 ? single / (ups.length + still) : (single + multiple) / (ups.length + still);
  // of a long stream later stretches are looked at too, with a leap between them
  const inOneGo = numbers.slice(0, ONE_GO);
  const straightness =
    falls + still === 0 && inOneGo.length >= FEWEST_STRAIGHT
      ? sampleCorrelation(
          inOneGo,
          inOneGo.map((_, at) => at),
        )
      : 0;
  return { step, wraps: falls > 0, last: Math.max(...numbers.slice(-50), ...numbers.slice(0, 50)), evenness: even, straightness };
}

const countReasons = {
  seconds: 'counts-seconds',
  milliseconds: 'counts-milliseconds',
  minutes: 'counts-minutes',
  days: 'counts-days',
} as const;
const cycles = [65_536, 86_400_000, 4_294_967_296] as const;

function counterFormat(column: Column, step: number): keyof typeof countReasons {
  const name = column.name.toLowerCase();
  if (/(^|[^a-z])(ms|msec|millis|milliseconds)([^a-z]|$)/.test(name) || /millis|_ms$|ms$/.test(name)) return 'milliseconds';
  if (/(^|[^a-z])(min|minutes)([^a-z]|$)/.test(name)) return 'minutes';
  if (/(^|[^a-z])(s|sec|secs|seconds|sekunden)([^a-z]|$)/.test(name)) return 'seconds';
  if (step < 2e-3 && step > 0 && (column.statistics?.median ?? 0) > 20_000) return 'days';
  return step >= 90 ? 'milliseconds' : 'seconds';
}

export function findClock(table: Table): FoundClock {
  const { columns } = table;
  const none: FoundClock = { time: { kind: 'arrival' }, columns: [], isDateUnclear: false, reason: undefined };
  const field = (index: number, rest: Omit<FieldTime, 'kind' | 'at' | 'name'>): FieldTime => {
    const column = columns[index];
    return {
      kind: 'field',
      at: column?.at ?? 0,
      ...defined({ name: column === undefined || column.name === '' ? undefined : column.name }),
      ...rest,
    };
  };

  const both = columns.findIndex((column) =>
    doTextsFit(column, 0.7, (text) => hasDate(text) && (hasClock(text.replace(/^.*?[T\s]/, '')) || /T\d{4,6}/.test(text))),
  );
  if (both >= 0) {
    const { order, isUnclear } = dateOrder(columns[both]?.texts ?? []);
    return {
      time: field(both, { format: 'date-time', date: order }),
      columns: [both],
      isDateUnclear: isUnclear,
      reason: 'date-time',
    };
  }
  const dayOfYear = columns.findIndex((column) => doTextsFit(column, 0.7, isDayOfYear));
  if (dayOfYear >= 0) return { ...none, time: field(dayOfYear, { format: 'day-of-year' }), columns: [dayOfYear], reason: 'day-of-year' };

  const clock = columns.findIndex((column) => doTextsFit(column, 0.7, isClock));
  const date = columns.findIndex((column, at) => at !== clock && doTextsFit(column, 0.7, (text) => hasDate(text) && !hasClock(text)));
  if (clock >= 0) {
    const half = columns.findIndex((column, at) => at !== clock && doTextsFit(column, 0.8, isHalfDay));
    const { order, isUnclear } = date >= 0 ? dateOrder(columns[date]?.texts ?? []) : { order: undefined, isUnclear: false };
    const beside = half >= 0 ? half : date;
    const dateAt = beside >= 0 ? columns[beside]?.at : undefined;
    const taken = [clock, date, half].filter((at) => at >= 0);
    return {
      time: field(clock, {
        format: 'clock',
        ...defined({ dateAt, date: dateAt === undefined || half >= 0 ? undefined : order }),
      }),
      columns: taken,
      isDateUnclear: isUnclear,
      reason: 'clock',
    };
  }

  // Digits only: hhmmss, or a counter of seconds or milliseconds.
  const compact = columns.findIndex((column) => {
    if (!doFit(column, 0.95, (text) => /^\d{6}(\.\d{1,3})?$/.test(text) && clockMs(text) !== undefined)) return false;
    const steps = climbs(column);
    return steps !== undefined && (new Set(column.texts).size > 3 || date >= 0) && (column.statistics?.low ?? 0) >= 0 && steps.step <= 60;
  });
  if (compact >= 0 && columns[compact]?.texts.some((text) => Number(text.slice(4, 6)) > 0) === true && !looksSequential(columns[compact])) {
    return { ...none, time: field(compact, { format: 'clock' }), columns: [compact], reason: 'six-digits' };
  }
  let bestIndex = -1;
  let bestScore = 0;
  let bestStep = 0;
  let wraps = false;
  const counters: number[] = [];
  for (const [index, column] of columns.entries()) {
    const said = column.meaning.roles;
    const strongest = Math.max(0, ...Object.values(said));
    const isTime = said.time !== undefined;
    if (strongest >= 2 && !isTime) continue;
    const steps = climbs(column);
    if (steps === undefined) continue;
    // 's' and 't' may as well be a stack temperature; such a name alone is not believed.
    const isSaid = isTime && (column.name.length > 2 || steps.evenness >= 0.88 || steps.straightness >= STRAIGHT_IF_SAID);
    // Clocks and counters come first in a line; a later column is one only when it counts without a miss.
    const evenEnough = index <= 1 ? 0.88 : 0.97;
    const isInTime =
      isSaid || (steps.evenness >= evenEnough && (column.statistics?.distinct ?? 0) > 4) || (index === 0 && steps.straightness >= STRAIGHT);
    if (!isInTime || column.unit !== undefined) continue;
    const score = (isTime ? 5 : 0) + steps.evenness + (index === 0 ? 0.3 : 0) + (column.statistics?.decimals === 0 ? 0 : 0.2);
    if (isTime || column.statistics?.decimals === 0) counters.push(index);
    if (score > bestScore) {
      bestScore = score;
      bestIndex = index;
      bestStep = steps.step;
      wraps = steps.wraps;
    }
  }
  const column = columns[bestIndex];
  if (column === undefined) return { ...none, columns: date >= 0 ? [date] : [] };
  const format = counterFormat(column, bestStep);
  const most = Math.max(0, ...column.values.filter((value) => value !== undefined));
  const msPer = format === 'milliseconds' ? 1 : 1000;
  const cycle = cycles.find((end) => end > most * (format === 'milliseconds' ? 1 : msPer));
  const wrapMs =
    wraps || (format === 'milliseconds' && most > 1e9 && most < 4_294_967_296)
      ? format === 'milliseconds'
        ? cycle
        : most < 86_400
          ? 86_400_000
          : cycle
      : undefined;
  return {
    ...none,
    time: field(bestIndex, { format, ...defined({ wrapMs }) }),
    columns: [...new Set([bestIndex, ...counters]), ...(date >= 0 ? [date] : [])],
    reason: countReasons[format],
  };
}

/** Six digits that rise by one each time for more than 60 steps cross a full minute: a counter, not a clock. */
function looksSequential(column: Column | undefined): boolean {
  if (column === undefined) return false;
  return column.texts.some((text) => Number(text.slice(4, 6)) > 59 || Number(text.slice(2, 4)) > 59);
}

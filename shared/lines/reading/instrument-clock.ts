import type { RecipeTime } from '../../measurement/recipe.ts';

export type FieldTime = Extract<RecipeTime, { kind: 'field' }>;

/** Reads the instrument's clock. Stateful: clock times run over midnight, counters over their end. */
export type InstrumentClock = {
  /** @returns ms since the first value, or undefined when the text is no time */
  read(text: string, dateText?: string): number | undefined;
};

const DAY_MS = 86_400_000;

/** Days since 1970-01-01 of a date in the proleptic Gregorian calendar; NaN-free, no Date object. */
function daysFromCivil(year: number, month: number, day: number): number {
  const shifted = month <= 2 ? year - 1 : year;
  const era = Math.floor(shifted / 400);
  const yearOfEra = shifted - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  return era * 146_097 + yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear - 719_468;
}

const clockShape = /(?<![\d.])(\d{1,2})[:h.](\d{2})(?:[:m.](\d{2})(?:[.,:](\d{1,6}))?)?\s*([AaPp]\.?[Mm]\.?)?/;

const compactClock = /^\s*(\d{2})(\d{2})(\d{2})(?:\.(\d{1,6}))?\s*$/;

/** '12:01:07', '12:01', '12:01:07.250', '1:01:07 PM', '120107': ms since midnight. */
export function clockMs(text: string): number | undefined {
  const found = compactClock.exec(text) ?? clockShape.exec(text);
  if (found === null) return undefined;
  const [, h = '', m = '', s = '0', fraction = '', half] = found;
  let hours = Number(h);
  const minutes = Number(m);
  const seconds = Number(s);
  if (minutes > 59 || seconds > 60 || hours > 24) return undefined;
  if (half !== undefined) {
    if (hours < 1 || hours > 12) return undefined;
    hours = (hours % 12) + (half.toLowerCase().startsWith('p') ? 12 : 0);
  }
  return ((hours * 60 + minutes) * 60 + seconds) * 1000 + (fraction === '' ? 0 : Math.round(Number(`0.${fraction}`) * 1000));
}

const dateShape = /(\d{1,4})[-/.](\d{1,2}|[A-Za-z]{3})[-/.](\d{1,4})/;
const compactDate = /(?<!\d)(\d{4})(\d{2})(\d{2})(?=T|\s|$)/;
const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

export type DateOrder = 'year-month-day' | 'day-month-year' | 'month-day-year';

/** Days since 1970 of the date in a text. */
function dateDays(text: string, order: DateOrder): number | undefined {
  const found = dateShape.exec(text) ?? compactDate.exec(text);
  if (found === null) return undefined;
  const [, first = '', second = '', third = ''] = found;
  const named = months.indexOf(second.toLowerCase()) + 1;
  const [yearText, monthText, dayText] =
    first.length === 4 || (order === 'year-month-day' && third.length <= 2)
      ? [first, second, third]
      : order === 'month-day-year' && named === 0
        ? [third, first, second]
        : [third, second, first];
  const month = named > 0 ? named : Number(monthText);
  const day = Number(dayText);
  const year = Number(yearText) + (yearText.length <= 2 ? 2000 : 0);
  if (!(month >= 1 && month <= 12 && day >= 1 && day <= 31)) return undefined;
  return daysFromCivil(year, month, day);
}

/** Text of digits with one decimal mark of either kind. */
function plainNumber(text: string): number | undefined {
  const trimmed = text.trim();
  if (!/^[+-]?\d{1,18}([.,]\d{1,15})?(e[+-]?\d{1,2})?\s*(s|sec|ms|min|d)?$/i.test(trimmed)) return undefined;
  const value = Number.parseFloat(trimmed.replace(',', '.'));
  return Number.isFinite(value) ? value : undefined;
}

const msPer = { seconds: 1000, milliseconds: 1, minutes: 60_000, days: DAY_MS } as const;

function absoluteMs(time: FieldTime, text: string, dateText: string | undefined): { ms: number; cycleMs?: number } | undefined {
  switch (time.format) {
    case 'seconds':
    case 'milliseconds':
    case 'minutes':
    case 'days': {
      const value = plainNumber(text);
      if (value === undefined) return undefined;
      return { ms: value * msPer[time.format], ...(time.wrapMs === undefined ? {} : { cycleMs: time.wrapMs }) };
    }
    case 'clock': {
      const ms = clockMs(text);
      if (ms === undefined) return undefined;
      // The column beside it holds the half of the day, or the date.
      if (dateText !== undefined && /^\s*[ap]\.?m/i.test(dateText)) {
        const halfMs = clockMs(`${text} ${dateText.trim()}`);
        return halfMs === undefined ? undefined : { ms: halfMs, cycleMs: DAY_MS };
      }
      if (dateText !== undefined) {
        const days = dateDays(dateText, time.date ?? 'year-month-day');
        if (days !== undefined) return { ms: days * DAY_MS + ms };
      }
      return { ms, cycleMs: DAY_MS };
    }
    case 'date-time': {
      const days = dateDays(text, time.date ?? 'year-month-day');
      // The clock stands behind the date: '2026-01-31T12:01:07', '31.01.26 12:01'.
      const afterDate = text.replace(dateShape, ' ').replace(compactDate, ' ');
      const ms = clockMs(afterDate.replace(/[TZ,;]/g, ' '));
      if (days === undefined || ms === undefined) return undefined;
      return { ms: days * DAY_MS + ms };
    }
    case 'day-of-year': {
      const found = /(\d{1,3})[\s:/T-]+(\d{1,2}:\d{2}.*)$/.exec(text);
      const ms = found === null ? undefined : clockMs(found[2] ?? '');
      if (found === null || ms === undefined) return undefined;
      return { ms: Number(found[1]) * DAY_MS + ms };
    }
  }
}

/** Earlier than this behind the last value is not a step back but the cycle starting again. */
const SMALL_STEP_BACK = 0.5;

export function createInstrumentClock(time: FieldTime): InstrumentClock {
  let first: number | undefined;
  let last = 0;
  let carriedMs = 0;
  return {
    read(text, dateText) {
      const now = absoluteMs(time, text, dateText);
      if (now === undefined) return undefined;
      if (first === undefined) first = last = now.ms;
      if (now.cycleMs !== undefined && now.ms < last - now.cycleMs * SMALL_STEP_BACK) carriedMs += now.cycleMs;
      last = now.ms;
      return Math.round(now.ms + carriedMs - first);
    },
  };
}

/** Dates and times on paper and in tables, in the zone that they were taken in. */
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const longMonths = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** Undefined for what no calendar has: a damaged figure must never blank the page that shows it. */
function localTime(wallMs: number, zoneMinutes: number): Date | undefined {
  const date = new Date(wallMs + zoneMinutes * 60_000);
  return Number.isNaN(date.getTime()) ? undefined : date;
}
/** where a date cannot be said */
const NO_DATE = '–';

/** '24 Nov 2026' */
export function formatDay(wallMs: number, zoneMinutes: number): string {
  const local = localTime(wallMs, zoneMinutes);
  if (local === undefined) return NO_DATE;
  return `${local.getUTCDate()} ${months[local.getUTCMonth()]} ${local.getUTCFullYear()}`;
}

/** '24 November 2026' */
export function formatLongDay(wallMs: number, zoneMinutes: number): string {
  const local = localTime(wallMs, zoneMinutes);
  if (local === undefined) return NO_DATE;
  return `${local.getUTCDate()} ${longMonths[local.getUTCMonth()]} ${local.getUTCFullYear()}`;
}

/** '2026-11-24' as people write it: '24 November 2026'; anything else stays as it is. */
export function formatIsoDay(iso: string): string {
  const match = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$/.exec(iso);
  if (match === null) return iso;
  const month = match[2] === undefined ? undefined : longMonths[Number(match[2]) - 1];
  return [match[3] === undefined ? undefined : String(Number(match[3])), month, match[1]].filter((part) => part !== undefined).join(' ');
}

/** 'UTC+1', 'UTC−4:30', 'UTC' */
export function formatZone(zoneMinutes: number): string {
  if (zoneMinutes === 0) return 'UTC';
  const minutes = Math.abs(zoneMinutes);
  const rest = minutes % 60 === 0 ? '' : `:${String(minutes % 60).padStart(2, '0')}`;
  return `UTC${zoneMinutes < 0 ? '−' : '+'}${Math.floor(minutes / 60)}${rest}`;
}

/** '2026-11-24'; 'undated' for what no calendar has, so that it can stand in a file name */
export const isoDay = (wallMs: number, zoneMinutes = 0): string => localTime(wallMs, zoneMinutes)?.toISOString().slice(0, 10) ?? 'undated';

/**
 * Whole months of the calendar from one day to a later one ('2025-12-01' to '2026-12-01': 12).
 *
 * @returns undefined for what is no day, and where the second one is before the first
 */
export function wholeMonths(fromIso: string, toIso: string): number | undefined {
  const parts = (iso: string): number[] | undefined => (Number.isNaN(Date.parse(iso)) ? undefined : iso.split('-').map(Number));
  const [fromYear, fromMonth, fromDay] = parts(fromIso) ?? [];
  const [toYear, toMonth, toDay] = parts(toIso) ?? [];
  if (fromYear === undefined || fromMonth === undefined || fromDay === undefined) return undefined;
  if (toYear === undefined || toMonth === undefined || toDay === undefined || fromIso > toIso) return undefined;
  return 12 * (toYear - fromYear) + toMonth - fromMonth - (toDay < fromDay ? 1 : 0);
}

/** ISO 8601 with its zone, for files: '2026-11-24T10:11:12.345+01:00' */
export function isoWithZone(wallMs: number, zoneMinutes: number): string {
  const minutes = Math.abs(zoneMinutes);
  const two = (value: number): string => String(value).padStart(2, '0');
  const local = localTime(wallMs, zoneMinutes)?.toISOString().slice(0, -1);
  if (local === undefined) return '';
  return `${local}${zoneMinutes < 0 ? '-' : '+'}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

/**
 * The same for many times one after the other: the minute is written once.
 *
 * @returns a function of `wallMs`, with just what `isoWithZone` gives
 */
export function isoStamps(zoneMinutes: number): (wallMs: number) => string {
  let minute = NaN;
  let front = '';
  let back = '';
  return (wallMs) => {
    const localMs = wallMs + zoneMinutes * 60_000;
    if (!Number.isInteger(localMs) || Math.abs(localMs) > LAST_MS) return isoWithZone(wallMs, zoneMinutes);
    const now = Math.floor(localMs / 60_000);
    if (now !== minute) {
      const text = isoWithZone(wallMs, zoneMinutes);
      const point = text.lastIndexOf('.');
      front = text.slice(0, point - 2);
      back = text.slice(point + 4);
      minute = now;
    }
    const digits = String(100_000 + localMs - now * 60_000);
    return `${front}${digits.slice(1, 3)}.${digits.slice(3)}${back}`;
  };
}
/** the last moment of a calendar */
const LAST_MS = 8.64e15;

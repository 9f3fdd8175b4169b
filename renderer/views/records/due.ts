import { formatDay, formatIsoDay } from '../../../shared/format/date.ts';
import { formatClock } from '../../../shared/format/duration.ts';
import { records as words } from '../../../shared/words/records/records.ts';

/** @param nowMs wall clock of this computer */
export function dueWords(nextDue: string | undefined, nowMs: number): { text: string; isOver: boolean } | undefined {
  if (nextDue === undefined) return undefined;
  const today = isoDayHere(nowMs);
  if (nextDue === today) return { text: words.dueToday, isOver: false };
  const isOver = nextDue < today;
  return { text: (isOver ? words.overdue : words.due)(formatIsoDay(nextDue)), isOver };
}

/** The day of the calendar on this computer; in UTC a visit would be overdue an evening early. */
export function isoDayHere(nowMs: number): string {
  const now = new Date(nowMs);
  return new Date(nowMs - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

/** '24 Nov 2026 14:03' on the clock of this computer, for what has no zone of its own. */
export function timeHere(wallMs: number): string {
  const zone = -new Date(wallMs).getTimezoneOffset();
  return `${formatDay(wallMs, zone)} ${formatClock(wallMs, zone, 'minutes')}`;
}

import { formatIsoDay } from '../../../shared/format/date.ts';
import { records as words } from '../../../shared/words/records.ts';

/** @param nowMs wall clock of this computer */
export function dueWords(nextDue: string | undefined, nowMs: number): { text: string; isOver: boolean } | undefined {
  if (nextDue === undefined) return undefined;
  const isOver = nextDue < new Date(nowMs).toISOString().slice(0, 10);
  return { text: (isOver ? words.overdue : words.due)(formatIsoDay(nextDue)), isOver };
}

/** @returns undefined when it is no date of the calendar */
export function readDay(typed: string): string | undefined {
  const text = typed.trim();
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return undefined;
  const date = new Date(`${text}T00:00:00Z`);
  return Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== text ? undefined : text;
}

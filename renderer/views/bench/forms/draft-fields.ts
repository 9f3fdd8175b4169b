/** Fields of a form that is saved as a whole: text as typed on one side, checked values on the other. */
import { common } from '../../../../shared/words/common.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { typedPlain } from '../../tune/entries/typed-number.ts';

export type Read<T> = { ok: true; value: T } | { ok: false; error: string };

export function readNumber(
  text: string,
  { low = -Infinity, high = Infinity }: { low?: number; high?: number } = {},
): Read<number | undefined> {
  const typed = typedPlain(text);
  if (typed.kind === 'empty') return { ok: true, value: undefined };
  if (typed.kind === 'wrong') return { ok: false, error: typed.error };
  if (typed.value < low || typed.value > high) return { ok: false, error: common.fieldErrors.outside(String(low), String(high)) };
  return { ok: true, value: typed.value };
}

/** ISO date; the calendar is asked too. */
export function readDate(text: string): Read<string | undefined> {
  const trimmed = text.trim();
  if (trimmed === '') return { ok: true, value: undefined };
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(trimmed);
  const date = match === null ? undefined : new Date(`${trimmed}T00:00:00Z`);
  if (date === undefined || Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== trimmed)
    return { ok: false, error: `Type it ${bench.instrument.dateHint}.` };
  return { ok: true, value: trimmed };
}

export const errorIn = (read: Read<unknown>): string | undefined => (read.ok ? undefined : read.error);
export const textOf = (value: number | string | undefined): string => (value === undefined ? '' : String(value));
/** Leaves absent fields out, as exact optional properties want it. */
export const compact = <T extends Record<string, unknown>>(value: T): { [K in keyof T]?: Exclude<T[K], undefined> } =>
  Object.fromEntries(Object.entries(value).filter(([, one]) => one !== undefined && one !== '')) as never;

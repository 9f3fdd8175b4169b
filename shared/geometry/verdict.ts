/** Measured against the card: in or out, by how much, and which way to move. Judged in mm, so the unit shown never changes a verdict. */
import type { LengthUnit } from '../units/length.ts';
import { limitsOf, readFigure, unlikely, type CardProblem, type Limits } from './figures-card.ts';
import type { Found } from './figures-for.ts';
import { geometryItems, type Direction, type GeometryItem } from './items.ts';

export type GeometryVerdict =
  | { readonly verdict: 'pass'; readonly value: number; readonly limits: Limits }
  | {
      readonly verdict: 'fail';
      readonly value: number;
      readonly limits: Limits;
      readonly side: 'too-small' | 'too-large';
      /** from the value to the nominal, or to the nearest limit where the card has no nominal: mm or marks, above zero */
      readonly by: number;
      readonly direction: Direction;
    }
  | { readonly verdict: 'no-figure'; readonly value: number; readonly why: Exclude<Found, { state: 'given' }>['why'] | 'no-tolerance' }
  | { readonly verdict: 'not-measured' }
  | { readonly verdict: 'unreadable'; readonly problem: CardProblem };

/**
 * @param text as typed, in the unit of the sheet; undefined when it was not measured
 * @returns a figure without limits is shown as measured and never judged
 */
export function judge(
  item: GeometryItem,
  text: string | undefined,
  found: Found,
  units: { sheet: LengthUnit; card: LengthUnit },
): GeometryVerdict {
  if (text === undefined || text.trim() === '') return { verdict: 'not-measured' };
  const read = readFigure(item, text, units.sheet);
  if (!read.ok) return { verdict: 'unreadable', problem: read.error };
  const impossible = unlikely(item, read.value, text, units.sheet);
  if (impossible !== undefined) return { verdict: 'unreadable', problem: impossible };
  return judgeValue(item, read.value, found, units.card);
}

/** @param value mm for a length, marks for a position */
export function judgeValue(item: GeometryItem, value: number, found: Found, cardUnit: LengthUnit): GeometryVerdict {
  if (found.state === 'none') return { verdict: 'no-figure', value, why: found.why };
  const limits = limitsOf(item, found.figure, cardUnit);
  if (limits === undefined) return { verdict: 'no-figure', value, why: 'no-tolerance' };
  // a value exactly on the limit is in; the last bits of an inch conversion must not decide
  const slack = 1e-6 * Math.max(1, Math.abs(value));
  const isSmall = value < limits.low - slack;
  if (!isSmall && value <= limits.high + slack) return { verdict: 'pass', value, limits };
  const target = limits.nominal ?? (isSmall ? limits.low : limits.high);
  const side = isSmall ? 'too-small' : 'too-large';
  return {
    verdict: 'fail',
    value,
    limits,
    side,
    by: Math.abs(value - target),
    direction: isSmall ? geometryItems[item].tooSmall : geometryItems[item].tooLarge,
  };
}

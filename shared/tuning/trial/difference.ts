import type { CardFigure } from '../card/target-card.ts';

/** U of the difference of two visits: other years, often another instrument, so nothing is taken to cancel. @source JCGM 100:2008, 5.1.2 */
export function difference(before: CardFigure, after: CardFigure): { value: number; expanded: number | undefined } {
  const known = before.expanded !== undefined && after.expanded !== undefined;
  return { value: after.value - before.value, expanded: known ? Math.hypot(before.expanded ?? 0, after.expanded ?? 0) : undefined };
}

/** Figures of the worst-case test, written alike on screen and on paper. */
import { formatNumber, shownAs, withUnit, type UnitSystem } from '../format/quantity.ts';
import type { WorstLine, WorstQuantity } from '../tuning/safety/venting.ts';
import { ventWords } from '../words/visit/venting.ts';

const quantityOf = { draftPa: 'draft', o2Percent: 'o2', roomCoPpm: 'co' } as const satisfies Record<WorstQuantity, 'draft' | 'o2' | 'co'>;
export const worstUnit = (quantity: WorstQuantity, units: UnitSystem): string => shownAs(quantityOf[quantity], units).unit;

/** In the units of the window, without the unit. */
export function worstFigure(quantity: WorstQuantity, inner: number, units: UnitSystem): string {
  const { factor, decimals } = shownAs(quantityOf[quantity], units);
  return formatNumber(inner * factor, quantity === 'roomCoPpm' ? 0 : decimals);
}

export const worstLimit = ({ quantity, limit }: Pick<WorstLine, 'quantity' | 'limit'>, units: UnitSystem): string =>
  limit === undefined
    ? ventWords.noLimit
    : ventWords.limits[quantity](withUnit(worstFigure(quantity, limit, units), worstUnit(quantity, units)));

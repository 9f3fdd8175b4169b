/** Figures and limits of a target card, as text. */
import { formatNumber, formatSmoke, formatWithHalf, shownAs, withUnit, type UnitSystem } from '../format/quantity.ts';
import type { QuantityId } from '../units/quantities.ts';
import type { CardFigure, CardLine, CardQuantity } from '../tuning/card/target-card.ts';
import { reportWords } from '../words/paper/page-one.ts';
import { defined } from '../defined.ts';

const shownBy: Readonly<Record<Exclude<CardQuantity, 'smokeNumber' | 'oilTrace'>, QuantityId>> = {
  o2Percent: 'o2',
  co2Percent: 'co2Percent',
  excessAirPercent: 'excessAirPercent',
  coPpm: 'co',
  coAirFreePpm: 'coAirFreePpm',
  coAt3PercentO2Ppm: 'coAt3PercentO2Ppm',
  coMgPerKwh: 'coMgPerKwh',
  stackC: 'stackTemperature',
  netStackK: 'netStackC',
  efficiencyHhvPercent: 'efficiencyHhvPercent',
  efficiencyLhvPercent: 'efficiencyLhvPercent',
  siegertLossPercent: 'siegertLossPercent',
  overFirePa: 'draft',
  breechPa: 'draft',
  draftDropPa: 'draft',
  reserveO2Percent: 'o2',
  roomCoPpm: 'ambientCo',
};

const isSmoke = (quantity: CardQuantity): quantity is 'smokeNumber' => quantity === 'smokeNumber';
const isOil = (quantity: CardQuantity): quantity is 'oilTrace' => quantity === 'oilTrace';

export const cardUnit = (quantity: CardQuantity, units: UnitSystem): string =>
  isSmoke(quantity) || isOil(quantity) ? '' : quantity === 'reserveO2Percent' ? 'points' : shownAs(shownBy[quantity], units).unit;

/** How a figure of a card is typed and shown: shown = inner * factor + offset. */
export function cardShape(quantity: CardQuantity, units: UnitSystem): { unit: string; factor: number; offset: number } {
  const { factor, offset } = isSmoke(quantity) || isOil(quantity) ? { factor: 1, offset: 0 } : shownAs(shownBy[quantity], units);
  return { unit: cardUnit(quantity, units), factor, offset };
}

export type FigureText = { readonly value: string; readonly half?: string | undefined };

/** Value with its uncertainty and no more digits than that carries. */
export function cardFigureText(quantity: CardQuantity, figure: CardFigure | undefined, units: UnitSystem): FigureText | undefined {
  if (figure === undefined) return undefined;
  if (isOil(quantity)) return { value: figure.value > 0 ? 'seen' : 'none' };
  if (isSmoke(quantity)) {
    const half = figure.expanded;
    return {
      value: formatSmoke(figure.value),
      ...defined({ half: half === undefined ? undefined : `±${half === 0.5 ? '½' : formatNumber(half, 1)}` }),
    };
  }
  const id = shownBy[quantity];
  if (figure.expanded === undefined) {
    const { factor, offset, decimals } = shownAs(id, units);
    return { value: formatNumber(figure.value * factor + offset, decimals) };
  }
  const { value, half } = formatWithHalf(id, { value: figure.value, half: figure.expanded }, units);
  return { value, half };
}

/** A limit as a person would write it: no trailing zeros. */
function limitText(quantity: CardQuantity, inner: number, units: UnitSystem): string {
  if (isSmoke(quantity) || isOil(quantity)) return formatSmoke(inner);
  const { factor, offset, decimals } = shownAs(shownBy[quantity], units);
  const text = formatNumber(inner * factor + offset, Math.max(decimals, 1));
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

export function lineLimitText({ quantity, low, high, highExcluded }: CardLine, units: UnitSystem): string {
  const write = (inner: number): string => limitText(quantity, inner, units);
  if (isOil(quantity)) return 'none';
  if (low !== undefined && high !== undefined) return reportWords.limit.between(write(low), write(high));
  if (high !== undefined) return (highExcluded === true ? reportWords.limit.below : reportWords.limit.most)(write(high));
  return reportWords.limit.least(write(low ?? 0));
}

/** Two figures that are not the same, and yet would be written with the same digits. */
export const looksLike = (quantity: CardQuantity, value: number, limit: number, units: UnitSystem): boolean =>
  value !== limit && !isSmoke(quantity) && !isOil(quantity) && limitText(quantity, value, units) === limitText(quantity, limit, units);

/** With two digits more than usual, and the unit: for the rare figure whose last digits decide. */
export function exactText(quantity: CardQuantity, inner: number, units: UnitSystem): string {
  if (isSmoke(quantity) || isOil(quantity)) return formatSmoke(inner);
  const { factor, offset, decimals, unit } = shownAs(shownBy[quantity], units);
  return withUnit(formatNumber(inner * factor + offset, decimals + 2), unit);
}

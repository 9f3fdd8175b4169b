/** Figures and limits of a target card in the person's units. Pure. */
import { cardQuantities, type CardFigure, type CardLine, type CardQuantity } from '../../../shared/tuning/target-card.ts';
import type { QuantityId } from '../../../shared/units/quantities.ts';
import { leftScreen as words } from '../../../shared/words/visit.ts';
import { decimalsFor, formatNumber, formatSmoke, shownAs, withUnit, type UnitSystem } from '../../format/quantity.ts';

type Shape = { unit: string; factor: number; offset: number; decimals: number };

const quantityOf: Partial<Record<CardQuantity, QuantityId>> = {
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
  roomCoPpm: 'ambientCo',
};

export function shapeOf(quantity: CardQuantity, units: UnitSystem): Shape {
  const id = quantityOf[quantity];
  if (id !== undefined) return shownAs(id, units);
  return { unit: quantity === 'reserveO2Percent' ? '%' : '', factor: 1, offset: 0, decimals: 1 };
}

const number = (quantity: CardQuantity, value: number, units: UnitSystem, decimals?: number): string => {
  if (quantity === 'smokeNumber') return formatSmoke(value);
  if (quantity === 'oilTrace') return value > 0 ? 'seen' : 'none';
  const shape = shapeOf(quantity, units);
  return formatNumber(value * shape.factor + shape.offset, decimals ?? shape.decimals);
};

export function figureText(
  quantity: CardQuantity,
  { value, expanded }: CardFigure,
  units: UnitSystem,
): { value: string; half: string; unit: string } {
  const shape = shapeOf(quantity, units);
  if (quantity === 'oilTrace') return { value: number(quantity, value, units), half: '', unit: '' };
  const half = expanded === undefined || expanded === 0 ? undefined : Math.abs(expanded * shape.factor);
  if (half === undefined || quantity === 'smokeNumber')
    return { value: number(quantity, value, units), half: half === undefined ? '' : `±${formatNumber(half, 1)}`, unit: shape.unit };
  const decimals = decimalsFor(half, shape.decimals);
  return {
    value: number(quantity, value, units, decimals),
    half: `±${formatNumber(Math.max(half, 10 ** -decimals), decimals)}`,
    unit: shape.unit,
  };
}

export function limitText(line: CardLine, units: UnitSystem): string {
  const { quantity, low, high, highExcluded } = line;
  const { unit } = shapeOf(quantity, units);
  const write = (value: number): string => number(quantity, value, units);
  if (low !== undefined && high !== undefined) return withUnit(words.between(write(low), write(high)), unit);
  if (high !== undefined) return withUnit((highExcluded === true ? words.below : words.atMost)(write(high)), unit);
  return withUnit(words.atLeast(write(low ?? 0)), unit);
}

export const basisOf = (quantity: CardQuantity): string => cardQuantities[quantity].basis;

/**
 * What a typed figure can be. Outside it a key or a unit was mistaken, whoever sends it. Only what is typed is held to it: the schemas that read
 * records and run files stay wider, or one slip in an older record would make all of it unreadable.
 */
import type { z } from 'zod';
import { quantities, type Quantity, type QuantityId } from '../units/quantities.ts';

export type TypedRange = readonly [low: number, high: number];

/** 2 in w.c.: beyond what a residential or light commercial chimney or fan gives. Common practice. */
const DRAFT_PA: TypedRange = [-500, 500];
/** 50 bar: beyond the pump of any burner of this kind. Common practice. */
const PUMP_PA: TypedRange = [0, 5_000_000];
/** The user's own scale: marks, millimetres, turns. */
export const SCALE: TypedRange = [-100_000, 100_000];

/** A measured channel may read a little below zero, as its instrument shows it. */
export function typedRange(id: QuantityId): TypedRange | undefined {
  if (id === 'draft') return DRAFT_PA;
  if (id === 'pumpPressure') return PUMP_PA;
  const { possible }: Quantity = quantities[id];
  return possible;
}

type Place = readonly (string | number)[];
/** @returns the range of the number there; `parent` is what it is part of */
export type RangeAt = (place: Place, parent: unknown) => TypedRange | undefined;
type Said = { readonly origin: 'number'; readonly inclusive: true; path: PropertyKey[]; message: string; input: number };
type OutsideIssue = (Said & { code: 'too_small'; minimum: number }) | (Said & { code: 'too_big'; maximum: number });

/** @returns the first number that is outside its range, as the schema library would report it */
export function firstOutside(value: unknown, rangeAt: RangeAt, place: Place = [], parent?: unknown): OutsideIssue | undefined {
  if (typeof value === 'number') {
    const [low, high] = rangeAt(place, parent) ?? [-Infinity, Infinity];
    const said: Said = { origin: 'number', inclusive: true, path: [...place], message: '', input: value };
    if (value < low) return { ...said, code: 'too_small', minimum: low };
    return value > high ? { ...said, code: 'too_big', maximum: high } : undefined;
  }
  if (typeof value !== 'object' || value === null) return undefined;
  const parts = Array.isArray(value) ? [...value.entries()] : Object.entries(value);
  for (const [key, part] of parts) {
    const found = firstOutside(part, rangeAt, [...place, key], value);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** Figures of a mark, wherever a mark or its setting is part of something. */
export const markRange: RangeAt = (place) => {
  switch (place.at(-1)) {
    case 'overFirePa':
    case 'breechPa':
      return DRAFT_PA;
    case 'pumpPa':
      return PUMP_PA;
    case 'value':
      return place.at(-3) === 'positions' ? SCALE : undefined;
    default:
      return undefined;
  }
};
export const channelRange: RangeAt = ([channel]) =>
  typeof channel === 'string' && Object.hasOwn(quantities, channel) ? typedRange(channel as QuantityId) : undefined;

/** For a schema of what travels: `Schema.superRefine(withinRange(...))` */
export const withinRange =
  (rangeAt: RangeAt) =>
  (value: unknown, context: z.core.$RefinementCtx): void => {
    const outside = firstOutside(value, rangeAt);
    if (outside !== undefined) context.addIssue(outside);
  };

import type { ChannelId } from '../../shared/measurement/channel.ts';
import { LineRecipe, type LineRecipeInput } from '../../shared/measurement/recipe.ts';
import type { SentUnit } from '../../shared/measurement/sent-unit.ts';

const units = { o2: '%', co: 'ppm', stackTemperature: 'C', airTemperature: 'C', aux1: 'none' } as const satisfies Partial<
  Record<ChannelId, SentUnit>
>;
/** Gases and temperatures, as most instruments of a test send them. */
export const FOUR = ['o2', 'co', 'stackTemperature', 'airTemperature'] as const;
/** The same behind a column that numbers the lines. */
export const NUMBERED = ['aux1', ...FOUR] as const;

/**
 * A recipe for comma columns in this order, in the usual units.
 *
 * @param firstAt the column of the first channel; what is before it is not read
 */
export const commaRecipe = (
  name: string,
  channels: readonly (keyof typeof units)[] = FOUR,
  { firstAt = 0, ...more }: Partial<LineRecipeInput> & { firstAt?: number } = {},
): LineRecipe =>
  LineRecipe.parse({
    format: 'flueside-recipe',
    version: 1,
    name,
    shape: { kind: 'columns', delimiter: ',' },
    fields: channels.map((channel, index) => ({ channel, at: firstAt + index, unit: units[channel] })),
    ...more,
  });

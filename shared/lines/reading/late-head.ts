import type { ChannelId } from '../../measurement/channel.ts';
import { unitsFor } from '../../measurement/sent-unit.ts';
import { nameMeaning, type NameMeaning } from '../learning/names/column-name.ts';
import { channelOfRole, type Role } from '../learning/names/roles.ts';
import type { Slot } from './extraction.ts';

/** what names call a channel */
export const roleOf: Partial<Record<ChannelId, Role>> = Object.fromEntries(
  Object.entries(channelOfRole).map(([role, channel]) => [channel, role]),
);
/** from here on a name says it, below it hints */
export const CLEAR = 2;

/** Is this the name of the channel, in a unit that it can be in? */
const saysChannel = ({ roles, foreign, excludedBy, unit }: NameMeaning, channel: ChannelId, role: Role): boolean =>
  (roles[role] ?? 0) >= CLEAR &&
  foreign === undefined &&
  (excludedBy === undefined || role === 'draft') &&
  (unit === undefined || unitsFor(channel).includes(unit));

const saysSomethingElse = ({ roles, foreign }: NameMeaning): boolean =>
  foreign !== undefined || Object.values(roles).some((said) => said >= CLEAR);

/**
 * Where the columns of a recipe without names are, by a head that comes after it: a name that is clear moves its channel and gives its unit, a
 * name of something else ends the channel that was read there.
 * @returns per slot the column, -1 = none, and the unit where it is not the recipe's
 */
export function placesByHead(
  cells: readonly string[],
  slots: readonly Slot[],
  places: readonly number[],
): { places: readonly number[]; units: readonly (string | undefined)[] } {
  const meanings = cells.map(nameMeaning);
  const units: (string | undefined)[] = slots.map(() => undefined);
  const moved = slots.map(({ channel, unit, name }, slot) => {
    const place = places[slot] ?? -1;
    const role = channel === undefined ? undefined : roleOf[channel];
    const own = meanings[place];
    if (channel === undefined || role === undefined || own === undefined || name !== undefined) return place;
    const named = meanings.flatMap((meaning, at) => (saysChannel(meaning, channel, role) ? [at] : []));
    const at = named.includes(place) || named.length !== 1 ? place : (named[0] ?? place);
    if (!named.includes(at)) return saysSomethingElse(own) ? -1 : place;
    const said = meanings[at]?.unit;
    if (said !== undefined && said !== unit) units[slot] = said;
    return at;
  });
  return { places: moved, units };
}

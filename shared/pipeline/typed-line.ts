/** Values typed from a display become a line of text like any other, so that they are kept and read on the same way. Inner units. */
import { channelIds, type ChannelId } from '../measurement/channel.ts';
import { LineRecipe } from '../measurement/recipe.ts';
import { innerUnit } from '../measurement/sent-unit.ts';

/** @returns `o2=4.2 stackTemperature=210`, channels in their usual order */
export function writeTyped(values: Partial<Record<ChannelId, number>>): string {
  return channelIds.flatMap((channel) => (values[channel] === undefined ? [] : [`${channel}=${values[channel]}`])).join(' ');
}

/** How such a line is read back. */
export const typedRecipe: LineRecipe = LineRecipe.parse({
  format: 'flueside-recipe',
  version: 1,
  name: 'typed from the display',
  shape: { kind: 'keyed', separator: '=', between: 'blank' },
  fields: channelIds.map((channel) => ({ channel, at: channel, unit: innerUnit[channel] })),
  onKey: true,
});

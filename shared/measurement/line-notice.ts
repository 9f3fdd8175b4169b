import { z } from 'zod';
import { ChannelId } from './channel-schema.ts';

/** What is odd about the lines, with a next step; stays until it is over or waved off. */
export const LineNotice = z.discriminatedUnion('kind', [
  /** `share` of the bytes is no text: probably the wrong speed */
  z.object({ kind: z.literal('wrong-speed'), share: z.number(), baud: z.number().int() }),
  /** lines go on, every channel has stood still to the last bit since then (run time) */
  z.object({ kind: z.literal('stale'), sinceMs: z.number() }),
  /** a number that instruments send when they have none, three times as if it were measured */
  z.object({ kind: z.literal('sentinel'), channel: ChannelId, value: z.number() }),
  /** the recipe in use has understood none of the newest lines */
  z.object({ kind: z.literal('reads-nothing'), lines: z.number().int() }),
  /** two channels stand for each other: air hotter than the stack, room air shown as carbon dioxide */
  z.object({ kind: z.literal('contradiction'), what: z.enum(['temperatures', 'gases']) }),
  /** the instrument's own clock was set while the run went on */
  z.object({ kind: z.literal('clock-set'), byMs: z.number() }),
]);
export type LineNotice = z.infer<typeof LineNotice>;

/** How far the two facts are that show the columns to be what the recipe says. */
export const CheckInfo = z.object({
  roomAir: z.enum(['waiting', 'confirmed', 'o2-differs', 'co-differs']),
  probe: z.enum(['not-started', 'waiting', 'confirmed', 'another-moved', 'several-moved']),
  moved: z.array(ChannelId),
});
export type CheckInfo = z.infer<typeof CheckInfo>;

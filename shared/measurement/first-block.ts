import type { ChannelState } from './state.ts';

/** The detector has made nothing of this channel yet: its first block of values is not complete. */
export const hasNotSpoken = ({ state, reason, timeMs }: ChannelState): boolean =>
  state === 'absent' && reason === undefined && timeMs === 0;

import type { SettlingChannel } from '../measurement/channel.ts';
import type { InstrumentState } from '../measurement/sample.ts';
import type { StateReason } from '../measurement/state.ts';

export const gasOnly = (channel: SettlingChannel): boolean => channel === 'o2' || channel === 'co';

/** What the instrument's own state means for a channel; a purge or a zeroing leaves the thermocouples alone. */
export function blockedBy(state: InstrumentState | undefined, channel: SettlingChannel): StateReason | undefined {
  switch (state) {
    case undefined:
    case 'measuring':
      return undefined;
    case 'purge':
      return gasOnly(channel) ? 'fresh-air' : undefined;
    case 'zeroing':
      return gasOnly(channel) ? 'zeroing' : undefined;
    case 'warming-up':
      return 'warming-up';
    case 'hold':
    case 'fault':
      return 'not-measuring';
  }
}

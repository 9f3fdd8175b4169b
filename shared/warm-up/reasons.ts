/** Why a call was early: what each channel still had to go when it was made, from what the detector knew then and from where it came to rest. */
import { settlingChannels, type ChannelId, type SettlingChannel } from '../measurement/channel.ts';
import type { ChannelState, Reading } from '../measurement/state.ts';

export type CallReason = {
  readonly channel: SettlingChannel;
  /** as the detector saw it at the call */
  readonly state: ChannelState['state'];
  readonly value: number | undefined;
  readonly headingFor: number | undefined;
  /** half-width inside which it counts as settled */
  readonly band: number | undefined;
  /** what it was later, when the reading was ready; undefined when there was none */
  readonly restAt: number | undefined;
  /** the change still to come, as it turned out, else as it was foretold; with its sign */
  readonly toGo: number | undefined;
};

/** One row for each channel that had a state at the call, in the order in which channels always come: O2, CO, stack, air. */
export function callReasons(
  states: Partial<Record<SettlingChannel, ChannelState>>,
  means: Partial<Record<ChannelId, number>>,
  ready: Reading | undefined,
): CallReason[] {
  return settlingChannels.flatMap((channel): CallReason[] => {
    const state = states[channel];
    if (state === undefined) return [];
    const value = means[channel] ?? state.value;
    const restAt = ready?.channels[channel]?.mean;
    const target = restAt ?? state.headingFor?.value;
    return [
      {
        channel,
        state: state.state,
        value,
        headingFor: state.headingFor?.value,
        band: state.band > 0 ? state.band : undefined,
        restAt,
        toGo: target === undefined || value === undefined ? undefined : target - value,
      },
    ];
  });
}

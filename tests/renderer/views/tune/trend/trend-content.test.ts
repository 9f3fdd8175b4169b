/** What the strip of a channel without rest shows, from the design's table of states. */
import { describe, expect, it } from 'vitest';
import { trendContentOf } from '../../../../../renderer/views/tune/trend/trend-content-of.ts';
import type { ChannelRowState } from '../../../../../renderer/state/channels.ts';
import type { RunRecord } from '../../../../../renderer/state/run-record.ts';
import type { ChannelState } from '../../../../../shared/measurement/state.ts';

const NOW_MS = 600_000;
const record = {
  info: { channels: ['o2', 'co'], phase: 'measuring', counters: {} },
  face: { timeMs: NOW_MS, states: {}, counters: {} },
  marks: [],
  readings: [],
  gaps: [],
  excluded: [],
  settled: [],
} as unknown as RunRecord;
const stripWith = (detail: Partial<ChannelState> & Pick<ChannelState, 'channel' | 'state'>) => {
  const row = {
    channel: detail.channel,
    state: detail.state,
    typed: false,
    detail: { sinceMs: 400_000, timeMs: NOW_MS, band: 0.1, ...detail },
  };
  return trendContentOf(record, [row as ChannelRowState], []).strips[0];
};

describe('a channel that does not come to rest', () => {
  it('drifting: its slope goes on for a minute and a half, without a slot', () => {
    const strip = stripWith({ channel: 'o2', state: 'drifting', estimate: 3.7, perMinute: -0.6 });
    expect(strip?.drift?.value).toBe(3.7);
    expect(strip?.drift?.toMs).toBe(NOW_MS + 90_000);
    expect(strip?.drift?.toValue).toBeCloseTo(2.8);
    expect(strip?.heading).toBeUndefined();
  });
  it('drifting: no gas falls below nothing', () => {
    const strip = stripWith({ channel: 'co', state: 'drifting', estimate: 10, perMinute: -20 });
    expect(strip?.drift?.toValue).toBeCloseTo(0);
    // at 20 ppm a minute, 10 ppm are gone after half a minute
    expect(strip?.drift?.toMs).toBeCloseTo(NOW_MS + 30_000);
  });
  it('surging: both ends of the swing, since it is one', () => {
    const strip = stripWith({ channel: 'co', state: 'surging', swing: { low: 20, high: 90, periodS: 45 } });
    expect(strip?.swing).toEqual({ fromMs: 400_000, low: 20, high: 90 });
    expect(strip?.heading).toBeUndefined();
  });
  it('settling has neither', () => {
    const strip = stripWith({ channel: 'o2', state: 'settling', perMinute: -0.6, headingFor: { value: 5, low: 4.9, high: 5.1 } });
    expect(strip?.drift).toBeUndefined();
    expect(strip?.swing).toBeUndefined();
    expect(strip?.heading?.value).toBe(5);
  });
});

it('a stretch that is not used and goes on has no end: points come before the state that covers them', () => {
  const { excluded } = trendContentOf({ ...record, excluded: [{ fromMs: 500_000, reason: 'fresh-air' }] }, [], []);
  expect(excluded).toEqual([{ fromMs: 500_000, toMs: Infinity, reason: 'fresh-air' }]);
});

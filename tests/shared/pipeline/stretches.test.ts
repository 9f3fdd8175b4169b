import { describe, expect, it } from 'vitest';
import type { SettlingChannel } from '../../../shared/measurement/channel.ts';
import type { ChannelState } from '../../../shared/measurement/state.ts';
import { createExcludedStretches, createSettledStretches, excludingReason } from '../../../shared/pipeline/stretches.ts';

const state = (channel: SettlingChannel, is: string, sinceMs: number): ChannelState => ({ channel, state: is, sinceMs }) as ChannelState;
const told = (stretches: ReturnType<typeof createSettledStretches>) =>
  stretches.spans.all.map(({ channel, fromMs, toMs }) => [channel, fromMs, toMs]);

describe('the stretches in which a channel was settled', () => {
  it('run from the state to the next one, each channel for itself', () => {
    const stretches = createSettledStretches();
    stretches.changed([state('o2', 'settled', 1000), state('co', 'drifting', 1000)]);
    stretches.changed([state('co', 'settled', 5000)]);
    stretches.changed([state('o2', 'drifting', 9000)]);
    expect(told(stretches)).toEqual([
      ['o2', 1000, 9000],
      ['co', 5000, undefined],
    ]);
  });
  it('end with the last line before a silence, and go on with the next line if the state does', () => {
    const stretches = createSettledStretches();
    stretches.changed([state('o2', 'settled', 1000)]);
    stretches.silent(10_000, 20_000);
    stretches.seenAgain(20_000, true);
    stretches.goOn(20_000);
    expect(told(stretches)).toEqual([
      ['o2', 1000, 10_000],
      ['o2', 20_000, undefined],
    ]);
    // the next lines begin no other
    stretches.seenAgain(21_000, false);
    stretches.goOn(21_000);
    expect(told(stretches)).toHaveLength(2);
  });
  it.each([
    [30_000, 40_000],
    [30_001, 42_001],
  ])('after %s ms without a line the state counts from %s on', (silence, fromMs) => {
    const stretches = createSettledStretches();
    stretches.changed([state('o2', 'settled', 1000)]);
    const next = 10_000 + silence;
    stretches.silent(10_000, next);
    stretches.seenAgain(next, true);
    stretches.goOn(fromMs - 1);
    expect(told(stretches)).toHaveLength(1);
    stretches.goOn(fromMs);
    expect(told(stretches)[1]).toEqual(['o2', fromMs, undefined]);
  });
  it('a gap starts the judging anew: a state of before is not shaded into it', () => {
    const stretches = createSettledStretches();
    stretches.changed([state('o2', 'settled', 1000)]);
    stretches.broken(10_000);
    stretches.seenAgain(15_000, false);
    stretches.changed([state('o2', 'settled', 9000)]);
    stretches.goOn(17_000);
    expect(told(stretches)).toEqual([
      ['o2', 1000, 10_000],
      ['o2', 15_000, undefined],
    ]);
  });
  it('what was not settled does not go on', () => {
    const stretches = createSettledStretches();
    stretches.changed([state('o2', 'drifting', 1000)]);
    stretches.silent(10_000, 20_000);
    stretches.seenAgain(20_000, true);
    stretches.goOn(20_000);
    expect(told(stretches)).toEqual([]);
  });
});

it('what does not count is one stretch for each reason', () => {
  const stretches = createExcludedStretches();
  stretches.now(undefined, 0);
  stretches.now('fresh-air', 1000);
  stretches.now('fresh-air', 2000);
  stretches.now('zeroing', 3000);
  stretches.now(undefined, 4000);
  stretches.now('fresh-air', 5000);
  expect(stretches.spans.all).toEqual([
    { fromMs: 1000, toMs: 3000, reason: 'fresh-air' },
    { fromMs: 3000, toMs: 4000, reason: 'zeroing' },
    { fromMs: 5000, reason: 'fresh-air' },
  ]);
});

it.each([
  ['purge', undefined, 'fresh-air'],
  ['zeroing', undefined, 'zeroing'],
  ['measuring', undefined, undefined],
  ['measuring', 'fresh-air', 'fresh-air'],
  ['measuring', 'probe-out', 'probe-out'],
  ['measuring', 'dilution', 'dilution'],
  ['measuring', 'zeroing', 'zeroing'],
  ['measuring', 'few-lines', undefined],
  ['purge', 'probe-out', 'fresh-air'],
])('an instrument that says %s, a channel that says %s: %s', (said, reason, why) =>
  expect(excludingReason({ state: said } as never, [{ ...state('o2', 'drifting', 0), reason: reason as never }])).toBe(why),
);

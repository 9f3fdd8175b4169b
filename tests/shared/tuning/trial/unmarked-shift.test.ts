import { describe, expect, it } from 'vitest';
import type { Mark } from '../../../../shared/measurement/mark.ts';
import type { ChannelState, StateName, StateReason } from '../../../../shared/measurement/state.ts';
import { shiftAnswered, startShiftWatch, watchMark, watchShift, type ShiftWatch } from '../../../../shared/tuning/trial/unmarked-shift.ts';

const o2 = (seconds: number, state: StateName, value: number, sinceS: number, reason?: StateReason): ChannelState => ({
  channel: 'o2',
  state,
  timeMs: seconds * 1000,
  sinceMs: sinceS * 1000,
  value,
  band: 0.2,
  ...(reason ? { reason } : {}),
});
const setting = { stage: '1', positions: [{ name: 'shutter', value: 5 }] };
const adjusted = (seconds: number): Mark => ({ id: 'm', timeMs: seconds * 1000, body: { kind: 'adjustment', setting } });

/** O2 rests at 6, begins to move at 100 s, and rests at 4.5 from 160 s on. */
const story: ChannelState[] = [];
for (let second = 60; second < 100; second += 2) story.push(o2(second, 'settled', 6, 50));
for (let second = 100; second < 160; second += 2)
  story.push(o2(second, second < 110 ? 'moving' : 'settling', 6 - 1.5 * (1 - Math.exp(-(second - 100) / 15)), 100));
for (let second = 160; second < 240; second += 2) story.push(o2(second, 'settled', 4.5, 160));

const play = (states: readonly ChannelState[], marks: readonly Mark[] = []): ShiftWatch[] => {
  const left = [...marks];
  let watch = startShiftWatch();
  return states.map((state) => {
    while (left[0] && left[0].timeMs <= state.timeMs) watch = watchMark(watch, left.shift()!);
    watch = watchShift(watch, state);
    return watch;
  });
};

describe('a shift of O2 without a mark', () => {
  it('is asked about once, with the time at which it began', () => {
    const watches = play(story);
    expect(watches.at(-1)!.question).toMatchObject({ atMs: 100_000, fromPercent: 6 });
    expect(new Set(watches.flatMap((watch) => watch.question?.id ?? [])).size).toBe(1);
  });
  it('leaves time for a late mark before it asks', () => {
    const asked = play(story).findIndex((watch) => watch.question !== undefined);
    expect(story[asked]!.timeMs).toBeGreaterThanOrEqual(120_000);
  });
  it('is not asked about when a mark explains it, before or shortly after the gas moves', () => {
    for (const seconds of [92, 100, 112])
      expect(play(story, [adjusted(seconds)]).every((watch) => watch.question === undefined)).toBe(true);
  });
  it('is taken back by a mark that comes while the question stands', () => {
    const asked = play(story).at(-1)!;
    expect(watchMark(asked, adjusted(105)).question).toBeUndefined();
    expect(watchMark(asked, { ...adjusted(105), body: { kind: 'note', text: 'x' } }).question).toBeDefined();
  });
  it('does not come back after "nothing was changed"', () => {
    const answered = shiftAnswered(play(story).at(-1)!);
    const later = Array.from({ length: 60 }, (_, index) => o2(240 + 2 * index, 'settled', 4.5, 160)).reduce(watchShift, answered);
    expect(later.question).toBeUndefined();
    expect(later.asked).toBe(1);
  });
  it('is asked again for another shift', () => {
    const second = story.map((state) => ({
      ...state,
      timeMs: state.timeMs + 300_000,
      sinceMs: state.sinceMs + 300_000,
      value: state.value! - 1.5,
    }));
    const last = second.reduce(watchShift, shiftAnswered(play(story).at(-1)!));
    expect(last.question).toMatchObject({ atMs: 400_000 });
    expect(last.asked).toBe(2);
  });
  it('asks nothing about small moves, purges, gaps or the first approach after light-off', () => {
    const small = story.map((state) => ({ ...state, value: 6 + (state.value! - 6) * 0.2 }));
    expect(play(small).every((watch) => watch.question === undefined)).toBe(true);
    const purge = story.map((state) =>
      state.timeMs >= 100_000 && state.timeMs < 160_000 ? { ...state, reason: 'fresh-air' as const } : { ...state, value: 6 },
    );
    expect(play(purge).every((watch) => watch.question === undefined)).toBe(true);
    const first = story.filter((state) => state.timeMs >= 100_000);
    expect(play(first).every((watch) => watch.question === undefined)).toBe(true);
  });
});

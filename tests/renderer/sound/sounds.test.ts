import { expect, it } from 'vitest';
import { createSounds, tonesOf } from '../../../renderer/sound/sounds.ts';

/** Notes what would be heard. */
function fakeContext() {
  const heard: { hertz: number; fromS: number; toS: number }[] = [];
  const levels: number[] = [];
  const gain = { setValueAtTime: () => undefined, linearRampToValueAtTime: (level: number) => levels.push(level) };
  const context = {
    state: 'running',
    currentTime: 2,
    destination: {},
    createGain: () => ({ gain, connect: (to: unknown) => to }),
    createOscillator() {
      const tone = { hertz: 0, fromS: NaN, toS: NaN };
      heard.push(tone);
      return {
        frequency: {
          set value(hertz: number) {
            tone.hertz = hertz;
          },
        },
        connect: (to: unknown) => to,
        start: (at: number) => (tone.fromS = at),
        stop: (at: number) => (tone.toS = at),
      };
    },
  };
  return { heard, levels, context: context as unknown as AudioContext };
}

it('each tone is heard for its time, at its place, and as loud as is set', () => {
  const { heard, levels, context } = fakeContext();
  createSounds(
    () => ({ volume: 0.6, muted: false, off: [] }),
    () => context,
  ).play('alarm');
  expect(heard.map(({ hertz }) => hertz)).toEqual([880, 880, 880]);
  heard.forEach(({ fromS, toS }, at) => {
    const tone = tonesOf.alarm[at]!;
    expect(fromS).toBeCloseTo(2 + tone.atMs / 1000, 9);
    expect(toS - fromS).toBeCloseTo(tone.lastMs / 1000, 9);
  });
  expect(levels.filter((level) => level > 0)).toEqual([0.3, 0.3, 0.3]);
});

it('what is muted, off or without volume opens no sound at all', () => {
  for (const settings of [
    { volume: 0, muted: false, off: [] },
    { volume: 1, muted: true, off: [] },
    { volume: 1, muted: false, off: ['mark'] },
  ])
    createSounds(
      () => settings,
      () => {
        throw new Error('opened');
      },
    ).play('mark');
});

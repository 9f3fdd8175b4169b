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

/** What the tones mean is heard without looking: each is another pattern, and no tone is longer than soft ears like (our choice). */
it('no two sounds are alike, no tone lasts above 70 ms, none begins before the last has ended', () => {
  const patterns = Object.values(tonesOf).map((tones) => JSON.stringify(tones));
  expect(new Set(patterns).size).toBe(patterns.length);
  for (const tones of Object.values(tonesOf))
    tones.forEach(({ atMs, lastMs, level, hertz }, at) => {
      const before = tones[at - 1];
      expect(lastMs).toBeLessThanOrEqual(70);
      expect(atMs).toBeGreaterThanOrEqual(before === undefined ? 0 : before.atMs + before.lastMs);
      expect(level > 0 && level <= 1 && hertz > 0).toBe(true);
    });
  expect(Object.values(tonesOf).every(([first]) => first?.atMs === 0)).toBe(true);
});

it('a full reading rises, silence falls, and the alarm is the longest of all', () => {
  const pitches = (name: keyof typeof tonesOf): number[] => tonesOf[name].map(({ hertz }) => hertz);
  const [low = 0, high = 0] = pitches('full');
  const [from = 0, to = 0] = pitches('silent');
  expect([high > low, to < from, new Set(pitches('alarm')).size]).toEqual([true, true, 1]);
  const end = (name: keyof typeof tonesOf): number => Math.max(...tonesOf[name].map(({ atMs, lastMs }) => atMs + lastMs));
  for (const name of ['gas', 'full', 'mark', 'silent'] as const) expect(end('alarm')).toBeGreaterThan(end(name));
});

it('one context is opened for all sounds, and woken while the browser holds it', () => {
  const { context } = fakeContext();
  const resumed: string[] = [];
  const held = Object.assign(context, {
    state: 'suspended',
    resume: () => (resumed.push('resumed'), Promise.reject(new Error('not yet'))),
  });
  let opened = 0;
  const sounds = createSounds(
    () => ({ volume: 1, muted: false, off: [] }),
    () => (opened++, held),
  );
  sounds.play('gas');
  sounds.play('gas');
  expect([opened, resumed.length]).toEqual([1, 2]);
  Object.assign(held, { state: 'running' });
  sounds.play('gas');
  expect(resumed).toHaveLength(2);
});

it('a window that may not sound yet asks again at the next one', () => {
  const { heard, context } = fakeContext();
  let mayOpen = false;
  const sounds = createSounds(
    () => ({ volume: 1, muted: false, off: [] }),
    () => (mayOpen ? context : undefined),
  );
  sounds.play('gas');
  mayOpen = true;
  sounds.play('gas');
  expect(heard).toHaveLength(1);
});

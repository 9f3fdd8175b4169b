import { expect, it } from 'vitest';
import { createFrames } from '../../../renderer/live/frame.ts';

it('draws all in one frame, however often it was asked for, and sleeps when nothing asks', () => {
  const scheduled: (() => void)[] = [];
  const frames = createFrames((run) => scheduled.push(run));
  const drawn: string[] = [];
  const nextFrame = (): void => scheduled.splice(0).forEach((run) => run());
  const stop = frames.onFrame(() => drawn.push('figures'));
  frames.onFrame(() => drawn.push('chart'));
  frames.request();
  expect([scheduled.length, drawn]).toEqual([1, []]);
  nextFrame();
  expect(drawn).toEqual(['figures', 'chart']);
  expect(scheduled).toEqual([]);
  stop();
  frames.request();
  nextFrame();
  expect(drawn).toEqual(['figures', 'chart', 'chart']);
});

it('a drawing may ask for the next frame', () => {
  const scheduled: (() => void)[] = [];
  const frames = createFrames((run) => scheduled.push(run));
  let left = 3;
  frames.onFrame(() => {
    left -= 1;
    if (left > 0) frames.request();
  });
  while (scheduled.length > 0) scheduled.shift()?.();
  expect(left).toBe(0);
});

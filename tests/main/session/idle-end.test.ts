import { expect, it } from 'vitest';
import { endWhenIdle } from '../../../main/session/idle-end.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';

function watched() {
  const clock = createFakeClock();
  const now = { windows: 0, isCapturing: false, ended: 0, stayed: 0 };
  let changed: () => void = () => undefined;
  const stop = endWhenIdle({
    clock,
    afterMs: 30_000,
    windows: () => now.windows,
    isCapturing: () => now.isCapturing,
    onChange(listener) {
      changed = listener;
      return () => undefined;
    },
    onStay: () => (now.stayed += 1),
    onEnd: () => (now.ended += 1),
  });
  return { clock, now, stop, changed: () => changed() };
}

it('waits for its first window for ever: whoever was given the address may be slow', async () => {
  const { clock, now } = watched();
  await clock.advance(3600_000);
  expect(now.ended).toBe(0);
});

it('ends 30 s after the last window was closed', async () => {
  const { clock, now, stop } = watched();
  now.windows = 1;
  await clock.advance(5000);
  now.windows = 0;
  await clock.advance(30_000);
  expect(now.ended).toBe(0);
  await clock.advance(1000);
  expect(now.ended).toBe(1);
  stop();
});

it('counts a window that was open for a moment only', async () => {
  const { clock, now, stop, changed } = watched();
  now.windows = 1;
  changed();
  now.windows = 0;
  changed();
  await clock.advance(30_000);
  expect(now.ended).toBe(1);
  stop();
});

it('goes on when the window comes back in time (reload)', async () => {
  const { clock, now } = watched();
  for (let round = 0; round < 5; round += 1) {
    now.windows = 1;
    await clock.advance(5000);
    now.windows = 0;
    await clock.advance(25_000);
  }
  expect(now.ended).toBe(0);
});

it('goes on while a run is captured, says so once, and ends 30 s after the run', async () => {
  const { clock, now, stop } = watched();
  now.windows = 1;
  now.isCapturing = true;
  await clock.advance(1000);
  now.windows = 0;
  await clock.advance(3600_000);
  expect(now).toMatchObject({ ended: 0, stayed: 1 });
  now.isCapturing = false;
  await clock.advance(31_000);
  expect(now.ended).toBe(1);
  stop();
});

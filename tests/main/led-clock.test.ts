/** Led time waits for bytes that were read and are still on their way here: else a busy computer stamps them a step later. */
import { expect, it } from 'vitest';
import { createLedTime } from '../../main/led-clock.ts';

it('goes on only once what was read is here', async () => {
  let reading = true;
  const time = createLedTime({ nowMs: 0, wallMs: () => 0, zoneMinutes: () => 0, turns: 2, isReading: () => reading });
  const forward = time.forward(1000);
  const stamped: number[] = [];
  setTimeout(() => {
    stamped.push(time.clock.nowMs());
    reading = false;
  }, 20);
  await forward;
  expect(stamped).toEqual([0]);
  expect(time.clock.nowMs()).toBe(1000);
});

import { expect, it } from 'vitest';
import { createPauses } from '../../../main/pauses.ts';

it('a pause is due when a piece has lasted its time and not before; with it a new piece begins, and others get their turn', async () => {
  const short = createPauses(0);
  // the clock is looked at in every fourth step
  expect([1, 2, 3, 4, 5, 6, 7, 8].map(() => short.isDue())).toEqual([false, false, false, true, false, false, false, true]);
  const long = createPauses(3_600_000);
  expect(Array.from({ length: 100 }, () => long.isDue())).not.toContain(true);
  let hadItsTurn = false;
  setImmediate(() => (hadItsTurn = true));
  await short.take();
  expect(hadItsTurn).toBe(true);
});

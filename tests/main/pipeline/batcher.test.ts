import { expect, it } from 'vitest';
import { createBatcher } from '../../../main/pipeline/batcher.ts';

it('hands out what came, in order, and begins anew', () => {
  const batcher = createBatcher<number>(10);
  expect(batcher.isEmpty).toBe(true);
  for (let n = 0; n < 7; n++) batcher.add(n);
  expect(batcher.isEmpty).toBe(false);
  expect(batcher.take()).toEqual({ items: [0, 1, 2, 3, 4, 5, 6], droppedCount: 0 });
  expect([batcher.isEmpty, batcher.take()]).toEqual([true, { items: [], droppedCount: 0 }]);
});

it.each([10, 11, 19, 20, 21, 57, 1000])(
  'of %i it keeps the newest ten, says how many it dropped, and every one is kept or counted',
  (count) => {
    const batcher = createBatcher<number>(10);
    for (let n = 0; n < count; n++) batcher.add(n);
    const { items, droppedCount } = batcher.take();
    expect(items).toEqual(Array.from({ length: 10 }, (_, at) => count - 10 + at));
    expect(droppedCount).toBe(count - 10);
  },
);

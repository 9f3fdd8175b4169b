import { expect, it } from 'vitest';
import { closeUpPicture } from '../../../shared/geometry/picture.ts';

const closeUp = (value: number) =>
  closeUpPicture({
    width: 120,
    height: 400,
    value,
    limits: { low: 34, high: 36 },
    verdict: 'fail',
    target: 35,
    tick: 0.5,
    labelEvery: 2,
    label: String,
    half: 0.25,
  });
/** The height at which a label stands; its text hangs 5 below its tick. */
const heightsOf = (value: number): Map<number, number> =>
  new Map(
    closeUp(value).marks.flatMap((mark) => (mark.kind === 'text' && /^\d+$/.test(mark.text) ? [[Number(mark.text), mark.y - 5]] : [])),
  );

it.each([32, 35, 40])('the scale beside the drawing stays inside its field, with the value at %s mm on it', (value) => {
  const heights = heightsOf(value);
  expect(heights.size).toBeGreaterThanOrEqual(2);
  for (const y of heights.values()) {
    expect(y).toBeGreaterThanOrEqual(11.9);
    expect(y).toBeLessThanOrEqual(388.1);
  }
  // more is higher up, and every millimetre is as long as the next
  const inOrder = [...heights].sort(([a], [b]) => a - b);
  const perMm = inOrder.slice(1).map(([mm, y], index) => ((inOrder[index]?.[1] ?? 0) - y) / (mm - (inOrder[index]?.[0] ?? 0)));
  for (const one of perMm) expect(one).toBeCloseTo(perMm[0] ?? Number.NaN, 1);
  expect(perMm[0]).toBeGreaterThan(0);
});

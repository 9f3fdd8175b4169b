import { expect, it } from 'vitest';
import { closeUpPicture } from '../../../shared/geometry/drawing/close-up.ts';

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

it('the value lies in the middle of its whisker, which reaches as far as the reading may be off', () => {
  const heights = heightsOf(35);
  const [low, high] = [...heights].sort(([a], [b]) => a - b).slice(0, 2);
  const perMm = (low![1] - high![1]) / (high![0] - low![0]);
  const at = low![1] - (35 - low![0]) * perMm;
  const whisker = closeUp(35).marks.flatMap((mark) => (mark.kind === 'path' && mark.width === 2.5 ? [mark.d] : []));
  expect(whisker).toHaveLength(1);
  const [, x, top, bottom, topX, topBar, bottomX, bottomBar] = (
    /^M(\S+) (\S+)V([\d.]+)M(\S+) (\S+)h12M(\S+) (\S+)h12$/.exec(whisker[0] ?? '') ?? []
  ).map(Number);
  expect(top).toBeCloseTo(at - 0.25 * perMm, 0);
  expect(bottom).toBeCloseTo(at + 0.25 * perMm, 0);
  expect([topBar, bottomBar]).toEqual([top, bottom]);
  expect([topX, bottomX]).toEqual([x! - 6, x! - 6]);
});
it('the slot is drawn from limit to limit, and only the end that there is', () => {
  const slotOf = (limits: { low: number; high: number }): string | undefined =>
    closeUpPicture({
      width: 120,
      height: 400,
      value: 35,
      limits,
      verdict: 'pass',
      target: undefined,
      tick: 0.5,
      labelEvery: 2,
      label: String,
      half: 0,
    }).marks.flatMap((mark) => (mark.kind === 'path' && mark.look === 'g-accent' && mark.width === 3.5 ? [mark.d] : []))[0];
  const whole = slotOf({ low: 34, high: 36 })!;
  const ys = [...whole.matchAll(/V(-?[\d.]+)H/g)].map(([, y]) => Number(y));
  expect(ys).toHaveLength(2);
  // the high end is the upper one
  expect(ys[0]).toBeLessThan(ys[1]!);
  expect(slotOf({ low: -Infinity, high: 36 })?.match(/M/g)).toHaveLength(1);
  expect(slotOf({ low: 34, high: Infinity })?.match(/M/g)).toHaveLength(1);
});

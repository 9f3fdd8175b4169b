import { describe, expect, it } from 'vitest';
import { laneGeometry, laneSizes, offsetOf, pinOffset } from '../../../renderer/components/lane-geometry.ts';

const sizes = Object.entries(laneSizes);

describe.each(sizes)('lane %s', (_name, size) => {
  it('keeps distances in proportion to arsinh of the bands', () => {
    const ratio = (bands: number): number => offsetOf(bands, size) / Math.log(bands + Math.sqrt(bands * bands + 1));
    for (const bands of [0.5, 2, 5, 10]) expect(ratio(bands)).toBeCloseTo(ratio(1), 9);
  });
  it('puts one band at the slot’s edge and keeps everything on the lane', () => {
    const { slotHalf, ticks, margin, middle } = laneGeometry(size);
    expect(offsetOf(1, size)).toBe(slotHalf);
    for (const tick of ticks) expect(Math.abs(tick)).toBeLessThanOrEqual(middle - margin + 1e-9);
    expect(offsetOf(1000, size)).toBeCloseTo(middle - margin, 9);
  });
  it('never draws a settling pin inside the slot, nor outside the lane', () => {
    const { slotHalf, pinWide, middle } = laneGeometry(size);
    for (const bands of [-200, -3, -1.01, 1.01, 2, 40]) {
      const offset = pinOffset(bands, size);
      expect(Math.sign(offset)).toBe(Math.sign(bands));
      expect(Math.abs(offset) - pinWide / 2).toBeGreaterThanOrEqual(slotHalf);
      expect(Math.abs(offset) + pinWide / 2).toBeLessThanOrEqual(middle);
    }
  });
});

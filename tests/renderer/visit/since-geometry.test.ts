import { describe, expect, it } from 'vitest';
import { sincePlaces } from '../../../renderer/views/visit/start/since-geometry.ts';

describe('the pin of now on the slot of what was left', () => {
  it('stands inside without a link up to its uncertainty, outside with one beyond it', () => {
    const edge = sincePlaces(154, { value: 0.5, half: 0.5 });
    expect(edge.linkFrom).toBeUndefined();
    expect(edge.at + 5).toBeLessThanOrEqual(edge.high);
    const out = sincePlaces(154, { value: 0.6, half: 0.5 });
    expect(out.linkFrom).toBeGreaterThan(out.high);
    expect(out.at - 5).toBeGreaterThan(out.high);
    expect(sincePlaces(154, { value: -0.6, half: 0.5 }).at + 5).toBeLessThan(out.low);
  });
  it('never leaves the line, however far it went', () => {
    for (const value of [1e6, -1e6, 3, -3])
      for (const half of [0, 0.1]) {
        const { at } = sincePlaces(154, { value, half });
        expect(at).toBeGreaterThanOrEqual(5);
        expect(at).toBeLessThanOrEqual(149);
      }
  });
});

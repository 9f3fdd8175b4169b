/** A bank that is sure of a way still to go, and a value that stands. Slopes and distances by hand. */
import { describe, expect, it } from 'vitest';
import { createStill } from '../../../shared/settling/watch/still.ts';
import { createRandom } from '../../score/stream-random.ts';
import { lines, offered, tell } from './streams.ts';

/** 30 blocks of 2 s of a stack that goes `perS` degrees each second, with noise of `sd`. */
function seen(perS: number, sd: number) {
  const r = createRandom(11);
  const still = createStill(true);
  for (let at = 0; at < 30; at++) still.add(2 * at, 200 + 2 * at * perS + sd * r.normal());
  return still;
}

describe('a value that stands although the bank expects it to move', () => {
  it('contradicts a heading five degrees away: the slowest metal would move 0.6 degC in a minute', () => {
    expect(seen(0, 0.05).contradicts(205, 0.5, 0.1)).toBe(true);
  });

  it('does not where the value moves as the slowest metal does, where the heading is not sure, or where noise or print hide a move', () => {
    expect(seen(5 / 500, 0.05).contradicts(205, 0.5, 0.1)).toBe(false);
    expect(seen(0, 0.05).contradicts(205, 5, 0.1)).toBe(false);
    expect(seen(0, 0.6).contradicts(205, 0.5, 0.1)).toBe(false);
    expect(seen(0, 0.05).contradicts(205, 0.5, 1)).toBe(false);
  });

  it('lets the rest after a slope of the stack be read within two and a half minutes', () => {
    for (const seed of [1, 2, 3]) {
      const endS = 500;
      const stack = (t: number): number => (t < 250 ? 260 - 0.08 * t : t < endS ? 240 - 0.03 * (t - 250) : 232.5);
      const { readings } = tell(lines({ stack }, { seconds: 760, seed }));
      const rest = offered(readings, 'full').find(({ takenMs }) => takenMs / 1000 > endS);
      expect(rest, `seed ${seed}`).toBeDefined();
      expect(rest!.takenMs / 1000 - endS, `seed ${seed}`).toBeLessThan(150);
      expect(Math.abs(rest!.channels.stackTemperature!.mean - 232.5)).toBeLessThan(0.5);
    }
  });
});

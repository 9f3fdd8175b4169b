import { describe, expect, it } from 'vitest';
import { createTracker } from '../../../shared/settling/channel-tracker.ts';

const BLOCK_S = 2;
const SENSOR_S = 8;
const SLOW_S = 150;
const RISE_C = 20;
const SHARE = 0.4;

/** Noise-free answer of a stack to one turn at `turnS`: first-order sensor behind a quick part and a fading slow part. */
function stackAt(timeS: number, turnS: number): number {
  const t = timeS - turnS;
  if (t <= 0) return 200;
  const sensor = Math.exp(-t / SENSOR_S);
  const slow = (SLOW_S * Math.exp(-t / SLOW_S) - SENSOR_S * sensor) / (SLOW_S - SENSOR_S);
  return 200 + RISE_C * ((1 - SHARE) * (1 - sensor) + SHARE * (1 - slow));
}

function follow(turnS: number) {
  const tracker = createTracker('stackTemperature');
  for (let at = 0; at < 90; at++) {
    const fromS = at * BLOCK_S;
    const fine = Array.from({ length: 20 }, (_, k) => stackAt(fromS + (k + 0.5) * 0.1, turnS));
    const noise = 0.05 * Math.sin(1.7 * at + 0.3 * at * at);
    tracker.push(fromS + BLOCK_S / 2, fine.reduce((sum, value) => sum + value, 0) / fine.length + noise, 0, 20, false);
  }
  return tracker;
}

describe('a turn of the stack', () => {
  it('is dated within a second, wherever in a block it falls', () => {
    for (const offset of [0, 0.5, 1, 1.5]) {
      const turnS = 80 + offset;
      const tracker = follow(turnS);
      expect(tracker.changedSince(turnS - 1), `turn at ${turnS}`).toBe(true);
      expect(tracker.changedSince(turnS + 1), `turn at ${turnS}`).toBe(false);
    }
  });

  it('does not make the thermocouple look slow', () => {
    const { bank } = follow(80.7);
    let log = 0;
    for (let j = 0; j < bank.size; j++) log += bank.weight[j]! * Math.log(bank.sensorS[j]!);
    expect(Math.abs(Math.exp(log) / SENSOR_S - 1)).toBeLessThan(0.25);
  });
});

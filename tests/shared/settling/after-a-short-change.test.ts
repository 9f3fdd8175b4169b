/** A change that is over within seconds ends what was offered; what comes to rest after it is another rest, with or without a visit. */
import { describe, expect, it } from 'vitest';
import { createSettling } from '../../../shared/settling/settling.ts';
import { createRandom } from '../../../shared/burner/random.ts';

/** O2 at 5 %, off by so much from 200 s on for so long, through a cell of 8 s */
function read({ byPercent, forS }: { byPercent: number; forS: number }) {
  const settling = createSettling();
  const random = createRandom(7, `${byPercent} for ${forS}`);
  const offered: { atS: number; id: string; scope: string }[] = [];
  const ended: number[] = [];
  let [o2, isSettled] = [5, false];
  for (let t = 0; t < 400; t++) {
    const target = t >= 200 && t < 200 + forS ? 5 + byPercent : 5;
    o2 += (target - o2) * 0.12;
    const { readings, changed } = settling.push({
      timeMs: t * 1000,
      values: {
        o2: Math.round((o2 + 0.02 * random.normal()) * 10) / 10,
        co: Math.round(20 + random.normal()),
        stackTemperature: Math.round((220 + 0.2 * random.normal()) * 10) / 10,
        airTemperature: 21,
      },
    });
    for (const { id, scope, final } of readings) {
      if (final) ended.push(t);
      else if (offered.every((one) => one.id !== id)) offered.push({ atS: t, id, scope });
    }
    for (const { channel, state } of changed) if (channel === 'o2') isSettled = state === 'settled';
  }
  return { offered, ended, isSettled };
}

describe('after a change of some seconds', () => {
  it.each([4, 6, 8, 10, 12])('of %i s the rest that follows is offered, though O2 is where it was', (forS) => {
    const { offered, ended, isSettled } = read({ byPercent: 1, forS });
    expect(ended.filter((atS) => atS >= 200 && atS < 220)).toHaveLength(2);
    expect(isSettled).toBe(true);
    expect(offered.filter(({ atS }) => atS > 200 + forS).map(({ scope }) => scope)).toEqual(['gas', 'full']);
  });
  it('a step inside the band is none: nothing is offered twice', () => {
    const { offered, isSettled } = read({ byPercent: 0.1, forS: 1000 });
    expect(isSettled).toBe(true);
    expect(offered.filter(({ atS }) => atS > 200)).toEqual([]);
  });
});

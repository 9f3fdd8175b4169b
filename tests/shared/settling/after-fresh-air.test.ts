/** Gas after fresh air and fresh air after gas, over and over, quicker than the lines: what is said stays a number, and near what was measured. */
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../shared/burner/random.ts';
import type { ChannelState } from '../../../shared/measurement/state.ts';
import { createSettling } from '../../../shared/settling/settling.ts';

const AIR = { o2: 20.9, co: 0 };
const GAS = { o2: 4, co: 1000 };

const numbersIn = (value: unknown): number[] =>
  typeof value === 'number' ? [value] : typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersIn) : [];

/** Every state that is said while an instrument that answers within one line is switched between air and gas. */
function* statesOf(seed: number): Generator<ChannelState> {
  const random = createRandom(seed, 'after fresh air');
  const settling = createSettling();
  const everyMs = [250, 500, 1000][seed % 3]!;
  let timeMs = 0;
  for (let round = 0; round < 8; round++) {
    const gas = round % 2 === 0 ? AIR : GAS;
    const untilMs = timeMs + Math.round(random.between(30_000, 70_000));
    while (timeMs < untilMs) {
      // now and then lines stall for some seconds
      timeMs += random.uniform() < 0.01 ? Math.round(random.between(1000, 4000)) : everyMs;
      const o2 = Math.round(100 * (gas.o2 + 0.01 * random.normal())) / 100;
      settling.push({ timeMs, values: { o2, co: Math.round(gas.co + random.normal()) } });
      yield* settling.states();
    }
  }
}

describe('gas after fresh air', () => {
  it('every figure is a number, and no heading is far from all that was measured', () => {
    let looked = 0;
    for (let seed = 9; seed <= 12; seed++)
      for (const state of statesOf(seed)) {
        if (numbersIn(state).some((value) => !Number.isFinite(value))) throw new Error(`seed ${seed}: ${JSON.stringify(state)}`);
        const { channel, headingFor } = state;
        if (headingFor === undefined || channel !== 'co') continue;
        looked++;
        // 1000 ppm is the most that was ever there; a heading may swing past it while it is not sure
        if (Math.abs(headingFor.value) > 4000 || headingFor.low > headingFor.value || headingFor.high < headingFor.value)
          throw new Error(`seed ${seed}: ${JSON.stringify(state)}`);
      }
    expect(looked).toBeGreaterThan(1000);
  });
});

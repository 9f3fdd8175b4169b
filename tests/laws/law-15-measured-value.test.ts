/** Law 15: what is shown big is what was measured. Random streams with steps, spikes, blanks and uneven rates through the detector. */
import { describe, expect, it } from 'vitest';
import type { Sample } from '../../shared/measurement/sample.ts';
import { createSettling } from '../../shared/settling/settling.ts';
import { createRandom } from '../score/stream-random.ts';

const channels = ['o2', 'co', 'stackTemperature'] as const;

function randomSamples(seed: number): Sample[] {
  const r = createRandom(seed);
  const stepMs = r.pick([100, 250, 500, 1000, 2000]);
  const level = { o2: r.between(2, 9), co: r.between(5, 600), stackTemperature: r.between(120, 300) };
  const samples: Sample[] = [];
  let timeMs = 0;
  for (let i = 0; i < 90; i++) {
    if (r.chance(0.04)) Object.assign(level, { o2: r.between(2, 9), co: r.between(0, 2000), stackTemperature: r.between(120, 300) });
    const values: Sample['values'] = {
      o2: level.o2 + 0.1 * r.normal(),
      co: Math.max(0, level.co + 3 * r.normal()),
      stackTemperature: level.stackTemperature + 0.3 * r.normal(),
    };
    if (r.chance(0.03)) values.co = r.between(500, 3000);
    for (const channel of channels) if (i > 0 && r.chance(0.02)) delete values[channel];
    samples.push({ timeMs: Math.round(timeMs), values });
    timeMs += stepMs * r.between(0.92, 1.08);
  }
  return samples;
}

/** The figure as the law words it: the mean of what came in the last second, or the last line where lines come more slowly. */
function lastSecond(samples: readonly Sample[], channel: (typeof channels)[number], isSlow: boolean): number | undefined {
  const valued = samples.filter(({ values }) => values[channel] !== undefined);
  const newest = valued.at(-1);
  if (newest === undefined) return undefined;
  const inIt = isSlow ? [newest] : valued.filter(({ timeMs }) => newest.timeMs - timeMs < 900);
  return inIt.reduce((sum, { values }) => sum + values[channel]!, 0) / inIt.length;
}

describe('law 15: what is shown big is what was measured', () => {
  it('every state has the mean of the last second as its value, whatever the model believes', () => {
    let compared = 0;
    for (let seed = 1; seed <= 25; seed++) {
      const samples = randomSamples(seed);
      const isSlow = samples[1]!.timeMs - samples[0]!.timeMs > 900;
      const settling = createSettling();
      const soFar: Sample[] = [];
      for (const sample of samples) {
        const { changed } = settling.push(sample);
        const told = [
          ...changed.map((state) => ({ state, upTo: soFar })),
          ...settling.states().map((state) => ({ state, upTo: [...soFar, sample] })),
        ];
        for (const { state, upTo } of told) {
          if (state.value === undefined || state.channel === 'airTemperature') continue;
          compared++;
          const wanted = lastSecond(upTo, state.channel, isSlow);
          if (Math.abs(state.value - wanted!) > 1e-9)
            expect.fail(`seed ${seed} at ${sample.timeMs} ms: ${state.channel} ${state.value}, measured ${wanted}`);
        }
        soFar.push(sample);
      }
    }
    expect(compared).toBeGreaterThan(3000);
  });
});

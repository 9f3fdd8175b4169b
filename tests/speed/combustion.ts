/** How long the full result with uncertainty takes for one sample, beside a bare excess-air formula in the same run. */
import { derive } from '../../shared/combustion/figures/derive.ts';
import { excessAirPercent } from '../../shared/combustion/excess-air.ts';
import { explain } from '../../shared/combustion/figures/explain.ts';
import { fuels } from '../../shared/combustion/fuel.ts';

const BATCH = 20;
const BATCHES = 5001;

/** Median over batches that are shorter than a time slice, so that a busy machine disturbs few of them; microseconds per call. */
function medianMicroseconds(call: (index: number) => number): { median: number; sum: number } {
  let sum = 0;
  for (let index = 0; index < 50_000; index += 1) sum += call(index);
  const times: number[] = [];
  for (let batch = 0; batch < BATCHES; batch += 1) {
    const start = performance.now();
    for (let index = 0; index < BATCH; index += 1) sum += call(index);
    times.push(((performance.now() - start) * 1000) / BATCH);
  }
  times.sort((a, b) => a - b);
  return { median: times[BATCHES >> 1] ?? NaN, sum };
}

const inputOf = (index: number) => ({
  timeMs: index,
  fuel: fuels.no2,
  o2PercentDry: 4 + (index % 97) * 0.02,
  coPpmDry: 10 + (index % 31),
  stackC: 190 + (index % 53),
  airC: 18 + (index % 7),
  humidityKgPerKg: 0.008,
  spreads: { o2: 0.03, stackK: 0.2 },
});

export async function speedCombustion(report: (name: string, value: number, unit: string, note?: string) => void): Promise<void> {
  await Promise.resolve();
  const whole = medianMicroseconds((index) => derive(inputOf(index)).expanded.efficiencyHhvPercent ?? 0);
  const withSulfurGiven = medianMicroseconds((index) => derive({ ...inputOf(index), sulfurPpm: 500 }).expanded.efficiencyHhvPercent ?? 0);
  const bare = medianMicroseconds((index) => {
    const { o2PercentDry, coPpmDry, fuel } = inputOf(index);
    return excessAirPercent(fuel.stoichiometry, { o2PercentDry, coPpmDry });
  });
  const explained = medianMicroseconds((index) => (index % 10 === 0 ? explain(inputOf(index)).length : 0));
  // the sums are read, so that nothing can be optimised away
  const isDone = Number.isFinite(whole.sum + withSulfurGiven.sum + bare.sum + explained.sum);
  report(
    'combustion, full result with uncertainty',
    whole.median,
    'us per sample',
    `goal 10; median of ${BATCHES} batches of ${BATCH}${isDone ? '' : ' FAILED'}`,
  );
  report('combustion, sulphur given as well', withSulfurGiven.median, 'us per sample', 'the same sulphur for the whole run');
  report('combustion against bare excess air', whole.median / bare.median, 'times', 'one of its 24 figures, without uncertainty');
  report('combustion, explanation of all figures', explained.median * 10, 'us per reading', 'only when the window asks');
}

import type { SpeedReport } from './speed-report.ts';
import { createSettling } from '../../shared/settling/settling.ts';
import type { Sample } from '../../shared/measurement/sample.ts';
import { createRandom } from '../score/stream-random.ts';

const RATE_HZ = 10;
const SECONDS = 3600;
const RUNS = 5;

/** One hour at 10 lines per second, four channels, with a turn of the air every six minutes. */
function oneHour(): Sample[] {
  const r = createRandom(77);
  const samples: Sample[] = [];
  let o2 = 7;
  let stack = 120;
  for (let i = 0; i < RATE_HZ * SECONDS; i++) {
    const t = i / RATE_HZ;
    const target = 4 + (Math.floor(t / 360) % 4);
    o2 += (target - o2) / (10 * RATE_HZ);
    stack += (200 + 8 * target - stack) / (120 * RATE_HZ);
    samples.push({
      timeMs: Math.round(1000 * t),
      values: {
        o2: Math.round(10 * (o2 + 0.05 * r.normal())) / 10,
        co: Math.round(30 + 4 * (7 - o2) + 2 * r.normal()),
        stackTemperature: Math.round(10 * (stack + 0.3 * r.normal())) / 10,
        airTemperature: Math.round(10 * (21 + 0.05 * r.normal())) / 10,
      },
    });
  }
  return samples;
}

const median = (list: number[]): number => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)]!;

/** Baseline: the plainest thing that has to touch every value, a running mean per channel. */
function runningMeans(samples: readonly Sample[]): number {
  const mean = [0, 0, 0, 0];
  for (const sample of samples) {
    mean[0]! += 0.05 * (sample.values.o2! - mean[0]!);
    mean[1]! += 0.05 * (sample.values.co! - mean[1]!);
    mean[2]! += 0.05 * (sample.values.stackTemperature! - mean[2]!);
    mean[3]! += 0.05 * (sample.values.airTemperature! - mean[3]!);
  }
  return mean[0]! + mean[1]! + mean[2]! + mean[3]!;
}

export function speedSettling(report: SpeedReport): Promise<void> {
  const samples = oneHour();
  const times: number[] = [];
  const base: number[] = [];
  let readings = 0;
  for (let run = 0; run < RUNS; run++) {
    let from = performance.now();
    const settling = createSettling();
    readings = 0;
    for (const sample of samples) for (const reading of settling.push(sample).readings) if (reading.final) readings++;
    times.push(performance.now() - from);
    from = performance.now();
    if (!Number.isFinite(runningMeans(samples))) throw new Error('baseline broken');
    base.push(performance.now() - from);
  }
  report(
    'one hour at 10 Hz, four channels, through settling',
    median(times) / 1000,
    's',
    `goal < 1 s; ${readings} readings; median of ${RUNS}`,
  );
  report('per sample', (1000 * median(times)) / samples.length, 'us', '', RUNS);
  report('against a running mean per channel', median(times) / median(base), 'x', 'baseline: four exponential means over the same samples');
  return Promise.resolve();
}

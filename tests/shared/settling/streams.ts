import type { Sample } from '../../../shared/measurement/sample.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { createSettling } from '../../../shared/settling/settling.ts';
import { type Settling, type SettlingOptions } from '../../../shared/settling/detector.ts';
import { createRandom } from '../../score/stream-random.ts';

export type Course = {
  readonly o2?: (t: number) => number;
  readonly co?: (t: number) => number;
  readonly stack?: (t: number) => number;
  readonly air?: ((t: number) => number) | undefined;
};

/** Lines at `hz` for `seconds`: the given courses with a little noise, printed like an instrument prints. */
export function lines(course: Course, { hz = 1, seconds = 600, seed = 1, wholeSeconds = false, fromS = 0 } = {}): Sample[] {
  const r = createRandom(seed);
  const samples: Sample[] = [];
  for (let i = 0; i < seconds * hz; i++) {
    const t = fromS + i / hz;
    samples.push({
      timeMs: wholeSeconds ? Math.floor(t) * 1000 : Math.round(1000 * t),
      values: {
        o2: Math.round(10 * ((course.o2?.(t) ?? 5) + 0.03 * r.normal())) / 10,
        co: Math.max(0, Math.round((course.co?.(t) ?? 30) + r.normal())),
        stackTemperature: Math.round(10 * ((course.stack?.(t) ?? 230) + 0.2 * r.normal())) / 10,
        airTemperature: Math.round(10 * ((course.air?.(t) ?? 21) + 0.03 * r.normal())) / 10,
      },
    });
  }
  return samples;
}

export const step =
  (from: number, to: number, atS: number, tau: number) =>
  (t: number): number =>
    t < atS ? from : to + (from - to) * Math.exp(-(t - atS) / tau);

export type Story = {
  readonly settling: Settling;
  readonly readings: Reading[];
  readonly states: { t: number; channel: string; state: string; reason?: string | undefined }[];
};

export function tell(samples: readonly Sample[], options: SettlingOptions = {}): Story {
  const settling = createSettling(options);
  const story: Story = { settling, readings: [], states: [] };
  for (const sample of samples) {
    const { changed, readings } = settling.push(sample);
    story.readings.push(...readings);
    for (const c of changed) story.states.push({ t: sample.timeMs / 1000, channel: c.channel, state: c.state, reason: c.reason });
  }
  return story;
}

/** First offers only: one per id. */
export function offered(readings: readonly Reading[], scope: Reading['scope']): Reading[] {
  const seen = new Set<string>();
  return readings.filter((r) => r.scope === scope && !seen.has(r.id) && seen.add(r.id));
}

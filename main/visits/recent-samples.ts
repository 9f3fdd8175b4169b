/** The last half hour of a run, at most two samples a second: what the patterns are looked for in. */
import type { Sample } from '../../shared/measurement/sample.ts';

export type RecentSamples = { add(sample: Sample): void; clear(): void; all(): readonly Sample[] };

const LENGTH_MS = 30 * 60_000;
const APART_MS = 450;
/** old ones are cut off in one go, so that a cut is rare */
const SLACK = 200;

export function createRecentSamples(): RecentSamples {
  let samples: Sample[] = [];
  return {
    add(sample) {
      const last = samples.at(-1);
      if (last !== undefined && sample.timeMs - last.timeMs < APART_MS) return;
      samples.push(sample);
      if ((samples[SLACK]?.timeMs ?? Infinity) >= sample.timeMs - LENGTH_MS) return;
      const old = samples.findIndex(({ timeMs }) => timeMs >= sample.timeMs - LENGTH_MS);
      samples = samples.slice(old);
    },
    clear: () => void (samples = []),
    all: () => samples,
  };
}

import { describe, expect, it } from 'vitest';
import { createSettling } from '../../../shared/settling/settling.ts';
import { makeStream } from '../../score/settling-streams.ts';

/** One question every 20 s while the stack is settling; the truth is the noise-free output of the stream's own burner. */
function ask(seeds: readonly number[]): { truthS: number; value: number; low: number; high: number }[] {
  const answers: { truthS: number; value: number; low: number; high: number }[] = [];
  for (const seed of seeds) {
    const stream = makeStream(seed);
    const settling = createSettling();
    let nextS = 0;
    for (const sample of stream.samples) {
      settling.push(sample);
      const t = sample.timeMs / 1000;
      if (t < nextS) continue;
      nextS = t + 20;
      const left = settling.states().find((s) => s.channel === 'stackTemperature')?.secondsLeft;
      const setting = stream.settings.find((s) => t >= s.fromS + 4 && t < s.toS);
      // where the end cut the setting off, nobody knows how long it would have taken; nearly there says little
      if (!left || setting?.stackSettledS === undefined || setting.stackSettledS - t < 10) continue;
      answers.push({ truthS: setting.stackSettledS - t, ...left });
    }
  }
  return answers;
}

describe('seconds until the stack has settled', () => {
  const answers = ask(Array.from({ length: 16 }, (_, i) => 71_000 + i));
  const share = (of: (a: (typeof answers)[number]) => boolean): number => answers.filter(of).length / answers.length;

  it('lie in their 95 % interval about as often as that says', () => {
    expect(answers.length).toBeGreaterThan(100);
    expect(share((a) => a.truthS >= a.low && a.truthS <= a.high)).toBeGreaterThan(0.92);
  });
  it('are useful: the 95 % interval is narrow and its middle is near the end value', () => {
    expect(share((a) => a.high - a.low < 3 * a.value)).toBeGreaterThan(0.6);
    expect(share((a) => Math.abs(a.value - a.truthS) < 0.5 * a.truthS + 10)).toBeGreaterThan(0.85);
  });
});

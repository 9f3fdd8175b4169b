/** Law 18: what was not seen is not drawn as seen, and what was seen is not left out. */
import { describe, expect, it } from 'vitest';
import { createRunTrace } from '../../main/runs/stored/run-trace.ts';
import type { RunEntry } from '../../shared/measurement/run.ts';
import { createRunFold } from '../../shared/pipeline/fold-run.ts';
import { type RunFold } from '../../shared/pipeline/run-fold.ts';
import { gatherRun } from '../../shared/report/gather-run.ts';
import { burnerLines, lineEntries, runHeader } from '../helpers/ports/run-lines.ts';

/** A burner whose O2 is settled from second 175 on, once its warm-up no longer drifts; the lines from `fromS` to `toS` never came. */
const withSilence = (fromS: number, toS: number, more: RunEntry[] = []): RunEntry[] =>
  [
    ...lineEntries(burnerLines({ seconds: 340, seed: 5 })).filter(({ timeMs }) => timeMs <= fromS * 1000 || timeMs >= toS * 1000),
    ...more,
  ].sort((a, b) => a.timeMs - b.timeMs);

function read(entries: readonly RunEntry[], isLive: boolean) {
  const trace = createRunTrace();
  const run: RunFold = createRunFold(runHeader(), {}, { sample: (sample) => trace.sample(sample), gap: () => trace.gap() });
  for (const entry of entries) {
    // a live run is looked at twice a second, whether lines come or not
    if (isLive) for (let atMs = run.timeMs; atMs < entry.timeMs; atMs += 500) run.tick(atMs);
    run.push(entry);
  }
  return { run, trace };
}
const stretches = (run: RunFold, channel = 'o2') =>
  run.settled.all.filter((span) => span.channel === channel).map(({ fromMs, toMs }) => ({ fromMs, toMs }));

describe('the shading of a settled stretch', () => {
  it('ends with the last line before a silence and begins again with the first one after it', () => {
    const { run } = read(withSilence(250, 256), false);
    expect(run.states().find(({ channel }) => channel === 'o2')?.state).toBe('settled');
    const [before, after] = stretches(run).slice(-2);
    expect(before?.toMs).toBe(250_000);
    expect(after).toEqual({ fromMs: 256_000, toMs: undefined });
  });

  it('is the same live, in a stored run and on paper', () => {
    for (const [fromS, toS] of [
      [250, 256],
      [230, 265],
    ] as const) {
      const entries = withSilence(fromS, toS);
      const stored = read(entries, false).run;
      const paper = gatherRun(runHeader(), {});
      entries.forEach((entry) => paper.push(entry));
      for (const channel of ['o2', 'co']) {
        expect(stretches(read(entries, true).run, channel)).toEqual(stretches(stored, channel));
        expect(
          paper
            .finish(undefined)
            .settled.filter((span) => span.channel === channel)
            .map(({ fromMs, toMs }) => ({ fromMs, toMs })),
        ).toEqual(stretches(stored, channel));
      }
      for (const { fromMs, toMs } of stretches(stored)) expect(fromMs < fromS * 1000 && (toMs ?? Infinity) > fromS * 1000).toBe(false);
    }
  });

  it('comes back after a gap, once the state was judged anew', () => {
    const gap: RunEntry = { kind: 'gap', timeMs: 255_500, gap: { reason: 'unplugged', fromMs: 250_000 } };
    const { run } = read(withSilence(250, 256, [gap]), false);
    const [before, after] = stretches(run).slice(-2);
    expect(before?.toMs).toBe(250_000);
    expect(after?.fromMs).toBeGreaterThanOrEqual(256_000);
    // settled at the end: what is settled now is shaded now
    const now = run.states().filter(({ state }) => state === 'settled');
    expect(now.length).toBeGreaterThan(0);
    for (const { channel } of now) expect(run.settled.all.some((span) => span.channel === channel && span.toMs === undefined)).toBe(true);
  });
});

describe('a curve', () => {
  it('is not drawn across missing lines, on screen or on paper', () => {
    const entries = withSilence(150, 154);
    const paper = gatherRun(runHeader(), {});
    entries.forEach((entry) => paper.push(entry));
    const { run, trace } = read(entries, false);
    const shown = trace.history({ ...run, readings: () => run.readings() }, 0, 240_000, 4000).series;
    for (const series of [shown, paper.finish(undefined).series]) {
      for (const { timeMs, breaks } of series) {
        const across = timeMs.findIndex((at, index) => index > 0 && (timeMs[index - 1] as number) <= 150_000 && at >= 154_000);
        expect(breaks).toContain(across);
      }
    }
  });
});

/** What a bench session asks of its run, and what it hears of it. */
import { describe, expect, it } from 'vitest';
import { createBenchRuns, heardOf, startRunOf } from '../../../main/bench/bench-runs.ts';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';
import { practiceTest } from '../../shared/bench/run-plan.ts';
import { batchOf, infoOf } from '../../renderer/helpers/records.ts';

describe('what a session hears of a batch', () => {
  const samples = [{ timeMs: 5000, values: { o2: 4 } }];
  it('is its samples, and gaps at their beginning', () => {
    expect(heardOf(batchOf({ runId: 'r', samples, gaps: [{ fromMs: 1000, toMs: 2000, reason: 'unplugged' }] }))).toEqual({
      runId: 'r',
      samples,
      gapsFromMs: [1000],
      restarted: false,
    });
  });
  it('is a gap before what came after dropped samples, where something came', () => {
    const [atMs = NaN] = heardOf(batchOf({ samples, droppedCount: 3 })).gapsFromMs;
    expect(atMs).toBeLessThan(5000);
    expect(atMs).toBeGreaterThan(4999);
    expect(heardOf(batchOf({ samples: [], droppedCount: 3 })).gapsFromMs).toEqual([]);
    expect(heardOf(batchOf({ samples, droppedCount: 0 })).gapsFromMs).toEqual([]);
  });
  it('is a new start where the run began anew', () => {
    expect(heardOf(batchOf({ restarted: true })).restarted).toBe(true);
  });
});

it('a run is read by a bench where it has a gas that a bench tests', () => {
  expect(startRunOf(infoOf({ channels: ['o2'] })).isRead).toBe(true);
  expect(startRunOf(infoOf({ channels: ['stackTemperature', 'draft'] })).isRead).toBe(false);
  expect(startRunOf(infoOf({ channels: [] })).isRead).toBe(false);
});

/** A run as the host has it, and what was asked of it. */
function host(info: Partial<RunInfo> | undefined, history: unknown = ok({ series: [], gaps: [] })) {
  const asked: unknown[] = [];
  const answer = (what: string, said: unknown) => (input: object) => (asked.push({ what, ...input }), Promise.resolve(said));
  const runs = createBenchRuns({
    runs: () => (info === undefined ? [] : [infoOf({ runId: 'r', ...info })]),
    runHandlers: {
      'run.history': answer('history', history),
      'run.mark': answer('mark', ok({ timeMs: 77 })),
      'run.continue': answer('continue', ok(infoOf({ runId: 'r', source: { kind: 'serial', path: 'p' } as never }))),
      'simulator.part': answer('part', ok({})),
    } as never,
  });
  return { asked, runs };
}
const test: BenchTest = { ...practiceTest(), runId: 'r' };

describe('the run of a test', () => {
  it('goes on until it has ended, and is known as long as it is open', () => {
    for (const phase of ['running', 'paused', 'lost'] as const) expect(host({ phase }).runs.running('r')?.phase).toBe(phase);
    const ended = host({ phase: 'ended' }).runs;
    expect([ended.running('r'), ended.known('r')?.phase, ended.known('other')]).toEqual([undefined, 'ended', undefined]);
  });

  it('has no past to be read where it is not there or has ended', async () => {
    for (const info of [undefined, { phase: 'ended', timeMs: 900 }] as const) {
      const { runs, asked } = host(info);
      const { past } = await runs.pastOf(test);
      expect(past).toEqual({ nowMs: info?.timeMs ?? 0, samples: [], gapsFromMs: [] });
      expect(asked).toEqual([]);
    }
  });

  it('has its past with the gaps; what cannot be read is none, and the time goes on', async () => {
    const series = [{ channel: 'o2', timeMs: [100, 200], low: [4, 5], high: [4, 5], breaks: [] }];
    const whole = await host(
      { phase: 'running', timeMs: 9000 },
      ok({ series, gaps: [{ fromMs: 150, toMs: 160, reason: 'unplugged' }] }),
    ).runs.pastOf(test);
    expect(whole.past.samples.map(({ timeMs }) => timeMs)).toEqual([100, 200]);
    expect([whole.past.gapsFromMs, whole.past.nowMs]).toEqual([[150], 9000]);
    const none = await host({ phase: 'running', timeMs: 9000 }, err(problem('disk-failed'))).runs.pastOf(test);
    expect(none.past).toEqual({ nowMs: 9000, samples: [], gapsFromMs: [] });
  });

  it('is gone on with only where it was cut off, and only a simulated one is given its gas', async () => {
    const open = host({ phase: 'running' });
    await open.runs.goOn(test);
    expect(open.asked).toEqual([]);
    const cut = host(undefined);
    await cut.runs.goOn(test);
    expect(cut.asked).toEqual([{ what: 'continue', runId: 'r' }]);
  });

  it('is marked with what was switched, and says when', async () => {
    const { runs, asked } = host({ phase: 'running' });
    expect(await runs.mark(test, { slot: 'air' } as never)).toEqual(ok(77));
    expect(JSON.stringify(asked)).toMatch(/"kind":"note","text":"[^"]*: [^"]+"/);
  });
});

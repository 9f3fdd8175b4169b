/** A stored run goes through the very same chain as a live one: whatever the pace, the pauses, steps and jumps, its readings are the live run's. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LiveBatch } from '../../../shared/ipc/run-documents.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { settle, until } from '../../helpers/host/fake-clock.ts';
import { createTestRunService, operator, value } from '../../helpers/ports/run-service.ts';

const MINUTE = 60_000;
let here: ReturnType<typeof createTestRunService>;
let liveId: string;
let live: ReturnType<typeof factsOf>;

/** What a window holds of a run: the newest of each reading, all samples, the marks; a batch that says so begins anew. */
function factsOf(batches: readonly LiveBatch[]) {
  let readings = new Map<string, Reading>();
  let samples: LiveBatch['samples'] = [];
  for (const batch of batches) {
    if (batch.restarted === true) {
      readings = new Map();
      samples = [];
    }
    samples = samples.concat(batch.samples);
    for (const reading of batch.readings) readings.set(reading.id, reading);
  }
  return { readings: [...readings.values()].sort((a, b) => a.id.localeCompare(b.id)), samples };
}

beforeAll(async () => {
  here = createTestRunService({ batchEveryMs: 1000 });
  const source = { kind: 'simulated', scenario: 'cold-start', seed: 7, shape: 'columns', ratePerSecond: 1 } as const;
  ({ runId: liveId } = value(await here.runService.handlers['run.start']({ source }, operator)));
  await here.clock.advance(12 * MINUTE);
  const setting = { stage: '1', positions: [{ name: 'Shutter', value: 5 }] };
  value(
    await here.runService.handlers['run.mark']({ runId: liveId, body: { kind: 'adjustment', setting }, setsSimulator: true }, operator),
  );
  await here.clock.advance(6 * MINUTE);
  value(await here.runService.handlers['run.takeReading']({ runId: liveId }, operator));
  await here.clock.advance(2 * MINUTE);
  value(await here.runService.handlers['run.end']({ runId: liveId }, operator));
  live = factsOf(here.batches(liveId));
});
afterAll(async () => {
  await here.runService.close();
  here.remove();
});

type Change = { playing?: boolean; speed?: number; stepLines?: number; seekMs?: number };
async function startReplay(speed: number) {
  const { runId } = value(await here.runService.handlers['run.start']({ source: { kind: 'replay', runId: liveId, speed } }, operator));
  const info = () => here.runService.runs().find((run) => run.runId === runId);
  return {
    facts: () => factsOf(here.batches(runId)),
    /** lines that have gone through the chain */
    lines: () => info()?.counters.lines ?? 0,
    place: () => info()?.timeMs ?? 0,
    async control(change: Change) {
      value(await here.runService.handlers['replay.control']({ runId, ...change }, operator));
      await here.clock.advance(100);
      await settle();
    },
    /** lets it play to the end of the file, then ends it */
    async toEnd(speed: number) {
      await here.clock.advance(Math.ceil((21 * MINUTE) / speed));
      await until(() => info()?.replay?.playing === false);
      await here.clock.advance(1500);
      const facts = factsOf(here.batches(runId));
      value(await here.runService.handlers['run.end']({ runId }, operator));
      return facts;
    },
  };
}

describe('a replayed run', () => {
  it('has something to compare with', () => {
    expect(live.samples.length).toBeGreaterThan(1100);
    expect(live.readings.filter(({ scope, settled }) => scope === 'full' && settled).length).toBeGreaterThan(0);
  });

  it.each([1, 2, 5, 10, 20, 30, 60])(
    'gives the live readings and samples to the last digit at %i times',
    async (speed) => {
      const replay = await startReplay(speed);
      expect(await replay.toEnd(speed)).toEqual(live);
    },
    30_000,
  );

  it('gives them after pauses, single steps, changes of speed and jumps both ways', async () => {
    const replay = await startReplay(60);
    await here.clock.advance(5000);
    await replay.control({ playing: false });
    // the file is read in real time: what was due before the pause arrives when the disk has it
    let held = 0;
    await until(() => replay.lines() >= 300);
    do {
      held = replay.lines();
      await new Promise((resolve) => setTimeout(resolve, 200));
    } while (held !== replay.lines());
    await here.clock.advance(20_000);
    expect(replay.lines()).toBe(held);
    for (let step = 0; step < 5; step++) await replay.control({ stepLines: 1 });
    await until(() => replay.lines() === held + 5);
    await replay.control({ seekMs: 15 * MINUTE });
    await until(() => replay.place() === 15 * MINUTE);
    await replay.control({ seekMs: 4 * MINUTE });
    await until(() => replay.lines() < 260 && replay.place() === 4 * MINUTE);
    await replay.control({ playing: true, speed: 7.5 });
    await here.clock.advance(MINUTE);
    await replay.control({ speed: 60 });
    expect(await replay.toEnd(60)).toEqual(live);
  });

  it('tells the windows that what lay ahead is void after a jump back', async () => {
    const replay = await startReplay(60);
    await here.clock.advance(10_000);
    await replay.control({ playing: false });
    // the file is read in real time, the batches come by the clock of the test
    await until(() => replay.lines() > 500);
    await here.clock.advance(1500);
    expect(replay.facts().samples.length).toBeGreaterThan(500);
    await replay.control({ seekMs: 2 * MINUTE });
    await until(() => replay.place() === 2 * MINUTE);
    await here.clock.advance(1500); // a batch later
    const { samples } = replay.facts();
    expect(samples).toEqual(live.samples.filter(({ timeMs }) => timeMs <= 2 * MINUTE));
    await replay.toEnd(60);
  });
});

describe('the parts of the simulated burner', () => {
  it('are read back as they stand, and move over the time that was asked for', async () => {
    const source = { kind: 'simulated', scenario: 'tune-up', seed: 1, shape: 'columns', ratePerSecond: 1 } as const;
    const { handlers } = here.runService;
    const { runId } = value(await handlers['run.start']({ source }, operator));
    const parts = async () => value(await handlers['simulator.parts']({ runId }, operator));
    await here.clock.advance(MINUTE);
    expect(await parts()).toMatchObject({ amounts: { fouling: 1, leakFraction: 0 }, switches: { probeIn: true }, inlet: 'probe' });
    value(await handlers['simulator.part']({ runId, part: 'fouling', value: 1.4, overS: 60 }, operator));
    value(await handlers['simulator.part']({ runId, part: 'inlet', value: 'co-400' }, operator));
    await here.clock.advance(30_000);
    const half = await parts();
    expect(half.inlet).toBe('co-400');
    expect(half.amounts.fouling).toBeCloseTo(1.2, 1);
    value(await handlers['simulator.part']({ runId, part: 'inlet', value: 'probe' }, operator));
    await here.clock.advance(40_000);
    expect(await parts()).toMatchObject({ amounts: { fouling: 1.4 }, inlet: 'probe' });
    value(await handlers['run.end']({ runId }, operator));
  });
});

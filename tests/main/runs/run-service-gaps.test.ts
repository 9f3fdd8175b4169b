/** Runs that stop and go on: after a crash, a sleep, a changed clock. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { codeOf, operator, startSimulated, value } from '../../helpers/ports/run-service.ts';
import { testRunService, closeAfterEachTest } from './run-service-parts.ts';

closeAfterEachTest();

describe('a run that is interrupted', () => {
  it('goes on after a crash: gap, time from the wall clock, same file', async () => {
    const first = testRunService();
    const { runId } = await startSimulated(first.runService);
    await first.clock.advance(60_000);
    await first.runService.close(); // leaves the file without an end, as a kill does
    const path = join(first.folder, 'runs', `${runId}.run`);
    writeFileSync(path, readFileSync(path, 'latin1') + '60500\tline\t60,1', 'latin1');
    await first.clock.advance(30_000);

    const next = testRunService({ folder: first.folder, clock: first.clock });
    const interrupted = await next.runService.interrupted();
    expect(interrupted).toMatchObject([{ runId, ended: false, lines: 62 }]);
    const info = value(await next.runService.handlers['run.continue']({ runId }, operator));
    expect(info.timeMs).toBe(90_000);
    expect(await next.runService.interrupted()).toEqual([]);
    await next.clock.advance(10_000);
    value(await next.runService.handlers['run.end']({ runId }, operator));
    const history = value(await next.runService.handlers['run.history']({ runId, fromMs: 0, toMs: 200_000, buckets: 1000 }, operator));
    expect(history.gaps).toEqual([{ fromMs: 60_000, toMs: 90_000, reason: 'restarted' }]);
    const o2 = history.series.find(({ channel }) => channel === 'o2');
    expect(o2?.breaks).toHaveLength(1);
    expect(o2?.timeMs.filter((t) => t > 61_000 && t < 90_000)).toEqual([]);
    const [summary] = value(await next.runService.handlers['source.list']({}, operator)).runs;
    expect(summary).toMatchObject({ runId, ended: true, damaged: false, durationMs: 100_000 });
  });

  it('goes on once with a run that two windows go on with at the same moment', async () => {
    const first = testRunService();
    const { runId } = await startSimulated(first.runService);
    await first.clock.advance(5000);
    await first.runService.close();
    const next = testRunService({ folder: first.folder, clock: first.clock });
    const { handlers } = next.runService;
    const both = await Promise.all([handlers['run.continue']({ runId }, operator), handlers['run.continue']({ runId }, operator)]);
    expect(both.map((one) => value(one).runId)).toEqual([runId, runId]);
    await first.clock.advance(5000);
    value(await handlers['run.end']({ runId }, operator));
    const file = (): string => readFileSync(join(first.folder, 'runs', `${runId}.run`), 'latin1');
    const atEnd = file();
    // a second writer would go on writing
    await first.clock.advance(5000);
    expect(file()).toBe(atEnd);
    expect(atEnd.trimEnd().split('\n').at(-1)?.split('\t')[1]).toBe('end');
  });

  it('goes on with a run or closes it, whichever was said first', async () => {
    const first = testRunService();
    const { runId } = await startSimulated(first.runService);
    await first.clock.advance(5000);
    await first.runService.close();
    const next = testRunService({ folder: first.folder, clock: first.clock });
    const { handlers } = next.runService;
    const [ended, goneOn] = await Promise.all([handlers['run.end']({ runId }, operator), handlers['run.continue']({ runId }, operator)]);
    expect([codeOf(ended), codeOf(goneOn)]).toEqual(['ok', 'run-ended']);
    expect(next.runService.isCapturing()).toBe(false);
  });

  it('goes on with the simulated burner as it was left: its adjusters and its stage', async () => {
    const first = testRunService();
    const { runId } = await startSimulated(first.runService);
    await first.clock.advance(5000);
    const setting = { stage: '2', positions: [{ name: 'Shutter', value: 4 }] };
    value(await first.runService.handlers['run.mark']({ runId, body: { kind: 'adjustment', setting }, setsSimulator: true }, operator));
    const standing = async (runService: typeof first.runService) => {
      const { switches } = value(await runService.handlers['simulator.parts']({ runId }, operator));
      const shutter = runService
        .runs()
        .find((run) => run.runId === runId)
        ?.simulator?.adjusters.find(({ name }) => name === 'shutter')?.value;
      return { secondStage: switches.secondStage, shutter };
    };
    await first.clock.advance(1000);
    expect(await standing(first.runService)).toEqual({ secondStage: true, shutter: 4 });
    await first.runService.close();
    const next = testRunService({ folder: first.folder, clock: first.clock });
    value(await next.runService.handlers['run.continue']({ runId }, operator));
    await first.clock.advance(1000);
    expect(await standing(next.runService)).toEqual({ secondStage: true, shutter: 4 });
  });

  it('closes an interrupted run that nobody wants to go on with', async () => {
    const first = testRunService();
    const { runId } = await startSimulated(first.runService);
    await first.clock.advance(5000);
    await first.runService.close();
    const next = testRunService({ folder: first.folder, clock: first.clock });
    expect(codeOf(await next.runService.handlers['run.end']({ runId }, operator))).toBe('ok');
    expect(await next.runService.interrupted()).toEqual([]);
    expect(codeOf(await next.runService.handlers['run.continue']({ runId }, operator))).toBe('run-ended');
  });

  it('sees that the machine slept, or that the clock was set, as a gap', async () => {
    const { runService, clock } = testRunService();
    const { runId } = await startSimulated(runService);
    await clock.advance(20_000);
    clock.jumpWall(3_600_000);
    await clock.advance(5000);
    clock.jumpWall(-60_000);
    await clock.advance(5000);
    clock.jumpWall(1500); // a correction, no jump
    await clock.advance(5000);
    const { gaps } = value(await runService.handlers['run.history']({ runId, fromMs: 0, toMs: 1e9, buckets: 100 }, operator));
    expect(gaps.map(({ reason }) => reason)).toEqual(['suspended', 'clock-set']);
    const [slept] = gaps;
    expect((slept?.toMs ?? 0) - (slept?.fromMs ?? 0)).toBeGreaterThanOrEqual(3_600_000);
  });

  it('allows four runs and says so at the fifth; ended runs do not count', async () => {
    const { runService } = testRunService();
    const ids = [];
    for (let i = 0; i < 4; i++) ids.push((await startSimulated(runService)).runId);
    const fifth = () => runService.handlers['run.start']({ source: { kind: 'typed' } }, operator);
    expect(codeOf(await fifth())).toBe('run-limit');
    await runService.handlers['run.end']({ runId: ids[0] as string }, operator);
    expect(codeOf(await fifth())).toBe('ok');
  });
});

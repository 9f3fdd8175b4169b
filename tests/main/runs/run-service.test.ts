import { describe, expect, it } from 'vitest';
import { commands } from '../../../shared/ipc/contract.ts';
import { runCommands } from '../../../shared/ipc/run-commands.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { settle, until } from '../../helpers/host/fake-clock.ts';
import { codeOf, operator, startSimulated, value } from '../../helpers/ports/run-service.ts';
import { testRunService, closeAfterEachTest } from './run-service-parts.ts';

closeAfterEachTest();

describe('run service', () => {
  it('learns from a run that ends because the app is closed, and not yet from one that stays open', async () => {
    for (const endRuns of [true, false]) {
      const taught: string[] = [];
      const { runService } = testRunService({
        learned: ({ runId }) => {
          taught.push(runId);
          return Promise.resolve();
        },
      });
      const { runId } = await startSimulated(runService);
      await runService.close({ endRuns });
      expect(taught, `endRuns ${endRuns}`).toEqual(endRuns ? [runId] : []);
    }
  });

  it('has a handler for every command about runs', () => {
    const { runService } = testRunService();
    expect(Object.keys(runService.handlers).sort()).toEqual(Object.keys(runCommands).sort());
  });

  it('brings samples of the simulated burner within a second, and its derived figures', async () => {
    const { runService, clock, batches } = testRunService();
    const info = await startSimulated(runService);
    expect(info).toMatchObject({ phase: 'running', source: { kind: 'simulated' }, simulator: { firing: false } });
    expect(commands['run.start'].output.safeParse(info).success).toBe(true);
    await clock.advance(60_100);
    const samples = batches(info.runId).flatMap((batch) => batch.samples);
    expect(samples).toHaveLength(61);
    expect(batches(info.runId).at(-1)?.derived?.values.netStackC).toBeGreaterThan(0);
    expect(runService.isCapturing()).toBe(true);
  });

  it('keeps a run whose replay gives the live readings to the last digit', async () => {
    const { runService, clock, batches } = testRunService();
    const { runId } = await startSimulated(runService);
    await clock.advance(500_000);
    const setting = { stage: '1', positions: [{ name: 'Shutter', value: 4 }] };
    value(await runService.handlers['run.mark']({ runId, body: { kind: 'adjustment', setting }, setsSimulator: true }, operator));
    await clock.advance(400_000);
    const byHand = value(await runService.handlers['run.takeReading']({ runId }, operator));
    value(await runService.handlers['run.end']({ runId }, operator));
    const newest = (id: string) => {
      const readings = new Map<string, Reading>();
      for (const batch of batches(id)) for (const reading of batch.readings) readings.set(reading.id, reading);
      return [...readings.values()].sort((a, b) => a.id.localeCompare(b.id)); // their order depends on how they were batched
    };
    const live = newest(runId);
    expect(live.some(({ scope }) => scope === 'full')).toBe(true);
    expect(live.find(({ id }) => id === byHand.id)).toEqual(byHand);

    const replay = value(await runService.handlers['run.start']({ source: { kind: 'replay', runId, speed: 1000 } }, operator));
    expect(replay).toMatchObject({ source: { kind: 'replay', of: 'simulated' }, replay: { speed: 1000, endMs: 900_000 } });
    const phase = () => runService.runs().find((run) => run.runId === replay.runId)?.phase;
    await clock.advance(2000);
    await until(() => phase() === 'paused'); // the file itself is read in real time
    await clock.advance(200);
    expect(newest(replay.runId)).toEqual(live);
    expect(batches(replay.runId).flatMap(({ samples }) => samples)).toEqual(batches(runId).flatMap(({ samples }) => samples));
  });

  it('writes a CO2max that was set into the run file: told, replayed and refused like the fuel', async () => {
    const { runService, clock } = testRunService();
    const { runId } = await startSimulated(runService);
    await clock.advance(5000);
    const set = (co2MaxPercent: number | null) => runService.handlers['run.change']({ runId, co2MaxPercent }, operator);
    expect(value(await set(15.2)).co2MaxPercent).toBe(15.2);
    // natural gas, at an oil
    expect(codeOf(await set(11.8))).toBe('value-out-of-range');
    await clock.advance(5000);
    await runService.handlers['run.end']({ runId }, operator);
    const replay = value(await runService.handlers['run.start']({ source: { kind: 'replay', runId, speed: 1000 } }, operator));
    expect(replay.co2MaxPercent).toBeUndefined();
    const now = () => runService.runs().find((run) => run.runId === replay.runId);
    await clock.advance(2000);
    await until(() => now()?.phase === 'paused');
    expect(now()?.co2MaxPercent).toBe(15.2);
  });

  it('tells with which tolerances a run is computed: its own, also when it is replayed after they were changed', async () => {
    let tolerances = Settings.parse({}).tolerances;
    const { runService, clock } = testRunService({ settings: () => Settings.parse({ tolerances }) });
    const began = tolerances;
    const { runId } = await startSimulated(runService);
    await clock.advance(5000);
    tolerances = { ...began, o2Percent: began.o2Percent * 3 };
    expect(runService.runs()[0]?.tolerances).toEqual(began);
    await runService.handlers['run.end']({ runId }, operator);
    const replay = value(await runService.handlers['run.start']({ source: { kind: 'replay', runId, speed: 1 } }, operator));
    expect(replay.tolerances).toEqual(began);
    expect((await startSimulated(runService)).tolerances).toEqual(tolerances);
  });

  it('replays at a pace, pauses, steps and jumps', async () => {
    const { runService, clock } = testRunService();
    const { runId } = await startSimulated(runService);
    await clock.advance(120_000);
    await runService.handlers['run.end']({ runId }, operator);
    const replay = value(await runService.handlers['run.start']({ source: { kind: 'replay', runId, speed: 10 } }, operator));
    const control = async (change: object) => {
      value(await runService.handlers['replay.control']({ runId: replay.runId, ...change }, operator));
      await clock.advance(100);
    };
    const lines = () => runService.runs().find((run) => run.runId === replay.runId)?.counters.lines;
    const reaches = async (count: number) => {
      await until(() => lines() === count);
      await settle(); // and stays there
      expect(lines()).toBe(count);
    };
    await clock.advance(3000);
    await reaches(32); // header and seconds 0 to 30
    await control({ playing: false });
    await clock.advance(5000);
    await reaches(32);
    await control({ stepLines: 2 });
    await reaches(34);
    await control({ seekMs: 10_000 });
    await reaches(12);
    await control({ seekMs: 60_000 });
    await reaches(62);
    await control({ playing: true, speed: 1000 });
    await clock.advance(500);
    await reaches(122);
  });
});

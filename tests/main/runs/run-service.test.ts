import { readFileSync, writeFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { commands, events, type CommandName } from '../../../shared/ipc/contract.ts';
import { runCommands } from '../../../shared/ipc/run-commands.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { settle, until } from '../../helpers/fake-clock.ts';
import { codeOf, createTestRunService, operator, startSimulated, value } from '../../helpers/ports/run-service.ts';
import { columnsRecipe } from '../../helpers/ports/run-lines.ts';

const made: ReturnType<typeof createTestRunService>[] = [];
const testRunService = (more: Parameters<typeof createTestRunService>[0] = {}) => {
  const one = createTestRunService(more);
  made.push(one);
  return one;
};
afterEach(async () => {
  for (const { runService, events: published, remove } of made.splice(0)) {
    await runService.close();
    remove();
    // every event is what the contract says
    for (const { name, payload } of published) expect(events[name].safeParse(payload).error?.issues ?? []).toEqual([]);
  }
});

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

  it('serves an instrument without a port: typed values, a reading, and the line they became', async () => {
    const { runService, folder } = testRunService();
    const { runId } = value(await runService.handlers['run.start']({ source: { kind: 'typed' } }, operator));
    expect(codeOf(await runService.handlers['run.takeReading']({ runId }, operator))).toBe('no-samples');
    value(
      await runService.handlers['run.typeValues'](
        { runId, values: { o2: 4.5, co: 12, stackTemperature: 210, airTemperature: 20 } },
        operator,
      ),
    );
    const reading = value(await runService.handlers['run.takeReading']({ runId }, operator));
    expect(reading).toMatchObject({ scope: 'full', channels: { o2: { mean: 4.5, typed: true } } });
    await runService.close();
    expect(readFileSync(join(folder, 'runs', `${runId}.run`), 'latin1')).toContain(
      '\tline\to2=4.5 co=12 stackTemperature=210 airTemperature=20\n',
    );
  });

  it('exports with units, defused formulas and the watermark of simulated data', async () => {
    const { runService, clock } = testRunService();
    const { runId } = await startSimulated(runService);
    await clock.advance(3000);
    await runService.handlers['run.mark']({ runId, body: { kind: 'note', text: '=1+1, "x"' } }, operator);
    const fetch = async (form: 'csv' | 'json' | 'text' | 'run') => {
      const { download, fileName } = value(await runService.handlers['run.export']({ runId, form }, operator));
      const found = runService.takeDownload(download);
      expect(runService.takeDownload(download)).toBeUndefined(); // once
      expect(fileName).not.toMatch(/[:\\/]/);
      return readFileSync(found?.filePath as string, 'utf8');
    };
    const csv = (await fetch('csv')).split('\r\n');
    expect(csv[0]).toBe('SIMULATED DATA - not a measurement');
    expect(csv[1]).toBe(
      'Time [s],Local time,O2 [%],CO [ppm],Stack [°C],Air [°C],Draft [Pa],Not measured,Event'.replace(
        ',Draft [Pa]',
        csv[1]?.includes('Draft') === true ? ',Draft [Pa]' : '',
      ),
    );
    expect(csv.at(-2)).toContain(`"'=1+1, ""x"""`);
    const json = JSON.parse(await fetch('json')) as { watermark: string; samples: number[][]; columns: string[] };
    expect(json.watermark).toContain('SIMULATED');
    expect(json.samples).toHaveLength(4);
    expect(await fetch('text')).toMatch(/^# SIMULATED DATA/);
    expect(await fetch('run')).toMatch(/^\{"format":"flueside-run"/);
  });

  it('shows lines to those who watch, and to nobody after they left', async () => {
    const { runService, clock, of } = testRunService();
    const { runId } = await startSimulated(runService);
    await clock.advance(5000);
    const { lines } = value(await runService.handlers['run.lines']({ runId, count: 3, watch: true }, operator));
    expect(lines.map(({ mark }) => mark)).toEqual(['read', 'read', 'read']);
    await clock.advance(2100);
    const watched = of('lines.batch').flatMap((batch) => batch.lines);
    expect(watched).toHaveLength(2);
    expect(watched[0]?.spans?.some(({ channel }) => channel === 'o2')).toBe(true);
    runService.clientLeft('window-1');
    await clock.advance(2000);
    expect(of('lines.batch').flatMap((batch) => batch.lines)).toHaveLength(2);
  });

  it('keeps recipes as files, whole or not at all, and never outside its folder', async () => {
    const { runService, folder } = testRunService();
    const name = '../../evil "recipe" \u0000';
    value(await runService.handlers['recipe.save']({ recipe: { ...columnsRecipe, name } }, operator));
    expect(readdirSync(join(folder, 'recipes'))).toHaveLength(1);
    expect(value(await runService.handlers['recipe.list']({}, operator)).recipes.some((recipe) => recipe.name === name)).toBe(true);
    value(await runService.handlers['recipe.remove']({ name }, operator));
    expect(readdirSync(join(folder, 'recipes'))).toEqual([]);
    expect(codeOf(await runService.handlers['recipe.remove']({ name }, operator))).toBe('recipe-not-found');
  });

  it.each<[CommandName, object]>([
    ['run.end', {}],
    ['run.continue', {}],
    ['run.mark', { body: { kind: 'note', text: 'x' } }],
    ['run.takeReading', {}],
    ['run.history', { fromMs: 0, toMs: 1, buckets: 10 }],
    ['run.lines', { count: 1, watch: false }],
    ['run.export', { form: 'csv' }],
    ['simulator.look', {}],
    ['replay.control', { playing: true }],
  ])('%s of a run that is not there says so, and no id leaves the folder', async (name, input) => {
    const { runService } = testRunService();
    for (const runId of ['nobody', '../../etc/passwd', 'a/b', '..', '\u0000']) {
      const handler = runService.handlers[name as keyof typeof runService.handlers] as (
        input: object,
        caller: typeof operator,
      ) => Promise<{ ok: boolean }>;
      expect(codeOf((await handler({ runId, ...input }, operator)) as never)).toBe('run-not-found');
    }
  });
});

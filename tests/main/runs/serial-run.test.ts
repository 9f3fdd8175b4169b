import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { SerialSettings } from '../../../shared/measurement/run.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { RunEntry } from '../../../shared/measurement/run.ts';
import { decodeEntry } from '../../../shared/measurement/run-format.ts';
import { inThisThread, type Background } from '../../../main/background/background.ts';
import { openSerialPort } from '../../../main/source/open-port.ts';
import { systemClock } from '../../../main/system-clock.ts';
import { codeOf, createTestRunService, operator, value } from '../../helpers/ports/run-service.ts';
import { until } from '../../helpers/host/fake-clock.ts';
import { createFakePorts, usb } from '../../helpers/ports/fake-port.ts';
import { noPty, startPty } from '../../helpers/ports/pty.ts';
import { commaRecipe, NUMBERED } from '../../helpers/comma-recipe.ts';

const made: ReturnType<typeof createTestRunService>[] = [];
afterEach(async () => {
  for (const { runService, remove } of made.splice(0)) {
    await runService.close();
    remove();
  }
});
const testRunService = (more: Parameters<typeof createTestRunService>[0]) => {
  const one = createTestRunService(more);
  made.push(one);
  return one;
};
const serial = (path: string) => ({ kind: 'serial' as const, path, settings: SerialSettings.parse({}) });
const keyed = '{n}' as const;
const recipe = commaRecipe('numbered columns', NUMBERED);
const entriesOf = (folder: string, runId: string): RunEntry[] =>
  readFileSync(join(folder, 'runs', `${runId}.run`), 'latin1')
    .split('\n')
    .slice(1, -1)
    .map((line) => decodeEntry(line) as RunEntry);

describe.skipIf(noPty !== undefined)('a run from a real port', () => {
  it('is unplugged twice: no line lost apart from the unplugged time, gaps there, file complete, values right', async () => {
    const pty = await startPty('pty-instrument.py', [`${keyed},4.1,23,212.4,21.5`]);
    const { runService, folder, batches } = testRunService({ clock: systemClock as never, openPort: openSerialPort });
    const { runId } = value(await runService.handlers['run.start']({ source: serial(pty.path), recipe: recipe }, operator));
    value(await runService.handlers['run.compareDisplay']({ runId, agrees: true }, operator));
    const lines = () => runService.runs()[0]?.counters.lines ?? 0;
    const lost: [number, number][] = [];
    await pty.ask('rate 20');
    for (let round = 0; round < 2; round++) {
      const before = lines();
      await until(() => lines() >= before + 15);
      const [, from] = (await pty.ask('unplug', 'unplugged')).split(' ');
      await until(() => runService.runs()[0]?.phase === 'lost');
      const [, to] = (await pty.ask('replug', 'replugged')).split(' ');
      lost.push([Number(from), Number(to)]);
      await until(() => runService.runs()[0]?.phase === 'running');
    }
    const before = lines();
    await until(() => lines() >= before + 15);
    await pty.ask('rate 0');
    await until(() => batches(runId).at(-1)?.counters.lines === lines());
    value(await runService.handlers['run.end']({ runId }, operator));
    await pty.stop();

    const entries = entriesOf(folder, runId);
    const numbers = entries.flatMap((entry) =>
      entry.kind === 'line' && entry.cutBytes === undefined ? [Number(entry.bytes.split(',')[0])] : [],
    );
    const last = numbers.at(-1) as number;
    // what the instrument wrote while it was plugged in and somebody listened
    const isUnplugged = (n: number) => lost.some(([from, to]) => n >= from && n < to);
    const missing = Array.from({ length: last + 1 }, (_, n) => n).filter((n) => !numbers.includes(n) && !isUnplugged(n));
    // Opening a port throws away what came before: the line or two until its name's return was seen and it was open. On a busy
    // machine that may be a quarter of a second; waiting for the next try instead would be half a second, 10 lines, at least.
    expect(missing.filter((n) => !lost.some(([, to]) => n >= to && n < to + 5))).toEqual([]);
    expect(new Set(numbers).size).toBe(numbers.length);
    // on a busy machine the port opens late, which is a gap before the first line
    const firstLine = entries.findIndex(({ kind }) => kind === 'line');
    expect(entries.filter(({ kind }, index) => kind === 'gap' && index > firstLine)).toHaveLength(2);
    expect(entries.at(-1)?.kind).toBe('end');
    const samples: Sample[] = batches(runId).flatMap((batch) => batch.samples);
    expect(new Set(samples.map(({ values }) => values.stackTemperature))).toEqual(new Set([212.4]));
    const history = value(await runService.handlers['run.history']({ runId, fromMs: 0, toMs: 1e6, buckets: 2000 }, operator));
    expect(history.series.find(({ channel }) => channel === 'o2')?.breaks).toHaveLength(2);
  });

  it('keeps up with a flood: nothing lost in the file, the windows told what was left out', async () => {
    const pty = await startPty();
    const { runService, folder, batches } = testRunService({ clock: systemClock as never, openPort: openSerialPort, batchEveryMs: 500 });
    const { runId } = value(await runService.handlers['run.start']({ source: serial(pty.path), recipe: recipe }, operator));
    value(await runService.handlers['run.compareDisplay']({ runId, agrees: true }, operator));
    await pty.ask('flood 0 20000', 'flood done');
    await until(() => runService.runs()[0]?.counters.lines === 20_000);
    value(await runService.handlers['run.end']({ runId }, operator));
    await pty.stop();
    const numbers = entriesOf(folder, runId).flatMap((entry) => (entry.kind === 'line' ? [Number(entry.bytes.split(',')[0])] : []));
    expect(numbers).toEqual(Array.from({ length: 20_000 }, (_, n) => n));
    const shown = batches(runId).reduce((sum, batch) => sum + batch.samples.length + batch.droppedCount, 0);
    // the first line of a port may be cut and is no sample
    expect(shown).toBeGreaterThanOrEqual(19_999);
  });
});

describe('a run from a port that misbehaves', () => {
  const begin = async (more: object = {}, service: object = {}) => {
    const ports = createFakePorts();
    ports.plug('A', usb('1'));
    const one = testRunService({ openPort: ports.openPort, listPorts: ports.listPorts, ...service });
    const info = value(await one.runService.handlers['run.start']({ source: serial('A'), ...more }, operator));
    if ('recipe' in more) value(await one.runService.handlers['run.compareDisplay']({ runId: info.runId, agrees: true }, operator));
    await one.clock.advance(200);
    return { ...one, ports, runId: info.runId };
  };
  const counters = (one: { runService: ReturnType<typeof createTestRunService>['runService'] }) => one.runService.runs()[0]?.counters;

  it('is no run at all when the port cannot be opened', async () => {
    const { runService } = testRunService({});
    expect(codeOf(await runService.handlers['run.start']({ source: serial('typed by hand') }, operator))).toBe('port-not-found');
    expect(runService.runs()).toEqual([]);
  });

  it('survives noise, zeros and ten million bytes without a line end, in bounded memory, and recovers', async () => {
    const one = await begin({ recipe: recipe });
    one.ports.send('A', '\u0000\u00ff\u0000'.repeat(100) + '\r\n');
    const piece = 'x'.repeat(100_000);
    for (let i = 0; i < 100; i++) one.ports.send('A', piece);
    one.ports.send('A', '\r\n1,4.2,12,180,20\r\n');
    await one.clock.advance(200);
    expect(counters(one)).toMatchObject({ lines: 3, understood: 1, bytes: 10_000_315 });
    await one.runService.handlers['run.end']({ runId: one.runId }, operator);
    const cut = entriesOf(one.folder, one.runId).find((entry) => entry.kind === 'line' && entry.cutBytes !== undefined);
    expect(cut).toMatchObject({ cutBytes: 10_000_000 - 1024 });
  });

  it('raises one alarm when it goes silent, another when it is unplugged, and clears them', async () => {
    const one = await begin({ recipe: recipe });
    const problems = () => one.runService.problems().map(({ problem }) => problem.code);
    for (let i = 0; i < 10; i++) {
      one.ports.send('A', `${i},4.2,12,180,20\r\n`);
      await one.clock.advance(1000);
    }
    expect(problems()).toEqual([]);
    await one.clock.advance(5000);
    expect(problems()).toEqual(['source-silent']);
    one.ports.send('A', '11,4.2,12,180,20\r\n');
    expect(problems()).toEqual([]);
    one.ports.send('A', '12,4.2,1');
    one.ports.unplug('A');
    expect(problems()).toEqual(['port-lost']);
    expect(one.runService.runs()[0]).toMatchObject({ phase: 'lost', problem: { code: 'port-lost' } });
    one.ports.plug('A', usb('1'));
    await one.clock.advance(5000);
    expect(one.runService.runs()[0]?.phase).toBe('running');
    expect(one.of('problem.cleared')).toHaveLength(2);
    // the half line is kept, but never read as if it were whole
    await one.runService.handlers['run.end']({ runId: one.runId }, operator);
    expect(entriesOf(one.folder, one.runId)).toContainEqual({ kind: 'line', timeMs: expect.any(Number), bytes: '12,4.2,1', cutBytes: 1 });
    expect(counters(one)?.understood).toBe(11);
  });

  it('says that nothing comes at all', async () => {
    const one = await begin();
    await one.clock.advance(10_000);
    expect(one.runService.problems().map(({ problem }) => problem.code)).toEqual(['source-silent']);
  });

  it('learns the recipe from the lines, reads those before it too, and keeps it in the file', async () => {
    const one = await begin();
    one.ports.send('A', 'O2 %,CO ppm,Stack C,Air C\r\n');
    for (let i = 0; i < 40; i++) {
      one.ports.send('A', `${(4 + (i % 5) / 10).toFixed(1)},${20 + (i % 3)},${180 + i},21.0\r\n`);
      await one.clock.advance(1000);
    }
    // nothing counts before a look at the display
    const [waiting] = one.runService.runs();
    expect(waiting).toMatchObject({
      phase: 'learning',
      display: { values: { o2: 4.4, co: 20, stackTemperature: 219, airTemperature: 21 } },
    });
    expect(waiting?.counters.understood).toBe(0);
    const info = value(await one.runService.handlers['run.compareDisplay']({ runId: one.runId, agrees: true }, operator));
    expect(info).toMatchObject({ phase: 'running', recipeConfidence: expect.any(Number) });
    expect(info.display).toBeUndefined();
    expect(info.counters.understood).toBe(40);
    await one.runService.close({ endRuns: true });
    const replay = value(await one.runService.handlers['run.history']({ runId: one.runId, fromMs: 0, toMs: 1e6, buckets: 1000 }, operator));
    expect(replay.series.find(({ channel }) => channel === 'stackTemperature')?.low).toHaveLength(40);
  });

  it.each(['the look', 'a person'])(
    'stamps lines in time while others are being looked at in another thread; the first to say is %s',
    async (first) => {
      const looks: (() => Promise<void>)[] = [];
      const background: Background = {
        run: (name, ask) => new Promise((done) => looks.push(() => inThisThread.run(name, ask).then(done))),
        close: () => Promise.resolve(),
      };
      const one = await begin({}, { background });
      one.ports.send('A', 'O2 %,CO ppm,Stack C,Air C\r\n');
      for (let i = 0; i < 12; i++) {
        one.ports.send('A', `4.${i % 5},${20 + (i % 3)},${180 + i},21.0\r\n`);
        await one.clock.advance(1000);
      }
      expect(looks).toHaveLength(1);
      expect(one.runService.runs()[0]).toMatchObject({ phase: 'learning', counters: { lines: 13, understood: 0 } });
      const own = commaRecipe('own', ['o2']);
      if (first === 'a person') {
        value(await one.runService.handlers['run.useRecipe']({ runId: one.runId, recipe: own }, operator));
        value(await one.runService.handlers['run.compareDisplay']({ runId: one.runId, agrees: true }, operator));
      }
      await looks[0]?.();
      await new Promise((done) => setImmediate(done));
      const [info] = one.runService.runs();
      if (first === 'a person')
        expect({ display: undefined, ...info }).toMatchObject({ recipeName: 'own', channels: ['o2'], display: undefined });
      else expect(info?.display?.values).toMatchObject({ o2: 4.1, co: 22, stackTemperature: 191 });
      await one.runService.close({ endRuns: true });
      const times = entriesOf(one.folder, one.runId).flatMap(({ kind, timeMs }) => (kind === 'line' ? [timeMs] : []));
      expect(times.slice(1).map((time) => time - (times[1] ?? 0))).toEqual(Array.from({ length: 12 }, (_, i) => i * 1000));
    },
  );

  it('uses nothing when the display shows other figures, and asks about the columns; compared once, it is remembered', async () => {
    const one = await begin();
    const send = async (count: number): Promise<void> => {
      for (let i = 0; i < count; i++) {
        one.ports.send('A', `O2=${(4 + (i % 5) / 10).toFixed(1)}% CO=${20 + (i % 3)}ppm TS=${180 + i}C TA=21.0C\r\n`);
        await one.clock.advance(1000);
      }
    };
    await send(20);
    expect(one.runService.runs()[0]?.display).toBeDefined();
    const no = value(await one.runService.handlers['run.compareDisplay']({ runId: one.runId, agrees: false }, operator));
    expect(no).toMatchObject({ phase: 'learning', question: { hidden: 0 } });
    expect(no.display).toBeUndefined();
    await send(220);
    const [later] = one.runService.runs();
    expect(later?.recipeName).toBeUndefined();
    expect(later?.counters.understood).toBe(0);
    expect(later?.question?.columns.map(({ taken }) => taken)).toEqual(['o2', 'co', 'stackTemperature', 'airTemperature']);
    // one answer changes its own column only
    const answers = [{ at: 'TA', channel: 'none' as const }];
    const asked = value(await one.runService.handlers['run.answerQuestion']({ runId: one.runId, answers }, operator));
    expect(Object.keys(asked.display?.values ?? {}).sort()).toEqual(['co', 'o2', 'stackTemperature']);
    const yes = value(await one.runService.handlers['run.compareDisplay']({ runId: one.runId, agrees: true }, operator));
    expect(yes.channels).toEqual(['o2', 'co', 'stackTemperature']);
    expect(yes.counters.understood).toBe(240);
  });

  it('takes the first of two answers about the display, and tells the second window so', async () => {
    const one = await begin();
    for (let i = 0; i < 20; i++) {
      one.ports.send('A', `O2=${(4 + (i % 5) / 10).toFixed(1)}% CO=${20 + (i % 3)}ppm TS=${180 + i}C TA=21.0C\r\n`);
      await one.clock.advance(1000);
    }
    const answer = (agrees: boolean) => one.runService.handlers['run.compareDisplay']({ runId: one.runId, agrees }, operator);
    const [yes, no] = await Promise.all([answer(true), answer(false)]);
    expect(value(yes)).toMatchObject({ phase: 'running', channels: ['o2', 'co', 'stackTemperature', 'airTemperature'] });
    expect(no).toMatchObject({ ok: false, error: { code: 'request-invalid' } });
    expect(one.runService.runs()[0]?.recipeName).toBeDefined();
  });

  it('shows no figures of before beside the display of an instrument that was plugged in anew', async () => {
    const one = await begin();
    for (let i = 0; i < 20; i++) {
      one.ports.send('A', `O2=${(4 + (i % 5) / 10).toFixed(1)}% CO=${20 + (i % 3)}ppm TS=${180 + i}C TA=21.0C\r\n`);
      await one.clock.advance(1000);
    }
    expect(one.runService.runs()[0]?.display?.values).toMatchObject({ o2: 4.4 });
    one.ports.unplug('A');
    await one.clock.advance(3000);
    one.ports.plug('A', usb('1'));
    await one.clock.advance(10_000);
    expect(one.runService.runs()[0]?.display).toBeUndefined();
    one.ports.send('A', 'O2=9.1% CO=3ppm TS=60C TA=20.0C\r\n');
    await one.clock.advance(1000);
    expect(one.runService.runs()[0]?.display?.values).toMatchObject({ o2: 9.1 });
  });

  it('asks instead of guessing when two readings are possible, and takes the answer', async () => {
    const one = await begin();
    for (let i = 0; i < 210; i++)
      one.ports.send(
        'A',
        `${(4.2 + (i % 7) / 10).toFixed(1)};${(9 + (i % 6) / 10).toFixed(1)};${(60 + (i % 9)).toFixed(1)};${(61 + (i % 8)).toFixed(1)}\r\n`,
      );
    await one.clock.advance(200);
    const [info] = one.runService.runs();
    expect(info?.recipeName).toBeUndefined();
    if (info?.question === undefined) return expect(info?.refusal?.trouble).toBe('no-names');
    expect(info.phase).toBe('learning');
    const asked = value(await one.runService.handlers['run.answerQuestion']({ runId: one.runId, answers: [] }, operator));
    expect(asked.question).toBeUndefined();
    expect(asked.display).toBeDefined();
    const after = value(await one.runService.handlers['run.compareDisplay']({ runId: one.runId, agrees: true }, operator));
    expect(after.counters.understood).toBeGreaterThan(200);
  });
});

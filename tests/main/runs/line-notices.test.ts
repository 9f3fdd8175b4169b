/** What a live run says about odd lines, the usual speeds, the two facts, and a stored run that is read anew. */
import { afterEach, describe, expect, it } from 'vitest';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { SerialSettings } from '../../../shared/measurement/run.ts';
import { burnerRows } from '../../shared/lines/shapes/corpus.ts';
import { codeOf, createTestRunService, operator, value } from '../../helpers/ports/run-service.ts';
import { createFakePorts, usb } from '../../helpers/ports/fake-port.ts';
import { commaRecipe } from '../../helpers/comma-recipe.ts';

const made: ReturnType<typeof createTestRunService>[] = [];
afterEach(async () => {
  for (const { runService, remove } of made.splice(0)) {
    await runService.close({ endRuns: true });
    remove();
  }
});
const recipe = commaRecipe('four columns');
const swapped = { ...recipe, name: 'stack and air the other way round', fields: recipe.fields.map((field) => ({ ...field })) };
for (const field of swapped.fields) {
  if (field.channel === 'stackTemperature') field.at = 3;
  if (field.channel === 'airTemperature') field.at = 2;
}
const serial = { kind: 'serial' as const, path: 'A', settings: SerialSettings.parse({}) };

async function begin(more: object = { recipe }) {
  const ports = createFakePorts();
  const bauds: number[] = [];
  ports.plug('A', usb('1'));
  const openPort: typeof ports.openPort = (path, settings) => {
    bauds.push(settings.baud);
    return ports.openPort(path, settings);
  };
  const one = createTestRunService({ openPort, listPorts: ports.listPorts });
  made.push(one);
  const { runId } = value(await one.runService.handlers['run.start']({ source: serial, ...more }, operator));
  if ('recipe' in more) value(await one.runService.handlers['run.compareDisplay']({ runId, agrees: true }, operator));
  await one.clock.advance(200);
  const say = async (line: (at: number) => string, count: number): Promise<void> => {
    for (let at = 0; at < count; at++) {
      ports.send('A', `${line(at)}\r\n`);
      await one.clock.advance(1000);
    }
  };
  const info = () => one.runService.runs().find((run) => run.runId === runId);
  return { ...one, ports, runId, bauds, say, info };
}
const moving = (at: number): string => `${(4 + (at % 5) / 10).toFixed(1)},${20 + (at % 3)},${180 + at},21.0`;

/** leaves no question which column is which */
const rows = burnerRows(60, 5);
const clear = (at: number): string => {
  const { o2 = 0, co = 0, stack = 0, air = 0 } = rows[at] ?? {};
  return `${o2.toFixed(1)},${co.toFixed(0)},${stack.toFixed(1)},${air.toFixed(1)}`;
};

describe('odd lines', () => {
  it('says when no figure changes at all, and stops saying so when one moves', async () => {
    const { say, info, runService, runId } = await begin();
    await say(() => '4.1,23,212.4,21.5', 59);
    expect(info()?.notices).toBeUndefined();
    await say(() => '4.1,23,212.4,21.5', 5);
    expect(info()?.notices).toMatchObject([{ kind: 'stale' }]);
    value(await runService.handlers['run.waveOff']({ runId, notice: 'stale' }, operator));
    await say(() => '4.1,23,212.4,21.5', 5);
    expect(info()?.notices).toBeUndefined();
    await say(moving, 2);
    await say(() => '4.1,23,212.4,21.5', 65);
    expect(info()?.notices).toMatchObject([{ kind: 'stale' }]);
  });

  it('asks whether a number that instruments send for no value was measured', async () => {
    const { say, info } = await begin();
    await say(moving, 5);
    await say((at) => `4.${at},9999,180,21.0`, 3);
    expect(info()?.notices).toEqual([{ kind: 'sentinel', channel: 'co', value: 9999 }]);
  });

  it('says that a recipe in use has understood none of the newest lines, until it reads again', async () => {
    const { say, info } = await begin();
    await say(moving, 5);
    await say(() => 'state=ok', 59);
    expect(info()?.notices).toBeUndefined();
    await say(() => 'state=ok', 2);
    expect(info()?.notices).toEqual([{ kind: 'reads-nothing', lines: 60 }]);
    await say(moving, 1);
    expect(info()?.notices).toBeUndefined();
  });

  it('says that air hotter than the stack is probably two columns swapped', async () => {
    const { say, info } = await begin({ recipe: swapped });
    await say(moving, 9);
    expect(info()?.notices).toBeUndefined();
    await say((at) => moving(at + 9), 2);
    expect(info()?.notices).toEqual([{ kind: 'contradiction', what: 'temperatures' }]);
  });

  it('says by how much the clock of the instrument was set while the run goes on', async () => {
    const timed = LineRecipe.parse({
      ...recipe,
      fields: recipe.fields.map((field) => ({ ...field, at: (field.at as number) + 1 })),
      time: { kind: 'field', at: 0, format: 'clock' },
    });
    const { say, info } = await begin({ recipe: timed });
    const second = (at: number): string => String(at).padStart(2, '0');
    await say((at) => `08:15:${second(at)},${moving(at)}`, 8);
    expect(info()?.notices).toBeUndefined();
    await say((at) => `07:15:${second(at + 8)},${moving(at + 8)}`, 5);
    expect(info()?.notices).toEqual([{ kind: 'clock-set', byMs: -3_600_000 }]);
  });

  it('compares a recipe that a person chose with the display before its first figures count', async () => {
    const { say, info, runService, runId } = await begin({});
    await say(() => 'state=ok', 6);
    value(await runService.handlers['run.useRecipe']({ runId, recipe }, operator));
    await say(moving, 3);
    expect(info()).toMatchObject({ phase: 'learning', channels: [], display: { values: { o2: 4.2, co: 22 } } });
    value(await runService.handlers['run.compareDisplay']({ runId, agrees: true }, operator));
    expect(info()).toMatchObject({ phase: 'running', channels: ['o2', 'co', 'stackTemperature', 'airTemperature'] });
    // known from now on: the same columns count at once
    await runService.handlers['run.end']({ runId }, operator);
  });

  it('compares a recipe that a run is started with, too; the second run of this instrument counts at once', async () => {
    const ports = createFakePorts();
    ports.plug('A', usb('1'));
    const one = createTestRunService({ openPort: ports.openPort, listPorts: ports.listPorts });
    made.push(one);
    const { handlers } = one.runService;
    const runs = () => one.runService.runs();
    const start = async () => value(await handlers['run.start']({ source: serial, recipe }, operator)).runId;
    const say = async (at: number): Promise<void> => {
      ports.send('A', `${moving(at)}\r\n`);
      await one.clock.advance(1000);
    };
    const runId = await start();
    expect(runs()[0]?.display).toBeUndefined();
    for (let at = 0; at < 4; at++) await say(at);
    expect(runs()[0]).toMatchObject({ phase: 'learning', channels: [], display: { values: { o2: 4.3 } } });
    value(await handlers['run.compareDisplay']({ runId, agrees: true }, operator));
    await say(4);
    expect(runs()[0]).toMatchObject({ phase: 'running', channels: ['o2', 'co', 'stackTemperature', 'airTemperature'] });
    await handlers['run.end']({ runId }, operator);
    await start();
    await say(5);
    await say(6);
    expect(runs().at(-1)).toMatchObject({ phase: 'running', channels: ['o2', 'co', 'stackTemperature', 'airTemperature'] });
    expect(runs().at(-1)?.display).toBeUndefined();
  });

  it('goes on in the same line when a recipe with longer lines comes into use in the middle of it', async () => {
    const { ports, clock, info, runService, runId } = await begin();
    ports.send('A', '20.9,0,2');
    await clock.advance(200);
    const longer = LineRecipe.parse({ ...recipe, framing: { longestLine: 2048 } });
    value(await runService.handlers['run.useRecipe']({ runId, recipe: longer }, operator));
    ports.send('A', '1.5,21.0\r\n');
    await clock.advance(200);
    const { lines } = value(await runService.handlers['recipe.preview']({ runId, recipe: longer, count: 5 }, operator));
    expect(lines.map(({ bytes }) => bytes)).toEqual(['20.9,0,21.5,21.0']);
    expect(info()?.counters).toMatchObject({ lines: 1, understood: 1 });
  });

  it('says that the speed is probably wrong, listens at the usual ones on request, sends nothing, and goes on with the right one', async () => {
    const { ports, clock, info, runService, runId, bauds } = await begin({});
    const noise = (at: number): string =>
      Array.from({ length: 30 }, (_, i) => String.fromCharCode(128 + ((at * 7 + i * 31) % 120))).join('');
    for (let at = 0; at < 20; at++) {
      ports.send('A', `${noise(at)}\r\n`);
      await clock.advance(500);
    }
    expect(info()?.notices).toMatchObject([{ kind: 'wrong-speed', baud: 9600 }]);
    expect(bauds).toEqual([9600]);
    value(await runService.handlers['run.trySpeeds']({ runId }, operator));
    expect(info()?.tryingSpeeds).toMatchObject({ tried: 1 });
    // this instrument speaks at 38 400
    for (let at = 0; at < 60; at++) {
      if (ports.isListening('A')) ports.send('A', `${bauds.at(-1) === 38_400 ? clear(at) : noise(at)}\r\n`);
      await clock.advance(250);
    }
    expect(bauds.at(-1)).toBe(38_400);
    // its first figures wait for a look at the display
    value(await runService.handlers['run.compareDisplay']({ runId, agrees: true }, operator));
    expect(info()).toMatchObject({ phase: 'running', channels: ['o2', 'co', 'stackTemperature', 'airTemperature'] });
    expect(info()?.notices).toBeUndefined();
    expect(info()?.tryingSpeeds).toBeUndefined();
  });

  it('goes back to its own speed when none of the usual ones gives text', async () => {
    const { clock, info, runService, runId, bauds } = await begin({});
    value(await runService.handlers['run.trySpeeds']({ runId }, operator));
    await clock.advance(60_000);
    expect(bauds.at(-1)).toBe(9600);
    expect(new Set(bauds).size).toBeGreaterThan(10);
    expect(info()?.tryingSpeeds).toBeUndefined();
  });
});

describe('the two facts', () => {
  it('confirms the columns in room air and by a warm fingertip, and keeps it in the run', async () => {
    const { say, info, runService, runId } = await begin();
    value(await runService.handlers['run.check']({ runId, step: 'start' }, operator));
    await say(() => '5.0,20,180,21.0', 3);
    expect(info()?.check).toMatchObject({ roomAir: 'o2-differs' });
    await say((at) => `20.9,${at % 2},22.${at % 3},21.0`, 25);
    expect(info()?.check).toMatchObject({ roomAir: 'confirmed', probe: 'not-started' });
    value(await runService.handlers['run.check']({ runId, step: 'warm' }, operator));
    await say((at) => `20.9,${at % 2},${22 + Math.min(12, at)}.0,21.0`, 25);
    expect(info()?.check).toMatchObject({ roomAir: 'confirmed', probe: 'confirmed' });
    expect(value(await runService.handlers['run.recipe']({ runId }, operator)).confirmed).toEqual({ roomAir: true, probe: true });
    // another recipe is not confirmed by what the one before was
    value(await runService.handlers['run.useRecipe']({ runId, recipe: swapped }, operator));
    const after = value(await runService.handlers['run.recipe']({ runId }, operator));
    expect(after.confirmed).toBeUndefined();
    expect(after.earlier.map(({ name }) => name)).toEqual(['four columns']);
  });
});

describe('a stored run that is read anew', () => {
  it('tries without a trace, keeps both stories when asked to, and shows the newer one from then on', async () => {
    const { say, runService, runId, folder } = await begin();
    await say(moving, 30);
    expect(codeOf(await runService.handlers['run.reread']({ runId, recipe: swapped, keep: true }, operator))).toBe('request-invalid');
    value(await runService.handlers['run.end']({ runId }, operator));
    const stack = async (): Promise<number | undefined> => {
      const history = value(await runService.handlers['run.history']({ runId, fromMs: 0, toMs: 1e6, buckets: 1000 }, operator));
      return history.series.find(({ channel }) => channel === 'stackTemperature')?.low[10];
    };
    const tried = value(await runService.handlers['run.reread']({ runId, recipe: swapped, keep: false }, operator));
    expect(tried).toMatchObject({ kept: false, before: { recipeName: 'four columns' }, after: { recipeName: swapped.name } });
    expect(await stack()).toBe(190);

    value(await runService.handlers['run.reread']({ runId, recipe: swapped, keep: true }, operator));
    expect(await stack()).toBe(21);
    const known = value(await runService.handlers['run.recipe']({ runId }, operator));
    expect(known.recipe?.name).toBe(swapped.name);
    expect(known.earlier.map(({ name }) => name)).toEqual(['four columns']);
    // as it was captured it can be had again, and the run is still an ended one
    const back = value(await runService.handlers['run.reread']({ runId, recipe, keep: true }, operator));
    expect(back.before.recipeName).toBe('four columns');
    expect(await stack()).toBe(190);
    expect(value(await runService.handlers['source.list']({}, operator)).runs[0]).toMatchObject({ ended: true, damaged: false });
    expect(readdirSync(join(folder, 'runs'))).toEqual([`${runId}.run`]);
  });
});

describe('kept recipes', () => {
  it('counts the version up when the contents differ, and keeps the one before', async () => {
    const { runService } = await begin();
    const save = async (one: typeof recipe) => value(await runService.handlers['recipe.save']({ recipe: one }, operator)).revision;
    expect(await save(recipe)).toBe(1);
    expect(await save(recipe)).toBe(1);
    expect(await save({ ...recipe, decimal: ',' })).toBe(2);
    const { recipes, earlier, shipped } = value(await runService.handlers['recipe.list']({}, operator));
    expect(recipes.find(({ name }) => name === recipe.name)).toMatchObject({ revision: 2, decimal: ',' });
    expect(earlier).toMatchObject([{ name: recipe.name, revision: 1, decimal: '.' }]);
    expect(shipped).not.toContain(recipe.name);
    value(await runService.handlers['recipe.remove']({ name: recipe.name }, operator));
    expect(value(await runService.handlers['recipe.list']({}, operator)).recipes.some(({ name }) => name === recipe.name)).toBe(false);
  });

  it('gives up looking at lines through a slow pattern before anybody has to wait', async () => {
    const { runService, ports, runId, clock } = await begin();
    for (let at = 0; at < 100; at++) ports.send('A', `${'a'.repeat(1000)}\r\n`);
    await clock.advance(200);
    const hostile = {
      ...recipe,
      shape: { kind: 'pattern' as const, pattern: '(?P<o2>(.*){400})b' },
      fields: [{ ...recipe.fields[0], at: 'o2' }],
    };
    const before = process.cpuUsage();
    const preview = await runService.handlers['recipe.preview']({ runId, recipe: LineRecipe.parse(hostile), count: 200 }, operator);
    const { user, system } = process.cpuUsage(before);
    // one line may run over; five times the figure of 250 ms, of the processor: what else the computer does is not counted
    expect((user + system) / 1000).toBeLessThan(1250);
    expect(value(preview).understood).toBe(0);
  });
});

/** A board that sends CO only once its cell is warm: the key comes after the recipe. It is read from then on, or asked about. Invented data. */
import { afterEach, describe, expect, it } from 'vitest';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { openRunFile } from '../../../../main/runs/file/run-file.ts';
import { STORED_RUN_ENDING } from '../../../../main/runs/file/run-path.ts';
import { createRunFold } from '../../../../shared/pipeline/fold-run.ts';
import type { Sample } from '../../../../shared/measurement/sample.ts';
import { SerialSettings } from '../../../../shared/measurement/run.ts';
import { boardRows, type BoardRow } from '../../../shared/lines/boards/board-lines.ts';
import { createFakePorts, usb } from '../../../helpers/ports/fake-port.ts';
import { createTestRunService, operator, value } from '../../../helpers/ports/run-service.ts';

const files = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true }).map(({ parentPath, name }) => join(parentPath, name));
const made: ReturnType<typeof createTestRunService>[] = [];
afterEach(async () => {
  for (const { runService, remove } of made.splice(0)) {
    await runService.close({ endRuns: true });
    remove();
  }
});
const WARM = 30;
const rows = boardRows(90);
const serial = { kind: 'serial' as const, path: 'A', settings: SerialSettings.parse({}) };

async function begin(text: (row: BoardRow, isWarm: boolean) => string) {
  const ports = createFakePorts();
  ports.plug('A', usb('1'));
  const one = createTestRunService({ openPort: ports.openPort, listPorts: ports.listPorts });
  made.push(one);
  const { runId } = value(await one.runService.handlers['run.start']({ source: serial }, operator));
  await one.clock.advance(200);
  const info = () => one.runService.runs().find((run) => run.runId === runId);
  return {
    runId,
    handlers: one.runService.handlers,
    info,
    say: async (from: number, to: number): Promise<void> => {
      for (const row of rows.slice(from, to)) {
        ports.send('A', `${text(row, row.at >= WARM)}\r\n`);
        await one.clock.advance(1000);
      }
    },
    agrees: async (agrees = true) => value(await one.runService.handlers['run.compareDisplay']({ runId, agrees }, operator)),
    /** the run, ended, as its file is read again */
    again: async () => {
      await one.runService.close({ endRuns: true });
      const path = files(one.folder).find((name) => name.endsWith(STORED_RUN_ENDING)) ?? '';
      const file = await openRunFile(path);
      if (!file.ok) throw new Error(file.error.code);
      const samples: Sample[] = [];
      const fold = createRunFold(file.value.header, {}, { sample: (sample) => void samples.push(sample) });
      for await (const entry of file.value.entries()) fold.push(entry);
      return samples;
    },
  };
}
const keyed = (r: BoardRow, isWarm: boolean) => `O2=${r.o2}% ${isWarm ? `CO=${r.co}ppm ` : ''}TS=${r.stack}C TA=${r.air}C`;
const json = (r: BoardRow, isWarm: boolean) => JSON.stringify({ o2: r.o2, stack: r.stack, air: r.air, ...(isWarm && { co: r.co }) });

describe('CO by its key after the recipe', () => {
  it.each([
    ['key=value', keyed],
    ['JSON', json],
    [
      'JSON in groups',
      (r: BoardRow, w: boolean) => JSON.stringify({ gas: { o2: r.o2, ...(w && { co: r.co }) }, temps: { stack: r.stack, air: r.air } }),
    ],
    [
      'one key a line',
      (r: BoardRow, w: boolean) => `O2: ${r.o2} %\r\n${w ? `CO: ${r.co} ppm\r\n` : ''}Stack: ${r.stack} C\r\nAir: ${r.air} C`,
    ],
  ])('%s: shown beside the display, then read', async (_, text) => {
    const { say, info, agrees } = await begin(text);
    await say(0, 20);
    expect(info()?.display?.values.co).toBeUndefined();
    await agrees();
    await say(20, WARM);
    expect(info()).toMatchObject({ channels: ['o2', 'stackTemperature', 'airTemperature'] });
    await say(WARM, 50);
    expect(info()?.display?.values.co).toBe(rows[49]?.co);
    await agrees();
    await say(50, 55);
    expect(info()?.channels).toContain('co');
  });

  it('reading the run again gives the same', async () => {
    const { say, agrees, again } = await begin(keyed);
    await say(0, 20);
    await agrees();
    await say(20, 40);
    await agrees();
    await say(40, 60);
    const samples = await again();
    const co = samples.map(({ values }) => values.co);
    expect(co.slice(0, 40).some((one) => one !== undefined)).toBe(false);
    expect(co.slice(-20)).toEqual(rows.slice(40, 60).map((row) => row.co));
    expect(samples.every(({ values }) => values.o2 !== undefined && values.stackTemperature !== undefined)).toBe(true);
  });

  it('goes on without CO where the display shows another, and asks', async () => {
    const { say, agrees, info } = await begin(keyed);
    await say(0, 20);
    await agrees();
    await say(20, 40);
    await agrees(false);
    await say(40, 60);
    expect(info()?.channels).toEqual(['o2', 'stackTemperature', 'airTemperature']);
    expect(info()?.question?.columns.find(({ name }) => name === 'CO')?.taken).toBe('co');
  });

  it('CO without a unit that may be per cent is asked about, and read as answered', async () => {
    const { say, agrees, info, handlers, runId } = await begin((r, w) =>
      JSON.stringify({ o2: r.o2, stack: r.stack, air: r.air, ...(w && { co: r.co / 1000 }) }),
    );
    await say(0, 20);
    await agrees();
    await say(20, 60);
    expect(info()?.channels).not.toContain('co');
    expect(info()?.question?.columns.map(({ name, sureness }) => [name, sureness])).toEqual([
      ['o2', 'sure'],
      ['stack', 'sure'],
      ['air', 'sure'],
      ['co', 'look'],
    ]);
    value(await handlers['run.answerQuestion']({ runId, answers: [{ at: 'co', channel: 'co', unit: '%' }] }, operator));
    expect(info()?.display?.values.co).toBeCloseTo((rows[59]?.co ?? 0) * 10, 6);
  });

  it.each(['co_3pct', 'room_co', 'CO2 limit', 'co_raw', 'CO mg/kWh'])('%s is no CO, late neither', async (key) => {
    const { say, agrees, info } = await begin((r, w) =>
      JSON.stringify({ o2: r.o2, stack: r.stack, air: r.air, ...(w && { [key]: r.co }) }),
    );
    await say(0, 20);
    await agrees();
    await say(20, 90);
    expect(info()?.display).toBeUndefined();
    expect(info()?.channels).toEqual(['o2', 'stackTemperature', 'airTemperature']);
  });

  it('a key that a person left out stays out', async () => {
    const { say, agrees, info, handlers, runId } = await begin((r) => keyed(r, true));
    await say(0, 20);
    const recipe = value(await handlers['recipe.propose']({ runId }, operator)).proposals[0]?.recipe;
    await agrees();
    if (recipe === undefined) throw new Error('no proposal');
    const fields = recipe.fields.filter(({ channel }) => channel !== 'co');
    value(await handlers['run.useRecipe']({ runId, recipe: { ...recipe, fields } }, operator));
    await say(20, 60);
    expect(info()?.channels).toEqual(['o2', 'stackTemperature', 'airTemperature']);
    expect(info()?.display).toBeUndefined();
    expect(info()?.question).toBeUndefined();
  });
});

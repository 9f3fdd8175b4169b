/** A run that goes on after a restart: its lines are read with the recipe that a person gave it, and nothing learns another one. Invented data. */
import { afterEach, expect, it } from 'vitest';
import { SerialSettings } from '../../../../shared/measurement/run.ts';
import { boardRows } from '../../../shared/lines/boards/board-lines.ts';
import { createFakePorts, usb } from '../../../helpers/ports/fake-port.ts';
import { createTestRunService, operator, value } from '../../../helpers/ports/run-service.ts';

const made: ReturnType<typeof createTestRunService>[] = [];
afterEach(async () => {
  for (const { runService, remove } of made.splice(0)) {
    await runService.close({ endRuns: true });
    remove();
  }
});

it('reads with the recipe of a person, without another question', async () => {
  const ports = createFakePorts();
  ports.plug('A', usb('1'));
  const from = { openPort: ports.openPort, listPorts: ports.listPorts };
  const first = createTestRunService(from);
  const rows = boardRows(90);
  const say = async (start: number, end: number): Promise<void> => {
    for (const r of rows.slice(start, end)) {
      ports.send('A', `O2=${r.o2}% CO=${r.co}ppm TS=${r.stack}C TA=${r.air}C\r\n`);
      await first.clock.advance(1000);
    }
  };
  const source = { kind: 'serial' as const, path: 'A', settings: SerialSettings.parse({}) };
  const { runId } = value(await first.runService.handlers['run.start']({ source }, operator));
  await first.clock.advance(200);
  await say(0, 20);
  value(await first.runService.handlers['run.compareDisplay']({ runId, agrees: true }, operator));
  const recipe = value(await first.runService.handlers['recipe.propose']({ runId }, operator)).proposals[0]?.recipe;
  if (recipe === undefined) throw new Error('no proposal');
  const fields = recipe.fields.filter(({ channel }) => channel !== 'co');
  value(await first.runService.handlers['run.useRecipe']({ runId, recipe: { ...recipe, fields } }, operator));
  await say(20, 30);
  await first.runService.close();

  const next = createTestRunService({ ...from, folder: first.folder, clock: first.clock });
  made.push(next);
  value(await next.runService.handlers['run.continue']({ runId }, operator));
  await first.clock.advance(2000);
  await say(30, 80);
  const info = next.runService.runs().find((run) => run.runId === runId);
  expect(info?.counters.lines).toBeGreaterThan(70);
  expect(info?.channels).toEqual(['o2', 'stackTemperature', 'airTemperature']);
  expect([info?.display, info?.question]).toEqual([undefined, undefined]);
});

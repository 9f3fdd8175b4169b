/** Live: a banner that says CO is corrected comes when its figures count already. CO is left out and asked about. Invented data. */
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

async function begin() {
  const ports = createFakePorts();
  ports.plug('A', usb('1'));
  const one = createTestRunService({ openPort: ports.openPort, listPorts: ports.listPorts });
  made.push(one);
  const { handlers } = one.runService;
  const source = { kind: 'serial' as const, path: 'A', settings: SerialSettings.parse({}) };
  const { runId } = value(await handlers['run.start']({ source }, operator));
  await one.clock.advance(200);
  const rows = boardRows(90);
  const sendLine = async (text: string): Promise<void> => {
    ports.send('A', `${text}\r\n`);
    await one.clock.advance(1000);
  };
  const say = async (from: number, to: number): Promise<void> => {
    for (const r of rows.slice(from, to)) await sendLine(`O2=${r.o2}% CO=${r.co}ppm TS=${r.stack}C TA=${r.air}C`);
  };
  const info = () => one.runService.runs().find((run) => run.runId === runId);
  const agrees = async () => value(await handlers['run.compareDisplay']({ runId, agrees: true }, operator));
  return { handlers, runId, sendLine, say, info, agrees };
}

it('is asked about, and read again when a person has said that it is measured', async () => {
  const { handlers, runId, sendLine, say, info, agrees } = await begin();
  await say(0, 20);
  await agrees();
  await say(20, 30);
  expect(info()?.question).toBeUndefined();
  await sendLine('CO corrected to 3% O2');
  await say(30, 40);
  expect(
    info()
      ?.question?.columns.filter(({ sureness }) => sureness === 'look')
      .map(({ taken }) => taken),
  ).toEqual(['co']);
  value(await handlers['run.answerQuestion']({ runId, answers: [{ at: 'CO', channel: 'co', unit: 'ppm' }] }, operator));
  if (info()?.display !== undefined) await agrees();
  await say(40, 45);
  expect(info()?.question).toBeUndefined();
  expect(info()?.channels).toContain('co');
});

it('a recipe that was chosen before the first line: a key that it does not name is offered', async () => {
  const { handlers, runId, say, info, agrees } = await begin();
  const recipe = {
    format: 'flueside-recipe' as const,
    version: 1 as const,
    name: 'mine',
    shape: { kind: 'keyed' as const, separator: '=', between: 'blank' },
    fields: [
      { channel: 'o2' as const, at: 'O2', unit: '%' as const },
      { channel: 'stackTemperature' as const, at: 'TS', unit: 'C' as const },
    ],
  };
  value(await handlers['run.useRecipe']({ runId, recipe: recipe as never }, operator));
  await say(0, 3);
  await agrees();
  await say(3, 40);
  expect(info()?.display?.values.co ?? (info()?.question?.columns.some(({ taken }) => taken === 'co') ? 1 : undefined)).toBeDefined();
});

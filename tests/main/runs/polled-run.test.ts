/** An instrument that answers only when it is asked, on a pseudo-terminal and on a port made of memory. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { openSerialPort } from '../../../main/source/open-port.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { SerialSettings, type RunEntry } from '../../../shared/measurement/run.ts';
import { decodeEntry } from '../../../shared/measurement/run-format.ts';
import { codeOf, createTestRunService, operator, value } from '../../helpers/ports/run-service.ts';
import { createFakePorts, usb } from '../../helpers/ports/fake-port.ts';
import { leader, noPty, startPty, watchedPort, type Pty } from '../../helpers/ports/pty.ts';
import { commaRecipe, FOUR } from '../../helpers/comma-recipe.ts';

const made: ReturnType<typeof createTestRunService>[] = [];
const ptys: Pty[] = [];
afterEach(async () => {
  for (const { runService, remove } of made.splice(0)) {
    await runService.close({ endRuns: true });
    remove();
  }
  for (const pty of ptys.splice(0)) await pty.stop();
});
const testRunService = (more: Parameters<typeof createTestRunService>[0]) => {
  const one = createTestRunService(more);
  made.push(one);
  return one;
};
const command = 'READ?\r\n';
const recipe = commaRecipe('polled', FOUR, {
  polling: { command, intervalMs: 200, timeoutMs: 300, retries: 1 },
  shape: { kind: 'columns', delimiter: ',', count: 4 },
});
const serial = (path: string) => ({ kind: 'serial' as const, path, settings: SerialSettings.parse({}) });
const entriesOf = (folder: string, runId: string): RunEntry[] =>
  readFileSync(join(folder, 'runs', `${runId}.run`), 'latin1')
    .split('\n')
    .slice(1, -1)
    .map((line) => decodeEntry(line) as RunEntry);

/** time of the host and of its instrument goes on in such steps */
const STEP_MS = 50;

describe.skipIf(noPty !== undefined)('a polled instrument on a pseudo-terminal', () => {
  const begin = async (used: LineRecipe = recipe) => {
    const pty = await startPty();
    ptys.push(pty);
    await pty.ask('answer 4.1,23,212.4,21.5', 'answer');
    await pty.ask('poll once');
    const port = watchedPort(openSerialPort);
    const one = testRunService({ openPort: port.openPort });
    const { runId } = value(await one.runService.handlers['run.start']({ source: serial(pty.path), recipe: used }, operator));
    const info = () => one.runService.runs()[0];
    const polling = () => {
      const found = info()?.polling;
      if (found === undefined) throw new Error('not polled');
      return found;
    };
    const until = leader(pty, port, one.clock, STEP_MS);
    return { ...one, pty, runId, info, polling, until };
  };

  it('sends nothing before the person agreed to these very bytes', async () => {
    const { runService, pty, runId, polling, info, until } = await begin();
    expect(polling()).toMatchObject({ command, allowed: false, sent: 0 });
    expect(codeOf(await runService.handlers['run.allowPolling']({ runId, allowed: true, command: '*RST\r\n' }, operator))).toBe(
      'request-invalid',
    );
    expect(polling().allowed).toBe(false);
    value(await runService.handlers['run.allowPolling']({ runId, allowed: true, command }, operator));
    expect(await pty.ask('', 'received')).toBe(`received ${Buffer.from('READ?').toString('hex')}`);
    await until(() => (info()?.counters.understood ?? 0) >= 3);
    expect(polling()).toMatchObject({ allowed: true, late: 0, double: 0 });
    value(await runService.handlers['run.allowPolling']({ runId, allowed: false, command }, operator));
    expect(polling().allowed).toBe(false);
  });

  it('answers late, twice and never: shown, not used twice, nothing queued up, recovered', async () => {
    const { runService, pty, runId, polling, info, folder, until } = await begin();
    value(await runService.handlers['run.allowPolling']({ runId, allowed: true, command }, operator));
    await until(() => polling().answered >= 2);

    await pty.ask('answer 5.5,55,212.4,21.5', 'answer');
    await pty.ask('poll late 0.45', 'poll');
    await until(() => polling().late >= 2);
    await pty.ask('answer 6.6,66,212.4,21.5', 'answer');
    await pty.ask('poll twice', 'poll');
    await until(() => polling().double >= 2);
    await pty.ask('poll never', 'poll');
    const before = polling().timedOut;
    await until(() => polling().timedOut >= before + 2 && polling().isBackingOff);
    const { sent, answered, timedOut } = polling();
    // each question was answered, given up, or is still open: none waits behind another
    expect(sent - answered - timedOut).toBeLessThanOrEqual(1);

    await pty.ask('answer 7.7,77,212.4,21.5', 'answer');
    await pty.ask('poll once');
    const then = polling().answered;
    await until(() => polling().answered >= then + 3);
    expect(polling().isBackingOff).toBe(false);
    value(await runService.handlers['run.end']({ runId }, operator));

    const lines = entriesOf(folder, runId).flatMap((entry) => (entry.kind === 'line' ? [entry] : []));
    expect(lines.filter(({ unused }) => unused === 'late').length).toBeGreaterThanOrEqual(2);
    expect(lines.filter(({ unused }) => unused === 'double').length).toBeGreaterThanOrEqual(2);
    const { understood = 0, ignored = 0, rejected = 0 } = info()?.counters ?? {};
    // the very first line of a port may be cut and is not used either
    expect(ignored - lines.filter(({ unused }) => unused !== undefined).length).toBeLessThanOrEqual(1);
    expect(understood + ignored).toBe(lines.length);
    expect(rejected).toBe(0);
    // read back from the file it is the same story
    const { lines: shown } = value(await runService.handlers['run.lines']({ runId, count: 500, watch: false }, operator));
    expect(shown.filter(({ mark }) => mark === 'ignored').map(({ why }) => why)).toContain(
      'An answer that came too late, so it is not used.',
    );
  });

  it('is always some seconds late: that is learned, and each answer is that to its own question', async () => {
    const { runService, pty, runId, polling, info, until } = await begin({ ...recipe, polling: { command, intervalMs: 200, retries: 2 } });
    await pty.ask('poll late 2.3', 'poll'); // later than a question is waited for while nothing is known of the instrument
    value(await runService.handlers['run.allowPolling']({ runId, allowed: true, command }, operator));
    await until(() => polling().answered >= 2);
    const { sent, answered, timedOut, late, double } = polling();
    // what was given up at the start came after all, and nothing since then
    expect({ late, double }).toEqual({ late: timedOut, double: 0 });
    expect(timedOut).toBeLessThanOrEqual(2);
    expect(sent - answered - timedOut).toBeLessThanOrEqual(1);
    // time goes on in steps, and a question may reach the instrument within the step before
    expect(polling().usualAnswerMs).toBeGreaterThanOrEqual(2300 - STEP_MS);
    expect(polling().usualAnswerMs).toBeLessThan(2600);
    expect(info()?.counters.understood).toBe(2);
  });

  it('is unplugged while a question is out: asked nothing while it is away, then a fresh question and no old answer', async () => {
    const { runService, pty, runId, polling, info, until } = await begin();
    value(await runService.handlers['run.allowPolling']({ runId, allowed: true, command }, operator));
    await until(() => polling().answered >= 2);
    await pty.ask('poll never', 'poll');
    await until(() => polling().sent > polling().answered + polling().timedOut);
    await pty.ask('unplug', 'unplugged');
    await until(() => info()?.phase === 'lost');
    const understood = info()?.counters.understood ?? 0;
    await pty.ask('poll once', 'poll');
    await pty.ask('replug', 'replugged');
    await until(() => (info()?.counters.understood ?? 0) >= understood + 3);
    // it counts afresh: every question since then was answered, but for the one that is out
    expect(polling()).toMatchObject({ late: 0, double: 0, timedOut: 0 });
    expect(polling().sent - polling().answered).toBeLessThanOrEqual(1);
  });
});

describe('consent to ask', () => {
  const begin = async (device = usb('1')) => {
    const ports = createFakePorts();
    const written: string[] = [];
    ports.plug('A', device);
    const openPort: typeof ports.openPort = async (path, settings) => {
      const opened = await ports.openPort(path, settings);
      if (opened.ok)
        opened.value.write = (bytes) => {
          written.push(String.fromCharCode(...bytes));
          return Promise.resolve({ ok: true, value: undefined });
        };
      return opened;
    };
    const one = testRunService({ openPort, listPorts: ports.listPorts });
    const { runId } = value(await one.runService.handlers['run.start']({ source: serial('A'), recipe }, operator));
    await one.clock.advance(1000);
    return { ...one, ports, written, runId };
  };

  it('holds for this recipe only: another one is asked for anew, the first is remembered', async () => {
    const { runService, clock, written, runId } = await begin();
    expect(written).toEqual([]);
    value(await runService.handlers['run.allowPolling']({ runId, allowed: true, command }, operator));
    await clock.advance(100);
    expect(written).toEqual([command]);
    const other = { ...recipe, polling: { command: 'ZERO!\r\n', intervalMs: 200, retries: 1 } };
    value(await runService.handlers['run.useRecipe']({ runId, recipe: other }, operator));
    written.length = 0;
    await clock.advance(5000);
    expect(written).toEqual([]);
    value(await runService.handlers['run.useRecipe']({ runId, recipe }, operator));
    await clock.advance(100);
    expect(written).toEqual([command]);
  });

  it('asks on after the same device came back, and begins afresh', async () => {
    const { runService, clock, written, runId, ports } = await begin();
    value(await runService.handlers['run.allowPolling']({ runId, allowed: true, command }, operator));
    await clock.advance(100);
    ports.unplug('A');
    await clock.advance(500);
    written.length = 0;
    await clock.advance(3000);
    expect(written).toEqual([]);
    ports.plug('A', usb('1'));
    await clock.advance(6000);
    expect(written.length).toBeGreaterThan(0);
    expect(runService.runs()[0]?.phase).toBe('running');
  });
});

import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { CommandIo } from '../../../main/commands/command.ts';
import { createSimulate } from '../../../main/commands/simulate.ts';
import type { OpenPort } from '../../../main/source/serial-port.ts';
import { problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';
import { createFakeClock, settle } from '../../helpers/fake-clock.ts';

function createDesk(orders: readonly string[] = []) {
  const clock = createFakeClock();
  const stop = new AbortController();
  const out: string[] = [];
  const errors: string[] = [];
  const written: string[] = [];
  const opened: { path: string; baud: number }[] = [];
  let closed = 0;
  let unplug: () => void = () => undefined;
  const openPort: OpenPort = (path, settings) => {
    if (path === '/dev/none') return Promise.resolve(err(problem('port-not-found', path)));
    opened.push({ path, baud: settings.baud });
    return Promise.resolve(
      ok({
        onBytes: () => undefined,
        onClose: (listener) => {
          unplug = () => listener('unplugged', 'gone');
        },
        write: (bytes) => {
          written.push(Buffer.from(bytes).toString('latin1'));
          return Promise.resolve(ok(undefined));
        },
        close: () => {
          closed += 1;
          return Promise.resolve();
        },
      }),
    );
  };
  const io: CommandIo = {
    out: (text) => out.push(text),
    error: (text) => errors.push(text),
    stdin: async function* () {
      await Promise.resolve();
      for (const order of orders) yield new TextEncoder().encode(order);
    },
    clock,
    cwd: tmpdir(),
    signal: stop.signal,
  };
  const command = createSimulate(() => Promise.resolve(openPort));
  const start = (...args: string[]) => command.run(args, io);
  const runToEnd = async (...args: string[]) => {
    let code: number | undefined;
    const running = start(...args).then((value) => (code = value));
    for (let turn = 0; turn < 2000 && code === undefined; turn++) await clock.advance(1000);
    await running;
    return code;
  };
  return { clock, stop, out, errors, written, opened, start, runToEnd, unplug: () => unplug(), closed: () => closed };
}

describe('to standard output', () => {
  it('writes 600 simulated seconds at once: header, time column first, settled at the end', async () => {
    const desk = createDesk();
    const startMs = desk.clock.nowMs();
    const running = desk.start();
    await desk.clock.advance(0);
    expect(await running).toBe(0);
    expect(desk.clock.nowMs()).toBe(startMs);
    expect(desk.out[0]).toBe('time s,O2 %,CO ppm,stack C,air C');
    expect(desk.out.length).toBe(601);
    const rows = desk.out.slice(1).map((line) => line.split(',').map(Number));
    expect(rows.map(([time]) => time)).toEqual(Array.from({ length: 600 }, (_, second) => second));
    const stack = rows.map((row) => row[3] ?? 0);
    expect(Math.abs((stack[599] ?? 0) - (stack[540] ?? 0))).toBeLessThan(1.5);
    expect((stack[599] ?? 0) - (stack[0] ?? 0)).toBeGreaterThan(120);
  });

  it('with --speed the lines wait for the clock', async () => {
    const desk = createDesk();
    const running = desk.start('--speed', '10', '--seconds', '20');
    await desk.clock.advance(500);
    expect(desk.out.length).toBe(1 + 6);
    await desk.clock.advance(500);
    expect(desk.out.length).toBe(1 + 11);
    await desk.clock.advance(1000);
    expect(await running).toBe(0);
    expect(desk.out.length).toBe(1 + 20);
    const unpaced = createDesk();
    await unpaced.runToEnd('--seconds', '20');
    expect(desk.out).toEqual(unpaced.out);
  });

  it('takes seed, rate, shape and scenario', async () => {
    const lines = async (...args: string[]) => {
      const desk = createDesk();
      expect(await desk.runToEnd('--seconds', '30', ...args)).toBe(0);
      return desk.out;
    };
    expect(await lines('--seed', '2')).not.toEqual(await lines('--seed', '3'));
    expect((await lines('--rate', '10')).length).toBe(301);
    expect((await lines('--shape', 'keyed'))[0]).toMatch(/^O2=\S+% CO=/);
    expect((await lines('--scenario', 'falling-draft'))[0]).toContain('draft Pa');
  });

  it('--json gives one object that says that it is simulated; --list names the scenarios', async () => {
    const desk = createDesk();
    await desk.runToEnd('--json', '--seconds', '3');
    expect(desk.out.length).toBe(1);
    expect(JSON.parse(desk.out[0] ?? '')).toMatchObject({
      scenario: 'tune-up',
      simulated: true,
      seed: 1,
      lines: [{ t_s: 0 }, { t_s: 0 }, { t_s: 1 }, { t_s: 2 }],
    });
    const list = createDesk();
    await list.runToEnd('--list', '--json');
    expect((JSON.parse(list.out[0] ?? '') as { scenarios: { name: string }[] }).scenarios.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['tune-up', 'cold-start', 'worn-nozzle', 'air-leak', 'unplug', 'low-span']),
    );
  });

  it('takes orders while it runs', async () => {
    const desk = createDesk(['shutter 9\nsh', 'utter 2\nwarp 9\n']);
    expect(await desk.runToEnd('--orders', '--seconds', '200')).toBe(0);
    expect(desk.errors).toEqual(['shutter to 9', 'shutter to 2', expect.stringContaining('There is no part "warp"')]);
    const last = desk.out.at(-1)?.split(',').map(Number);
    expect(last?.[1]).toBeLessThan(4);
  });

  it.each([['--speed', '50'], []])('Ctrl-C ends it quietly (%s)', async (...args) => {
    const desk = createDesk();
    const running = desk.start('--seconds', '100000', ...args);
    await settle();
    desk.stop.abort();
    await desk.clock.advance(0);
    expect(await running).toBe(0);
    expect(desk.out.length).toBeLessThan(1000);
    expect(desk.errors).toEqual([]);
  });
});

describe('to a port', () => {
  it('acts as the instrument in real time until Ctrl-C, and closes the port', async () => {
    const desk = createDesk();
    const running = desk.start('--port', '/dev/fake', '--baud', '4800', '--shape', 'blanks');
    await desk.clock.advance(3000);
    expect(desk.opened).toEqual([{ path: '/dev/fake', baud: 4800 }]);
    expect(desk.written.length).toBe(4);
    expect(desk.written.every((text) => text.endsWith('\r\n'))).toBe(true);
    expect(desk.out).toEqual([]);
    await desk.clock.advance(900_000);
    expect(desk.written.length).toBe(904);
    desk.stop.abort();
    await settle();
    expect(await running).toBe(0);
    expect(desk.closed()).toBe(1);
  });

  it('ends with one plain line when the cable is pulled, or when there is no such port', async () => {
    const desk = createDesk();
    const running = desk.start('--port', '/dev/fake');
    await desk.clock.advance(2000);
    desk.unplug();
    await desk.clock.advance(2000);
    expect(await running).toBe(1);
    expect(desk.errors).toEqual([expect.stringContaining('went away')]);
    const none = createDesk();
    expect(await none.runToEnd('--port', '/dev/none')).toBe(1);
    expect(none.errors).toEqual([expect.stringContaining('no such serial port')]);
  });
});

describe('scenario files and wrong usage', () => {
  let folder = '';
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'flueside-simulate-'));
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));

  it('reads a scenario from a file', async () => {
    const file = join(folder, 'mine.json');
    await writeFile(
      file,
      JSON.stringify({
        format: 'flueside-scenario',
        version: 1,
        name: 'mine',
        title: 'Mine',
        about: 'Slow.',
        instrument: { ratePerSecond: 0.5 },
      }),
    );
    const desk = createDesk();
    expect(await desk.runToEnd('--scenario', file, '--seconds', '20')).toBe(0);
    expect(desk.out.length).toBe(11);
    await writeFile(file, '{"format":"else"}');
    const foreign = createDesk();
    expect(await foreign.runToEnd('--scenario', file)).toBe(1);
    expect(foreign.out).toEqual([]);
  });

  it.each([
    ['--shape', 'foo'],
    ['--scenario', 'nix'],
    ['--rate', '50'],
    ['--rate', '0'],
    ['--seed', '1.5'],
    ['--seed', '-1'],
    ['--speed', '0'],
    ['--seconds', 'ten'],
    ['--colour', 'red'],
    ['extra', 'word'],
  ])('refuses %s %s with exit 2 and one line', async (...args) => {
    const desk = createDesk();
    expect(await desk.runToEnd(...args)).toBe(2);
    expect(desk.errors.length).toBe(1);
    expect(desk.out).toEqual([]);
  });
});

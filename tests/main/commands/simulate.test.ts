import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { CommandIo } from '../../../main/commands/command.ts';
import { createSimulate } from '../../../main/commands/simulate.ts';
import type { OpenPort } from '../../../main/source/serial-port.ts';
import { problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';
import { createFakeClock, settle } from '../../helpers/host/fake-clock.ts';

function setUpSimulate(orders: readonly string[] = []) {
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
    const simulate = setUpSimulate();
    const startMs = simulate.clock.nowMs();
    const running = simulate.start();
    await simulate.clock.advance(0);
    expect(await running).toBe(0);
    expect(simulate.clock.nowMs()).toBe(startMs);
    expect(simulate.out[0]).toBe('time s,O2 %,CO ppm,stack C,air C');
    expect(simulate.out.length).toBe(601);
    const rows = simulate.out.slice(1).map((line) => line.split(',').map(Number));
    expect(rows.map(([time]) => time)).toEqual(Array.from({ length: 600 }, (_, second) => second));
    const stack = rows.map((row) => row[3] ?? 0);
    expect(Math.abs((stack[599] ?? 0) - (stack[540] ?? 0))).toBeLessThan(1.5);
    expect((stack[599] ?? 0) - (stack[0] ?? 0)).toBeGreaterThan(120);
  });

  it('with --speed the lines wait for the clock', async () => {
    const simulate = setUpSimulate();
    const running = simulate.start('--speed', '10', '--seconds', '20');
    await simulate.clock.advance(500);
    expect(simulate.out.length).toBe(1 + 6);
    await simulate.clock.advance(500);
    expect(simulate.out.length).toBe(1 + 11);
    await simulate.clock.advance(1000);
    expect(await running).toBe(0);
    expect(simulate.out.length).toBe(1 + 20);
    const unpaced = setUpSimulate();
    await unpaced.runToEnd('--seconds', '20');
    expect(simulate.out).toEqual(unpaced.out);
  });

  it('takes seed, rate, shape and scenario', async () => {
    const lines = async (...args: string[]) => {
      const simulate = setUpSimulate();
      expect(await simulate.runToEnd('--seconds', '30', ...args)).toBe(0);
      return simulate.out;
    };
    expect(await lines('--seed', '2')).not.toEqual(await lines('--seed', '3'));
    expect((await lines('--rate', '10')).length).toBe(301);
    expect((await lines('--shape', 'keyed'))[0]).toMatch(/^O2=\S+% CO=/);
    expect((await lines('--scenario', 'falling-draft'))[0]).toContain('draft Pa');
  });

  it('--json gives one object that says that it is simulated; --list names the scenarios', async () => {
    const simulate = setUpSimulate();
    await simulate.runToEnd('--json', '--seconds', '3');
    expect(simulate.out.length).toBe(1);
    expect(JSON.parse(simulate.out[0] ?? '')).toMatchObject({
      scenario: 'tune-up',
      simulated: true,
      seed: 1,
      lines: [{ t_s: 0 }, { t_s: 0 }, { t_s: 1 }, { t_s: 2 }],
    });
    const list = setUpSimulate();
    await list.runToEnd('--list', '--json');
    expect((JSON.parse(list.out[0] ?? '') as { scenarios: { name: string }[] }).scenarios.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['tune-up', 'cold-start', 'worn-nozzle', 'air-leak', 'unplug', 'low-span']),
    );
  });

  it('takes orders while it runs', async () => {
    const simulate = setUpSimulate(['shutter 9\nsh', 'utter 2\nwarp 9\n']);
    expect(await simulate.runToEnd('--orders', '--seconds', '200')).toBe(0);
    expect(simulate.errors).toEqual(['shutter to 9', 'shutter to 2', expect.stringContaining('There is no part "warp"')]);
    const last = simulate.out.at(-1)?.split(',').map(Number);
    expect(last?.[1]).toBeLessThan(4);
  });

  it.each([['--speed', '50'], []])('Ctrl-C ends it quietly (%s)', async (...args) => {
    const simulate = setUpSimulate();
    const running = simulate.start('--seconds', '100000', ...args);
    await settle();
    simulate.stop.abort();
    await simulate.clock.advance(0);
    expect(await running).toBe(0);
    expect(simulate.out.length).toBeLessThan(1000);
    expect(simulate.errors).toEqual([]);
  });
});

describe('to a port', () => {
  it('acts as the instrument in real time until Ctrl-C, and closes the port', async () => {
    const simulate = setUpSimulate();
    const running = simulate.start('--port', '/dev/fake', '--baud', '4800', '--shape', 'blanks');
    await simulate.clock.advance(3000);
    expect(simulate.opened).toEqual([{ path: '/dev/fake', baud: 4800 }]);
    expect(simulate.written.length).toBe(4);
    expect(simulate.written.every((text) => text.endsWith('\r\n'))).toBe(true);
    expect(simulate.out).toEqual([]);
    await simulate.clock.advance(900_000);
    expect(simulate.written.length).toBe(904);
    simulate.stop.abort();
    await settle();
    expect(await running).toBe(0);
    expect(simulate.closed()).toBe(1);
  });

  it('ends with one plain line when the cable is pulled, or when there is no such port', async () => {
    const simulate = setUpSimulate();
    const running = simulate.start('--port', '/dev/fake');
    await simulate.clock.advance(2000);
    simulate.unplug();
    await simulate.clock.advance(2000);
    expect(await running).toBe(1);
    expect(simulate.errors).toEqual([expect.stringContaining('went away')]);
    const none = setUpSimulate();
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
    const simulate = setUpSimulate();
    expect(await simulate.runToEnd('--scenario', file, '--seconds', '20')).toBe(0);
    expect(simulate.out.length).toBe(11);
    await writeFile(file, '{"format":"else"}');
    const foreign = setUpSimulate();
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
    const simulate = setUpSimulate();
    expect(await simulate.runToEnd(...args)).toBe(2);
    expect(simulate.errors.length).toBe(1);
    expect(simulate.out).toEqual([]);
  });
});

import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { CommandIo } from '../../../main/commands/command.ts';
import { createCapture } from '../../../main/commands/capture.ts';
import { createPorts } from '../../../main/commands/ports.ts';
import { createReplay } from '../../../main/commands/replay.ts';
import { measureRunFile, openRunFile } from '../../../main/runs/file/run-file.ts';
import { createFakeClock, until } from '../../helpers/host/fake-clock.ts';
import { createFakePorts, usb } from '../../helpers/ports/fake-port.ts';

let folder: string;
beforeEach(() => (folder = mkdtempSync(join(tmpdir(), 'flueside-capture-'))));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const start = (args: string[]) => {
  const clock = createFakeClock();
  const ports = createFakePorts();
  ports.plug('A', usb('1'));
  const out: string[] = [];
  const errors: string[] = [];
  const stop = new AbortController();
  const io: CommandIo = {
    out: (text) => void out.push(text),
    error: (text) => void errors.push(text),
    stdin: () => (async function* nothing(): AsyncGenerator<Uint8Array> {})(),
    clock,
    cwd: folder,
    signal: stop.signal,
    dataFolder: folder,
  };
  let code: number | undefined;
  const ended = createCapture(() => ports)
    .run(args, io)
    .then((found) => (code = found));
  return { clock, ports, out, errors, stop, ended, code: () => code, io };
};

describe('capture', () => {
  it('logs until the time is up, over an unplug, and prints a summary', async () => {
    const run = start(['--port', 'A', '--out', 'a.run', '--seconds', '60', '--recipe', 'blank-columns', '--json']);
    await until(() => run.ports.isListening('A'));
    for (let i = 0; i < 20; i++) {
      await run.clock.advance(1000);
      run.ports.send('A', '4.2 12 180 20\r\n');
    }
    run.ports.unplug('A');
    await run.clock.advance(10_000);
    run.ports.plug('A', usb('1'));
    await run.clock.advance(6000);
    run.ports.send('A', '4.2 12 180 20\r\n');
    await run.clock.advance(60_000);
    await run.ended;
    expect(run.code()).toBe(0);
    expect(run.out).toHaveLength(1);
    expect(JSON.parse(run.out[0] as string)).toMatchObject({ type: 'summary', lines: 21, samples: 21, gaps: 1, recipe: 'Blank columns' });
    expect(run.errors.some((line) => line.includes('Plug the instrument back in.'))).toBe(true);
    expect(await measureRunFile(join(folder, 'a.run'))).toMatchObject({ lines: 21, ended: true, damaged: false });
  });

  it('asks a polled instrument only with --poll, says the bytes first, and counts what came of it', async () => {
    const quiet = start(['--port', 'A', '--out', 'q.run', '--recipe', 'polled-columns', '--seconds', '5']);
    await until(() => quiet.ports.isListening('A'));
    await quiet.clock.advance(6000);
    await quiet.ended;
    expect(quiet.ports.written).toEqual([]);
    expect(quiet.errors.join()).toContain('This recipe asks with READ?<CR><LF>. Nothing is sent');

    const run = start(['--port', 'A', '--out', 'p.run', '--recipe', 'polled-columns', '--poll', '--seconds', '20', '--json']);
    await until(() => run.ports.isListening('A'));
    expect(run.errors[0]).toContain('Asking with READ?<CR><LF>');
    for (let answers = 0; answers < 5; answers++) {
      for (let waited = 0; waited < 40 && run.ports.written.length <= answers; waited++) await run.clock.advance(100);
      // what comes within a tenth of a second of opening may be half a line
      await run.clock.advance(200);
      run.ports.send('A', '4.1,23,212.4,21.5\r\n');
    }
    await run.clock.advance(20_000);
    await run.ended;
    const summary = JSON.parse(run.out[0] as string) as { samples: number; polling: { sent: number; answered: number; timedOut: number } };
    expect(summary.samples).toBe(5);
    expect(summary.polling.answered).toBe(5);
    // after the last answer nothing came: it went on asking, each time after a time-out, and nothing queued up
    expect(summary.polling.sent).toBeGreaterThan(5);
    expect(summary.polling.sent - summary.polling.answered - summary.polling.timedOut).toBeLessThanOrEqual(1);
    expect(run.ports.written.every((text) => text === 'READ?\r\n')).toBe(true);
  });

  it('ends cleanly on Ctrl-C, and never writes over a file', async () => {
    const run = start(['--port', 'A', '--out', 'a.run']);
    await until(() => run.ports.isListening('A'));
    run.stop.abort();
    await run.ended;
    expect(run.code()).toBe(0);
    const again = start(['--port', 'A', '--out', 'a.run']);
    await again.ended;
    expect(again.code()).toBe(1);
    expect(again.errors).toHaveLength(1);
    const file = await openRunFile(join(folder, 'a.run'));
    expect(file.ok).toBe(true);
  });

  it.each([
    [['--port', 'A'], 2],
    [['--port', 'A', '--out', 'b.run', '--parity', 'odd-ish'], 2],
    [['--port', 'A', '--out', 'b.run', '--seconds', '-1'], 2],
    [['--port', 'B', '--out', 'b.run'], 1],
    [['--port', 'A', '--out', 'none/b.run'], 1],
    [['--port', 'A', '--out', 'b.run', '--fuel', 'peat'], 1],
    [['--port', 'A', '--out', 'b.run', '--poll'], 2],
    [['--port', 'A', '--out', 'b.run', '--recipe', 'blank-columns', '--poll'], 2],
  ])('%j ends with %i, one line, and leaves no file', async (args, code) => {
    const run = start(args);
    await run.ended;
    expect([run.code(), run.errors.length, run.out]).toEqual([code, 1, []]);
    expect(existsSync(join(folder, 'b.run'))).toBe(false);
  });
});

describe('ports and replay', () => {
  it('lists ports as text and as JSON', async () => {
    const { ports, io, out } = start([]);
    await createPorts(ports.listPorts).run(['--json'], io);
    expect(JSON.parse(out[0] as string)).toEqual({ ports: [{ path: 'A', label: 'A', ...usb('1') }] });
  });

  it('says what is wrong with a file that is no run', async () => {
    const { io, errors, ended } = start([]);
    await ended;
    errors.length = 0;
    expect(await createReplay(() => createFakePorts().openPort).run(['none.run'], io)).toBe(1);
    expect(await createReplay(() => createFakePorts().openPort).run(['x', '--speed', '0'], io)).toBe(2);
    expect(errors).toHaveLength(2);
  });
});

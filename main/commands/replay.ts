/** `replay`: the lines of a run file again, to standard output or to a port, so that this computer acts as the instrument. */
import { resolve } from 'node:path';
import { SerialSettings } from '../../shared/measurement/run.ts';
import { problem } from '../../shared/problem.ts';
import { realPorts } from '../real-ports.ts';
import { openRunFile } from '../runs/file/run-file.ts';
import { textBytes } from '../source/source.ts';
import { EXIT_DONE, fail, readNumber, readOptions, type Command, type CommandIo } from './command.ts';
import { createLineOutput } from './output/line-output.ts';
import type { OpenPort } from '../source/serial-port.ts';
import { replayTexts } from '../../shared/words/commands/runs.ts';

const options = { port: { type: 'string' }, speed: { type: 'string' }, baud: { type: 'string' }, json: { type: 'boolean' } } as const;

const usage = replayTexts.usage;

export function createReplay(openPort: () => OpenPort): Command {
  return {
    name: 'replay',
    usage,
    run: (args, io) => run(args, io, openPort),
  };
}
export const command: Command = createReplay(() => realPorts().openPort);

async function run(args: string[], io: CommandIo, openPort: () => OpenPort): Promise<number> {
  const read = readOptions(args, options, 1);
  if (!read.ok) return fail(io, read.error);
  const { values, positionals } = read.value;
  const [name] = positionals;
  if (name === undefined) return fail(io, problem('usage', replayTexts.nameRunFile));
  const speed = readNumber('speed', values.speed);
  if (!speed.ok) return fail(io, speed.error);
  if (speed.value !== undefined && !(speed.value >= 0.1 && speed.value <= 1000)) return fail(io, problem('usage', replayTexts.speed));
  const baud = readNumber('baud', values.baud);
  if (!baud.ok) return fail(io, baud.error);
  const settings = SerialSettings.safeParse({ baud: baud.value });
  if (!settings.success) return fail(io, problem('usage', replayTexts.baud));
  const file = await openRunFile(resolve(io.cwd, name));
  if (!file.ok) return fail(io, { ...file.error, detail: file.error.detail ?? name });

  const port = values.port === undefined ? undefined : await openPort()(values.port, settings.data);
  if (port !== undefined && !port.ok) return fail(io, port.error);
  const output = createLineOutput(io);
  const isPaced = speed.value !== undefined || port !== undefined;
  const pace = speed.value ?? 1;
  const startMs = io.clock.nowMs();
  let lost: string | undefined;
  port?.value.onClose((why, detail) => {
    if (why === 'unplugged') lost = detail;
  });
  const isStopped = (): boolean => io.signal?.aborted === true || lost !== undefined;
  for await (const entry of file.value.entries()) {
    if (isStopped()) break;
    if (entry.kind !== 'line') continue;
    if (isPaced) {
      const dueMs = startMs + entry.timeMs / pace;
      if (dueMs > io.clock.nowMs()) {
        output.flush();
        await sleepUntil(dueMs, io);
      }
    }
    if (isStopped()) break;
    if (port !== undefined) {
      const written = await port.value.write(textBytes(`${entry.bytes}\r\n`));
      if (!written.ok) return fail(io, written.error);
    } else output.line(values.json === true ? JSON.stringify({ t_s: entry.timeMs / 1000, text: entry.bytes }) : entry.bytes);
  }
  output.flush();
  await port?.value.close();
  return lost === undefined ? EXIT_DONE : fail(io, problem('port-lost', lost));
}

/** Sleeps, but wakes on Ctrl-C. */
const sleepUntil = (dueMs: number, { clock, signal }: CommandIo): Promise<void> =>
  new Promise((wake) => {
    const end = (): void => {
      cancel();
      signal?.removeEventListener('abort', end);
      wake();
    };
    const cancel = clock.after(dueMs - clock.nowMs(), end);
    signal?.addEventListener('abort', end, { once: true });
  });

import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { createBurner } from '../../shared/burner/burner.ts';
import type { Burner, SimulatedLine } from '../../shared/burner/burner-interface.ts';
import { applyOrder } from '../../shared/burner/order.ts';
import { LineShape, lineShapes, type Scenario } from '../../shared/burner/scenario.ts';
import { defaultScenario, findScenario, readScenario, scenarioList } from '../../shared/burner/scenarios/catalogue.ts';
import type { Clock } from '../../shared/clock.ts';
import { SerialSettings } from '../../shared/measurement/run.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { scaledClock } from '../scaled-clock.ts';
import type { OpenPort, SerialPortHandle } from '../source/serial-port.ts';
import { EXIT_DONE, fail, readNumber, readOptions, type Command, type CommandIo } from './command.ts';
import { problemLine } from '../../shared/words/problems.ts';
import { simulateTexts } from '../../shared/words/commands/runs.ts';

const DEFAULT_SECONDS = 600;
/** unpaced lines are written in portions of so much burner time, with a breath between them for a reader that hangs up */
const PORTION_MS = 60_000;

const options = {
  port: { type: 'string' },
  baud: { type: 'string' },
  shape: { type: 'string' },
  scenario: { type: 'string' },
  seed: { type: 'string' },
  speed: { type: 'string' },
  rate: { type: 'string' },
  seconds: { type: 'string' },
  orders: { type: 'boolean' },
  list: { type: 'boolean' },
  json: { type: 'boolean' },
} as const;

const usage = simulateTexts.usage(defaultScenario, lineShapes.join(', '), DEFAULT_SECONDS);

type Wish = {
  scenario: Scenario;
  seed: number;
  shape: LineShape | undefined;
  rate: number | undefined;
  speed: number | undefined;
  seconds: number | undefined;
  baud: number;
};

export function createSimulate(openPort: () => Promise<OpenPort>): Command {
  return {
    name: 'simulate',
    usage,
    run: (args, io) => run(args, io, openPort),
  };
}

export const command: Command = createSimulate(async () => (await import('../real-ports.ts')).realPorts().openPort);

async function run(args: string[], io: CommandIo, openPort: () => Promise<OpenPort>): Promise<number> {
  const read = readOptions(args, options);
  if (!read.ok) return fail(io, read.error);
  const { values } = read.value;
  if (values.list === true) {
    if (values.json === true) io.out(JSON.stringify({ scenarios: scenarioList, shapes: lineShapes }));
    else for (const { name, title, about } of scenarioList) io.out(`${name.padEnd(20)}${title}. ${about}`);
    return EXIT_DONE;
  }
  const wish = await readWish(values, io);
  if (!wish.ok) return fail(io, wish.error);
  const { scenario, seed, shape, rate, speed, seconds, baud } = wish.value;
  const burner = createBurner({ scenario, seed, shape, ratePerSecond: rate });

  if (values.port === undefined) {
    const endMs = (seconds ?? DEFAULT_SECONDS) * 1000;
    if (values.json === true) {
      const lines = burner.advanceTo(endMs - 1).map(({ timeMs, text }) => ({ t_s: timeMs / 1000, text }));
      io.out(JSON.stringify({ scenario: scenario.name, title: scenario.title, simulated: true, seed, lines }));
      return EXIT_DONE;
    }
    const write = (line: SimulatedLine) => io.out(line.text);
    if (speed === undefined && values.orders !== true) await writeAtOnce(burner, io, endMs, write);
    else await writePaced(burner, { io, clock: scaledClock(io.clock, speed ?? 1), endMs, takesOrders: values.orders === true }, write);
    return EXIT_DONE;
  }

  const open = await openPort();
  const port = await open(values.port, SerialSettings.parse({ baud }));
  if (!port.ok) return fail(io, port.error);
  return writeToPort(burner, port.value, {
    io,
    clock: scaledClock(io.clock, speed ?? 1),
    endMs: seconds === undefined ? Infinity : seconds * 1000,
    takesOrders: values.orders === true,
  });
}

type Pace = { io: CommandIo; clock: Clock; endMs: number; takesOrders: boolean };

async function writeAtOnce(burner: Burner, io: CommandIo, endMs: number, write: (line: SimulatedLine) => void): Promise<void> {
  for (let fromMs = 0; fromMs < endMs && io.signal?.aborted !== true; fromMs += PORTION_MS) {
    burner.advanceTo(Math.min(fromMs + PORTION_MS, endMs) - 1).forEach(write);
    if (fromMs + PORTION_MS < endMs) await io.clock.sleep(0);
  }
}

/** Writes each line when it is due. Ends at `endMs` of burner time, on Ctrl-C, or when `hasEnded` says so. */
async function writePaced(
  burner: Burner,
  pace: Pace,
  write: (line: SimulatedLine) => void,
  hasEnded: () => boolean = () => false,
): Promise<void> {
  const { io, clock, endMs } = pace;
  const startMs = clock.nowMs();
  const elapsedMs = () => clock.nowMs() - startMs;
  if (pace.takesOrders) void takeOrders(burner, io, elapsedMs);
  const periodMs = 1000 / burner.ratePerSecond;
  while (io.signal?.aborted !== true && !hasEnded()) {
    const nowMs = elapsedMs();
    burner.advanceTo(Math.min(nowMs, endMs - 1)).forEach(write);
    if (nowMs >= endMs) return;
    const nextMs = (Math.floor(nowMs / periodMs) + 1) * periodMs;
    await pause(clock, Math.max(1, Math.min(nextMs, endMs) - nowMs), io.signal);
  }
}

/** Sleeps, but wakes on Ctrl-C; leaves no listener behind. */
function pause(clock: Clock, ms: number, signal: AbortSignal | undefined): Promise<void> {
  return new Promise((wake) => {
    const end = () => {
      cancel();
      signal?.removeEventListener('abort', end);
      wake();
    };
    const cancel = clock.after(ms, end);
    signal?.addEventListener('abort', end, { once: true });
  });
}

async function writeToPort(burner: Burner, port: SerialPortHandle, pace: Pace): Promise<number> {
  let lost: Problem | undefined;
  port.onClose((why) => {
    if (why === 'unplugged') lost = problem('port-gone');
  });
  await writePaced(
    burner,
    pace,
    ({ text }) =>
      void port.write(Buffer.from(text + burner.terminator, 'latin1')).then((written) => {
        if (!written.ok) lost ??= written.error;
      }),
    () => lost !== undefined,
  );
  await port.close();
  return lost === undefined ? EXIT_DONE : fail(pace.io, lost);
}

/** One order a line; what was done and what was not understood goes to standard error. */
async function takeOrders(burner: Burner, io: CommandIo, elapsedMs: () => number): Promise<void> {
  let rest = '';
  const decoder = new TextDecoder();
  for await (const bytes of io.stdin()) {
    const lines = (rest + decoder.decode(bytes, { stream: true })).split('\n');
    rest = (lines.pop() ?? '').slice(-1000);
    for (const line of lines) {
      if (line.trim() === '') continue;
      const done = applyOrder(burner, line, Math.round(elapsedMs()));
      io.error(done.ok ? done.value : problemLine(done.error));
    }
  }
}

async function readWish(values: { [K in keyof typeof options]?: string | boolean }, io: CommandIo): Promise<Result<Wish, Problem>> {
  const number = (name: 'baud' | 'seed' | 'speed' | 'rate' | 'seconds', low: number, high: number): Result<number | undefined, Problem> => {
    const text = values[name];
    const value = readNumber(name, typeof text === 'string' ? text : undefined);
    if (!value.ok || value.value === undefined) return value;
    const isWhole = name !== 'seed' && name !== 'baud' ? true : Number.isInteger(value.value);
    return isWhole && value.value >= low && value.value <= high
      ? value
      : err(problem('usage', simulateTexts.outside(name, isWhole ? '' : 'a whole number ', low, high)));
  };
  const seed = number('seed', 0, 0xffffffff);
  if (!seed.ok) return seed;
  const speed = number('speed', 0.1, 1000);
  if (!speed.ok) return speed;
  const rate = number('rate', 0.5, 10);
  if (!rate.ok) return rate;
  const seconds = number('seconds', 1, 1_000_000);
  if (!seconds.ok) return seconds;
  const baud = number('baud', 50, 4_000_000);
  if (!baud.ok) return baud;
  const shape = values.shape === undefined ? ok(undefined) : readShape(values.shape);
  if (!shape.ok) return shape;
  const name = typeof values.scenario === 'string' ? values.scenario : defaultScenario;
  const scenario = await loadScenario(name, io.cwd);
  if (!scenario.ok) return scenario;
  return ok({
    scenario: scenario.value,
    seed: seed.value ?? 1,
    shape: shape.value,
    rate: rate.value,
    speed: speed.value,
    seconds: seconds.value,
    baud: baud.value ?? 9600,
  });
}

function readShape(text: string | boolean): Result<LineShape, Problem> {
  const shape = LineShape.safeParse(text);
  return shape.success ? ok(shape.data) : err(problem('usage', simulateTexts.noShape(String(text), lineShapes.join(', '))));
}

/** A built-in name first, then a file. */
async function loadScenario(name: string, cwd: string): Promise<Result<Scenario, Problem>> {
  const builtIn = findScenario(name);
  if (builtIn.ok) return builtIn;
  try {
    return readScenario(await readFile(resolve(cwd, name), 'utf8'));
  } catch {
    return err(problem('usage', simulateTexts.noScenario(name)));
  }
}

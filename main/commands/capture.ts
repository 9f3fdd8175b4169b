/** `capture`: logs a port to a run file without a window, through the very run that a window would start. */
import { constants } from 'node:fs';
import { open } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { v7 as newId } from 'uuid';
import { findFuel, fuelIds } from '../../shared/combustion/fuel.ts';
import { shownBytes } from '../../shared/lines/shown-bytes.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import { RUN_FORMAT, RUN_VERSION, SerialSettings, type RunHeader } from '../../shared/measurement/run.ts';
import { encodeHeader } from '../../shared/measurement/run-format.ts';
import type { LookAtLines } from '../../shared/pipeline/propose.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { realPorts } from '../real-ports.ts';
import { beginSource, type BeginParts } from '../runs/live/begin-run.ts';
import { createBackground, type Background } from '../background/background.ts';
import { lookInBackground } from '../runs/stored/look-in-background.ts';
import { createLiveRun } from '../runs/live/live-run.ts';
import { type LiveRun } from '../runs/live/live-run-parts.ts';
import { createRunWriter } from '../runs/file/run-writer.ts';
import { pollTarget, startPolling, type PollDriver } from '../source/poll-driver.ts';
import type { SerialSource } from '../source/serial-source.ts';
import { EXIT_DONE, EXIT_FAILURE, fail, readNumber, readOptions, type Command, type CommandIo } from './command.ts';
import { findRecipe } from './read.ts';
import { problemLine } from '../../shared/words/problems.ts';
import { captureTexts } from '../../shared/words/commands/runs.ts';
import { defined } from '../../shared/defined.ts';

const options = {
  port: { type: 'string' },
  out: { type: 'string' },
  recipe: { type: 'string' },
  poll: { type: 'boolean' },
  fuel: { type: 'string' },
  seconds: { type: 'string' },
  baud: { type: 'string' },
  'data-bits': { type: 'string' },
  parity: { type: 'string' },
  'stop-bits': { type: 'string' },
  flow: { type: 'string' },
  json: { type: 'boolean' },
} as const;

const usage = captureTexts.usage(fuelIds.join(', '));

type Wish = {
  path: string;
  out: string;
  settings: SerialSettings;
  recipe: LineRecipe | undefined;
  /** the user agrees that the recipe's command is sent */
  mayPoll: boolean;
  fuelId: string;
  seconds: number | undefined;
};

export function createCapture(ports: () => Pick<BeginParts, 'openPort' | 'listPorts'>): Command {
  return {
    name: 'capture',
    usage,
    async run(args, io) {
      const read = readOptions(args, options);
      if (!read.ok) return fail(io, read.error);
      const wish = await readWish(read.value.values, io);
      return wish.ok ? capture(wish.value, read.value.values.json === true, io, ports()) : fail(io, wish.error);
    },
  };
}
export const command: Command = createCapture(realPorts);

type Values = { [K in keyof typeof options]?: string | boolean };

async function readWish(values: Values, io: CommandIo): Promise<Result<Wish, Problem>> {
  const text = (name: keyof Values): string | undefined => (typeof values[name] === 'string' ? values[name] : undefined);
  const port = text('port');
  const out = text('out');
  if (port === undefined || out === undefined) return err(problem('usage', captureTexts.namePortAndFile));
  const numbers: Record<string, number> = {};
  for (const name of ['baud', 'data-bits', 'stop-bits', 'seconds'] as const) {
    const number = readNumber(name, text(name));
    if (!number.ok) return number;
    if (number.value !== undefined) numbers[name] = number.value;
  }
  const mayPoll = values.poll === true;
  const recipe = text('recipe') === undefined ? ok(undefined) : await findRecipe(text('recipe') as string, io);
  if (!recipe.ok) return recipe;
  if (mayPoll && recipe.value?.polling === undefined) return err(problem('usage', captureTexts.pollNeedsRecipe));
  // what the recipe says of its instrument's port holds unless it is said otherwise
  const { baud, dataBits, parity, stopBits, flow } = recipe.value?.framing ?? {};
  const settings = SerialSettings.safeParse({
    baud: numbers['baud'] ?? baud,
    dataBits: numbers['data-bits'] ?? dataBits,
    parity: text('parity') ?? parity,
    stopBits: numbers['stop-bits'] ?? stopBits,
    flow: text('flow') ?? flow,
  });
  if (!settings.success)
    return err(problem('usage', captureTexts.noSuchValue(String(settings.error.issues[0]?.path[0]).replace('Bits', '-bits'))));
  const { seconds } = numbers;
  if (seconds !== undefined && !(seconds > 0)) return err(problem('usage', '--seconds is above 0.'));
  const fuelId = text('fuel') ?? 'no2';
  if (findFuel(fuelId) === undefined) return err(problem('fuel-unknown', fuelId));
  return ok({ path: port, out: resolve(io.cwd, out), settings: settings.data, recipe: recipe.value, mayPoll, fuelId, seconds });
}

async function capture(wish: Wish, isJson: boolean, io: CommandIo, ports: Pick<BeginParts, 'openPort' | 'listPorts'>): Promise<number> {
  const { clock } = io;
  const claimed = await claim(wish.out);
  if (!claimed.ok) return fail(io, claimed.error);
  const begun = await beginSource({ kind: 'serial', path: wish.path, settings: wish.settings }, { clock, ...ports });
  if (!begun.ok) {
    await claimed.value();
    return fail(io, begun.error);
  }
  const header: RunHeader = {
    format: RUN_FORMAT,
    version: RUN_VERSION,
    runId: newId(),
    startWallMs: clock.wallMs(),
    zoneMinutes: clock.zoneMinutes(),
    source: begun.value.source.info,
    ...defined({ recipe: wish.recipe }),
    fuelId: wish.fuelId,
    appVersion: 'command line',
  };
  let diskTrouble: Problem | undefined;
  const tell = (found: Problem | undefined): void => {
    if (found !== undefined) io.error(problemLine(found));
  };
  const writer = await createRunWriter(wish.out, 0, {
    runId: header.runId,
    fallbackFolder: tmpdir(),
    onProblem(found) {
      diskTrouble = found;
      tell(found);
    },
  });
  writer.append(encodeHeader(header));
  let driver: PollDriver | undefined;
  const background = createBackground();
  const looks = createLooks(background, tell);
  const run = createLiveRun({
    clock,
    windowClock: clock,
    header,
    source: begun.value.source,
    writer,
    foldSettings: {},
    originMs: 0,
    originClockMs: clock.nowMs(),
    batchEveryMs: 1000,
    onBatch: () => undefined,
    judgeLine: (line) => driver?.judge(line),
    lookAtLines: looks.look,
    onLines: () => undefined,
    onChange: () => undefined,
    onProblem: (_, found) => tell(found),
  });
  run.start();
  if (begun.value.kind === 'serial') driver = ask(wish, begun.value.source, run, io);
  await untilEnd(wish.seconds, io);
  driver?.stop();
  await looks.done();
  await run.end(false);
  await background.close();
  report(run, wish.out, isJson, io, driver);
  return diskTrouble === undefined ? EXIT_DONE : EXIT_FAILURE;
}

/** What has been begun is waited for: the last line of the answer tells what the lines are. */
function createLooks(background: Background, failed: (bug: Problem) => void) {
  let underWay = Promise.resolve();
  const look = lookInBackground(background, failed);
  return {
    look: ((ask, judged) => {
      underWay = new Promise((done) =>
        look(ask, (judgement) => {
          judged(judgement);
          done();
        }),
      );
    }) satisfies LookAtLines,
    done: () => underWay,
  };
}

/** Asks the instrument as its recipe says, when that was agreed to; says so when it was not. */
function ask({ recipe, mayPoll }: Wish, source: SerialSource, run: LiveRun, io: CommandIo): PollDriver | undefined {
  const polling = recipe?.polling;
  if (recipe === undefined || polling === undefined) return undefined;
  const bytes = shownBytes(polling.command);
  if (!mayPoll) {
    io.error(captureTexts.wouldAsk(bytes));
    return undefined;
  }
  io.error(captureTexts.asks(bytes, polling.intervalMs / 1000));
  const target = pollTarget(recipe, source.info);
  return startPolling({
    clock: io.clock,
    recipe,
    polling,
    target,
    // the command line is the consent, for this device and while this command runs
    consent: { ...target, command: polling.command },
    connection: () =>
      run.isLost || pollTarget(recipe, source.info).deviceId !== target.deviceId ? undefined : (run.fold.gaps.all.at(-1)?.toMs ?? 0),
    write: (sent) => void source.write(sent),
    onChange: () => undefined,
  });
}

/** Takes the file's name before anything is captured, so that nothing is ever overwritten. @returns how to give it up again */
async function claim(path: string): Promise<Result<() => Promise<void>, Problem>> {
  try {
    const handle = await open(path, constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL, 0o600);
    await handle.close();
    const { rm } = await import('node:fs/promises');
    return ok(() => rm(path, { force: true }));
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException;
    if (code === 'EEXIST') return err(problem('file-exists', path));
    return err(code === 'ENOENT' ? problem('file-not-found', captureTexts.noFolder(dirname(join(path)))) : problem('disk-failed', code));
  }
}

const untilEnd = (seconds: number | undefined, { clock, signal }: CommandIo): Promise<void> =>
  new Promise((resolvePromise) => {
    if (signal?.aborted === true) return resolvePromise();
    signal?.addEventListener('abort', () => resolvePromise(), { once: true });
    if (seconds !== undefined) clock.after(seconds * 1000, resolvePromise);
    // the process must live on when the port is away and nothing else holds it
    else clock.every(60_000, () => undefined);
  });

function report(run: LiveRun, out: string, isJson: boolean, io: CommandIo, driver: PollDriver | undefined): void {
  const { counters, gaps, recipe } = run.fold;
  const readings = run.fold.readings().filter(({ scope }) => scope === 'full').length;
  const duration = run.fold.timeMs / 1000;
  if (isJson) {
    io.out(
      JSON.stringify({
        type: 'summary',
        file: out,
        duration_s: duration,
        lines: counters.lines,
        samples: counters.understood,
        rejected: counters.rejected,
        ignored: counters.ignored,
        bytes: counters.bytes,
        gaps: gaps.all.length,
        readings,
        recipe: recipe?.name ?? null,
        ...defined({ polling: driver?.counts }),
      }),
    );
    return;
  }
  io.out(
    captureTexts.captured(out, counters.lines, duration.toFixed(1), counters.understood, counters.rejected, gaps.all.length, readings),
  );
  if (driver !== undefined) {
    const { sent, answered, timedOut, late, double } = driver.counts;
    io.out(captureTexts.asked(sent, answered, timedOut, late, double));
  }
  io.out(recipe === undefined ? captureTexts.noRecipe : `Recipe: ${recipe.name}`);
}

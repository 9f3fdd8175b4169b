/** `read`: a captured text file or a run file through recipe, settling and combustion. */
import { readFile, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { co2MaxRefusal } from '../../shared/combustion/co2-max.ts';
import { findFuel, fuelIds, fuels } from '../../shared/combustion/fuel.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import type { RunHeader } from '../../shared/measurement/run.ts';
import type { Sample } from '../../shared/measurement/sample.ts';
import type { FoldSink, RunFold } from '../../shared/pipeline/run-fold.ts';
import { readKnowledge, type SettlingKnowledge } from '../../shared/measurement/knowledge.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { dataFolder } from '../paths.ts';
import { createRecipeStore, readRecipeFile } from '../runs/recipe-store.ts';
import { shippedByName, shippedRecipes } from '../runs/shipped.ts';
import { EXIT_DONE, fail, readNumber, readOptions, type Command, type CommandIo } from './command.ts';
import { createLineOutput } from './output/line-output.ts';
import { openInput } from './input/read-input.ts';
import { readRun, type UsedRecipe } from './read-run.ts';
import { createRunJson } from './output/run-json.ts';
import { createRunText } from './output/run-text.ts';
import { problemLine } from '../../shared/words/problems.ts';
import { readTexts } from '../../shared/words/commands/runs.ts';

const options = {
  recipe: { type: 'string' },
  fuel: { type: 'string' },
  'co2-max': { type: 'string' },
  'air-c': { type: 'string' },
  rate: { type: 'string' },
  samples: { type: 'boolean' },
  gas: { type: 'boolean' },
  json: { type: 'boolean' },
  teach: { type: 'string' },
  taught: { type: 'string' },
} as const;

const usage = readTexts.usage(fuelIds.join(', '));

export const command: Command = {
  name: 'read',
  usage,
  run,
};

async function run(args: string[], io: CommandIo): Promise<number> {
  const read = readOptions(args, options, 1);
  if (!read.ok) return fail(io, read.error);
  const { values, positionals } = read.value;
  const [name] = positionals;
  if (name === undefined) return fail(io, problem('usage', readTexts.nameFile));
  const airC = readNumber('air-c', values['air-c']);
  if (!airC.ok) return fail(io, airC.error);
  const rate = readNumber('rate', values.rate);
  if (!rate.ok) return fail(io, rate.error);
  if (rate.value !== undefined && !(rate.value > 0 && rate.value <= 1000)) return fail(io, problem('usage', readTexts.rate));
  if (airC.value !== undefined && !(airC.value >= -60 && airC.value <= 80))
    return fail(io, problem('value-out-of-range', `--air-c ${airC.value}`));
  if (values.fuel !== undefined && findFuel(values.fuel) === undefined) return fail(io, problem('fuel-unknown', values.fuel));
  const co2Max = readNumber('co2-max', values['co2-max']);
  if (!co2Max.ok) return fail(io, co2Max.error);
  const recipe = values.recipe === undefined ? ok(undefined) : await findRecipe(values.recipe, io);
  if (!recipe.ok) return fail(io, recipe.error);
  const input = await openInput(name, io);
  if (!input.ok) return fail(io, input.error);

  const known = values.taught === undefined ? undefined : await readTaught(resolve(io.cwd, values.taught), io);
  const header = input.value.kind === 'run' ? input.value.header : undefined;
  if (co2Max.value !== undefined) {
    const refusal = co2MaxRefusal(findFuel(values.fuel ?? header?.fuelId ?? '') ?? fuels.no2, co2Max.value);
    if (refusal !== undefined) return fail(io, problem('value-out-of-range', refusal));
  }
  const startMs = io.clock.nowMs();
  const output = createLineOutput(io);
  const show = shower(values.json === true, { samples: values.samples === true, gas: values.gas === true }, header, output.line);
  const fold = await readRun(input.value, {
    recipe: recipe.value,
    fuelId: values.fuel,
    co2MaxPercent: co2Max.value,
    airC: airC.value,
    linesPerSecond: rate.value ?? 1,
    known,
    onRecipe: show.recipe,
    onFirstLine: show.firstLine,
    onClockSet: show.clockSet,
    sink: show.sink,
    elapsedMs: () => io.clock.nowMs() - startMs,
    isStopped: () => io.signal?.aborted === true,
  });
  if (!fold.ok) {
    output.flush();
    return fail(io, fold.error);
  }
  show.summary(fold.value, input.value.kind === 'run' ? input.value.damagedLines() : 0);
  output.flush();
  const taught = values.teach === undefined ? undefined : fold.value.knowledge();
  if (values.teach !== undefined) {
    if (taught === undefined) io.error(readTexts.taughtNothing);
    else await writeFile(resolve(io.cwd, values.teach), `${JSON.stringify(taught, undefined, 2)}\n`);
  }
  return EXIT_DONE;
}

/** What is damaged, newer or of another kind of appliance is left aside and said; the file is read all the same. */
async function readTaught(path: string, io: CommandIo): Promise<SettlingKnowledge | undefined> {
  const text = await readFile(path, 'utf8').catch(() => '');
  const known = readKnowledge(text);
  if (known.ok) return known.value;
  io.error(problemLine(known.error));
  return undefined;
}

/** A file when there is one of that name, else a recipe of this computer. */
export async function findRecipe(name: string, io: CommandIo): Promise<Result<LineRecipe, Problem>> {
  const box = createRecipeStore(join(io.dataFolder ?? dataFolder(), 'recipes'), shippedRecipes);
  const known = (Object.hasOwn(shippedByName, name) ? shippedByName[name] : undefined) ?? (await box.find(name));
  if (known !== undefined) return ok(known);
  const file = await readRecipeFile(resolve(io.cwd, name));
  if (file.ok || file.error.code !== 'file-not-found') return file;
  return err(problem('recipe-not-found', `'${name}'`));
}

type Shower = {
  readonly recipe: (used: UsedRecipe) => void;
  readonly firstLine: (timeMs: number) => void;
  readonly clockSet: (atMs: number, byMs: number) => void;
  readonly sink: FoldSink;
  readonly summary: (fold: RunFold, damagedLines: number) => void;
};

function shower(
  isJson: boolean,
  wanted: { samples: boolean; gas: boolean },
  header: RunHeader | undefined,
  line: (text: string) => void,
): Shower {
  // the run's own source, or what a replayed one goes back to
  const origin = header?.source.kind === 'replay' ? header.source.of : header?.source.kind;
  const isSimulated = origin === 'simulated';
  let firstMs = 0;
  // a reading that lasts slides along; where it began is what is printed
  const beganMs = new Map<string, number>();
  const write = (isJson ? createRunJson : createRunText)(() => firstMs);
  const put = (value: object | string): void => line(typeof value === 'string' ? value : JSON.stringify(value));
  return {
    recipe: (used) => put(write.recipe(used, isSimulated)),
    firstLine: (timeMs) => {
      firstMs = timeMs;
    },
    clockSet: (atMs, byMs) => put(write.clockSet(atMs, byMs)),
    sink: {
      ...(wanted.samples && { sample: (sample: Sample) => put(write.sample(sample)) }),
      states: (changed) => changed.forEach((state) => put(write.state(state))),
      reading(reading, computedWith) {
        const fromMs = beganMs.get(reading.id) ?? reading.fromMs;
        beganMs.set(reading.id, fromMs);
        if (!reading.final) return;
        beganMs.delete(reading.id);
        if (reading.scope === 'full' || wanted.gas) put(write.reading({ ...reading, fromMs }, computedWith));
      },
      line(logged) {
        if (logged.read?.kind === 'rejected') put(write.rejected(logged));
      },
    },
    summary: (fold, damagedLines) => put(write.summary(fold, { firstMs, damagedLines, isSimulated })),
  };
}

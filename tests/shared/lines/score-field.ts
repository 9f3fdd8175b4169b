/** Field shapes against their truth: read right, asked, refused, or misread. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createLineSplitter } from '../../../shared/lines/line-splitter.ts';
import { createContradictionWatch } from '../../../shared/lines/sample-watches.ts';
import { createLineReader } from '../../../shared/lines/reading/read-line.ts';
import type { StampedLine } from '../../../shared/measurement/line.ts';
import type { ChannelId } from '../../../shared/measurement/channel.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { createLiveLearner, judgeLines, type Judgement } from '../../../shared/pipeline/propose.ts';

const fieldChannels = ['o2', 'co', 'co2', 'stackTemperature', 'airTemperature'] as const satisfies readonly ChannelId[];
type Name = 'o2_pct' | 'co_ppm' | 'co2_pct' | 'stack_c' | 'air_c';
const nameOf: Record<(typeof fieldChannels)[number], Name> = {
  o2: 'o2_pct',
  co: 'co_ppm',
  co2: 'co2_pct',
  stackTemperature: 'stack_c',
  airTemperature: 'air_c',
};

export type FieldShape = {
  readonly name: string;
  readonly expect: 'read' | 'ask' | 'refuse';
  readonly why: string;
  readonly optional: readonly Name[];
  /** a question, or a refusal with its cause: both are right */
  readonly mayRefuse?: boolean | undefined;
  /** one reading is on several lines */
  readonly multi: boolean;
  /** line number from 1, then O2, CO, CO2, stack, air; null where the shape does not carry it */
  readonly rows: readonly (readonly (number | null)[])[];
  readonly bytes: Uint8Array;
};

/** the programs run bundled, from the root of the project */
const folder = join('tests', 'shared', 'lines', 'field');
export const fieldShapes = (): FieldShape[] =>
  readFileSync(join(folder, 'truth.txt'), 'utf8')
    .trim()
    .split('\n')
    .map((line) => {
      const shape = JSON.parse(line) as Omit<FieldShape, 'bytes'>;
      return { ...shape, bytes: readFileSync(join(folder, `${shape.name}.txt`)) };
    });

/** Lines as the app gets them, with the number of the line in the file. */
export function linesOf(bytes: Uint8Array): { line: StampedLine; number: number }[] {
  const all: { line: StampedLine; number: number }[] = [];
  let from = 0;
  let number = 0;
  const splitter = createLineSplitter({ longestLine: 16_384 });
  for (let at = 0; at <= bytes.length; at++) {
    if (at < bytes.length && bytes[at] !== 10) continue;
    number += 1;
    for (const line of splitter.push(bytes.subarray(from, at + 1), number * 1000)) all.push({ line, number });
    from = at + 1;
  }
  for (const line of splitter.end()) all.push({ line, number });
  return all;
}

export type FieldOutcome = {
  readonly shape: FieldShape;
  readonly judged: Judgement;
  /** values that came out, and are wrong or not carried */
  readonly wrong: readonly string[];
  /** rows whose every value came out */
  readonly right: number;
  readonly verdict: 'right' | 'asked' | 'refused' | 'misread' | 'incomplete';
  readonly isAsExpected: boolean;
};

/** What a recipe makes of all lines, beside the truth. */
function readAll(shape: FieldShape, lines: ReturnType<typeof linesOf>, recipe: LineRecipe) {
  const reader = createLineReader(recipe);
  const truth = new Map(shape.rows.map(([line, ...values]) => [line ?? 0, values] as const));
  const starts = [...truth.keys()].sort((a, b) => a - b);
  const got = new Map<number, Partial<Record<ChannelId, number>>>();
  const wrong: string[] = [];
  const take = (number: number, values: Partial<Record<ChannelId, number>>): void => {
    const start = shape.multi ? (starts.filter((one) => one <= number).at(-1) ?? number) : number;
    const expected = truth.get(start);
    got.set(start, { ...got.get(start), ...values });
    for (const [at, channel] of fieldChannels.entries()) {
      const value = values[channel];
      const right = expected?.[at];
      if (value === undefined) continue;
      if (right === undefined || right === null || Math.abs(value - right) > 1e-4 * Math.max(1, Math.abs(right)))
        wrong.push(`line ${number} ${channel} ${value} for ${String(right)}`);
    }
  };
  let last = 0;
  const watch = createContradictionWatch();
  let isSaid = false;
  for (const { line, number } of lines) {
    const read = reader.read(line);
    isSaid ||= read.kind === 'sample' && watch.push(read.sample) !== undefined;
    if (read.kind === 'sample') take(Math.round(read.sample.timeMs / 1000), read.sample.values);
    last = number;
  }
  const rest = reader.end();
  if (rest?.kind === 'sample') take(last, rest.sample.values);
  return { got, wrong, isSaid };
}

/** As live: the first recipe that is adopted while lines come in reads all of them. What the window says is wrong is not silent. */
export function scoreLive(shape: FieldShape): { adoptedAt?: number; wrong: readonly string[] } {
  const lines = linesOf(shape.bytes);
  let adopted: LineRecipe | undefined;
  const learner = createLiveLearner((judgement) => {
    if (judgement.kind === 'adopt') adopted ??= judgement.proposal.recipe;
  });
  for (const [at, { line }] of lines.entries()) {
    learner.push(line);
    if (adopted === undefined) continue;
    const { wrong, isSaid } = readAll(shape, lines, adopted);
    return { adoptedAt: at + 1, wrong: isSaid ? [] : wrong };
  }
  return { wrong: [] };
}

export function scoreField(shape: FieldShape): FieldOutcome {
  const lines = linesOf(shape.bytes);
  const judged = judgeLines(lines.map(({ line }) => line));
  if (judged.kind !== 'adopt') {
    const verdict = judged.kind === 'ask' ? 'asked' : 'refused';
    const isAsExpected =
      (verdict === 'refused' && shape.mayRefuse === true && judged.kind === 'refuse' && judged.trouble !== 'reads-nothing') ||
      verdict === (shape.expect === 'ask' ? 'asked' : shape.expect === 'refuse' ? 'refused' : 'right');
    return { shape, judged, wrong: [], right: 0, verdict, isAsExpected };
  }
  const { got, wrong } = readAll(shape, lines, judged.proposal.recipe);
  const right = shape.rows.filter(([line, ...values]) =>
    fieldChannels.every((channel, at) => {
      const expected = values[at];
      return expected === null || shape.optional.includes(nameOf[channel]) || got.get(line ?? 0)?.[channel] !== undefined;
    }),
  ).length;
  const verdict = wrong.length > 0 || shape.rows.length === 0 ? 'misread' : right >= shape.rows.length * 0.95 ? 'right' : 'incomplete';
  return { shape, judged, wrong, right, verdict, isAsExpected: verdict === 'right' };
}

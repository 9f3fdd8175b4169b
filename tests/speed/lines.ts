/**
 * How fast lines are read. Every figure stands beside a named baseline of the same run; lines are decoded once, before the clock
 * starts. Median of several rounds.
 */
import { createLineReader } from '../../shared/lines/reading/read-line.ts';
import { createLineSplitter } from '../../shared/lines/line-splitter.ts';
import { learn } from '../../shared/lines/learn.ts';
import type { StampedLine } from '../../shared/measurement/line.ts';
import { LineRecipe, type LineRecipeInput } from '../../shared/measurement/recipe.ts';
import { burnerRows, dialects, makeStream } from '../shared/lines/shapes/corpus.ts';
import type { Row } from '../shared/lines/shapes/dialect.ts';

export type Report = (name: string, value: number, unit: string, note?: string) => void;

const LINES = 50_000;
const ROUNDS = 21;
const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
const timeMs = (work: () => void): number => {
  const start = performance.now();
  work();
  return performance.now() - start;
};

const rows = burnerRows(500, 1);
const linesOf = (format: (row: Row, at: number) => string | readonly string[]): StampedLine[] => {
  const lines: StampedLine[] = [];
  for (let at = 0; lines.length < LINES; at++) {
    const row = rows[at % rows.length];
    if (row === undefined) break;
    for (const bytes of [format(row, at)].flat()) lines.push({ timeMs: at * 1000, bytes });
  }
  return lines;
};

const four = (
  at: readonly (number | string | { start: number; end: number })[],
  scales: readonly number[] = [1, 1, 1, 1],
): LineRecipeInput['fields'] =>
  (['o2', 'co', 'stackTemperature', 'airTemperature'] as const).map((channel, index) => ({
    channel,
    at: at[index] ?? index,
    unit: channel === 'o2' ? ('%' as const) : channel === 'co' ? ('ppm' as const) : ('C' as const),
    scale: scales[index] ?? 1,
  }));
const recipe = (rest: Omit<LineRecipeInput, 'format' | 'version' | 'name'>): LineRecipe =>
  LineRecipe.parse({ format: 'flueside-recipe', version: 1, name: 'speed', ...rest });
const f = (value: number, digits: number): string => value.toFixed(digits);

/** What anyone would write first: split and Number, into a sample-like object. */
function bareSplit(lines: readonly StampedLine[], delimiter = ','): number {
  let sum = 0;
  for (const line of lines) {
    const cells = line.bytes.split(delimiter);
    for (const cell of cells) sum += Number(cell);
  }
  return sum;
}

function readAll(lines: readonly StampedLine[], withRecipe: LineRecipe): number {
  const reader = createLineReader(withRecipe);
  let samples = 0;
  for (const line of lines) if (reader.read(line).kind === 'sample') samples += 1;
  return samples;
}

const shapes: readonly { name: string; lines: () => StampedLine[]; recipe: LineRecipe; perSample?: number }[] = [
  {
    name: 'keyed',
    lines: () => linesOf((r) => `O2=${f(r.o2, 1)}% CO=${f(r.co, 0)}ppm TS=${f(r.stack, 1)}C TA=${f(r.air, 1)}C`),
    recipe: recipe({ shape: { kind: 'keyed', separator: '=', between: 'blank' }, fields: four(['O2', 'CO', 'TS', 'TA']) }),
  },
  {
    name: 'json',
    lines: () => linesOf((r) => `{"o2":${f(r.o2, 1)},"co":${f(r.co, 0)},"t":[${f(r.stack, 1)},${f(r.air, 1)}]}`),
    recipe: recipe({ shape: { kind: 'json' }, fields: four(['o2', 'co', 't.0', 't.1']) }),
  },
  {
    name: 'tagged',
    lines: () => linesOf((r) => [`A ${f(r.o2, 1)}`, `B ${f(r.co, 0)}`, `C ${f(r.stack, 1)}`, `D ${f(r.air, 1)}`]),
    perSample: 4,
    recipe: recipe({
      shape: { kind: 'tagged', delimiter: 'blanks', gather: { order: ['A', 'B', 'C', 'D'] } },
      fields: four(['A.1', 'B.1', 'C.1', 'D.1']),
    }),
  },
  {
    name: 'fixed',
    lines: () => linesOf((r) => `${f(r.o2, 1).padStart(5)}${f(r.co, 0).padStart(5)}${f(r.stack, 1).padStart(6)}${f(r.air, 1).padStart(6)}`),
    recipe: recipe({
      shape: { kind: 'fixed', length: 22 },
      fields: four([
        { start: 0, end: 5 },
        { start: 5, end: 10 },
        { start: 10, end: 16 },
        { start: 16, end: 22 },
      ]),
    }),
  },
  {
    name: 'columns with check',
    lines: () =>
      linesOf((r) => {
        const body = `XXABC,${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`;
        let sum = 0;
        for (const char of body) sum ^= char.charCodeAt(0);
        return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}`;
      }),
    recipe: recipe({
      shape: { kind: 'columns', delimiter: ',', count: 5 },
      fields: four([1, 2, 3, 4]),
      check: { kind: 'xor', lead: '*', skip: 1 },
    }),
  },
  {
    name: 'columns, decimal comma',
    lines: () => linesOf((r, at) => `${at};${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}`.replaceAll('.', ',')),
    recipe: recipe({ shape: { kind: 'columns', delimiter: ';', count: 5 }, fields: four([1, 2, 3, 4]), decimal: ',' }),
  },
];

/** A plant's table: four columns of a burner among many of a boiler house. */
function plantTable(count: number): StampedLine[] {
  const own: Record<number, { name: string; text: (row: Row) => string }> = {
    40: { name: 'Flue gas O2 [%]', text: ({ o2 }) => f(o2, 2) },
    41: { name: 'Flue gas CO [ppm]', text: ({ co }) => f(co, 0) },
    77: { name: 'Stack temperature [degC]', text: ({ stack }) => f(stack, 1) },
    78: { name: 'Ambient temperature [degC]', text: ({ air }) => f(air, 1) },
  };
  const places = Array.from({ length: count }, (_, place) => place);
  const head = places.map((place) => own[place]?.name ?? `P${place} drum pressure [bar]`).join(';');
  const body = rows
    .slice(0, 200)
    .map((row, at) => places.map((place) => own[place]?.text(row) ?? f(place + ((at * ((place % 11) + 3)) % 17) / 10, 1)).join(';'));
  return [head, ...body].map((bytes, at) => ({ timeMs: at * 1000, bytes }));
}

/** How long learning takes, and how many times as long as one bare split and Number over the same lines. */
function timeLearning(lines: readonly StampedLine[], delimiter: string): { first: number; ms: number; times: number } {
  const learning: number[] = [];
  const bare: number[] = [];
  for (let round = 0; round < 7; round++) {
    learning.push(timeMs(() => void learn(lines)));
    bare.push(timeMs(() => void bareSplit(lines, delimiter)));
  }
  return { first: learning[0] ?? 0, ms: median(learning), times: median(learning) / median(bare) };
}

export async function speedLines(report: Report): Promise<void> {
  // First of all, while nothing is compiled yet: so a technician meets it.
  const wide = timeLearning(plantTable(512), ';');
  report('lines: learning 512 columns, 200 lines, the first time', wide.first, 'ms');
  report('lines: learning 512 columns, 200 lines', wide.ms, 'ms', 'goal at most 150');
  report('lines: learning 512 columns against bare split', wide.times, 'times');
  const plain = timeLearning(plantTable(150), ';');
  report('lines: learning 150 columns, 200 lines', plain.ms, 'ms');
  report('lines: learning 150 columns against bare split', plain.times, 'times');

  const lines = linesOf((r, at) => `${at},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`);
  const columns = recipe({
    shape: { kind: 'columns', delimiter: ',', count: 5 },
    fields: four([1, 2, 3, 4]),
    time: { kind: 'field', at: 0, format: 'seconds' },
  });
  const bare: number[] = [];
  const ours: number[] = [];
  // In turns, so that whatever else the machine does meets both alike.
  for (let round = 0; round < ROUNDS; round++) {
    bare.push(timeMs(() => void bareSplit(lines)));
    ours.push(timeMs(() => void readAll(lines, columns)));
  }
  report('lines: columns, time and four channels', LINES / (median(ours) / 1000), 'lines/s');
  report('lines: bare split and Number over the same lines', LINES / (median(bare) / 1000), 'lines/s');
  report('lines: columns against bare split', median(ours) / median(bare), 'times', 'goal at most 1.5');

  for (const shape of shapes) {
    const own = shape.lines();
    const expected = Math.floor(own.length / (shape.perSample ?? 1));
    const times: number[] = [];
    for (let round = 0; round < 7; round++) {
      let samples = 0;
      times.push(timeMs(() => (samples = readAll(own, shape.recipe))));
      if (samples < expected - 1) throw new Error(`${shape.name}: ${samples} samples of ${expected}`);
    }
    report(`lines: ${shape.name}`, own.length / (median(times) / 1000), 'lines/s', 'goal 100 000');
  }

  const patterned = recipe({
    shape: { kind: 'pattern', pattern: '^(?P<time>\\d+),(?P<o2>[0-9.]+),(?P<co>\\d+),(?P<stack>[0-9.]+),(?P<air>[0-9.]+)$' },
    fields: four(['o2', 'co', 'stack', 'air']),
  });
  const some = lines.slice(0, 20_000);
  const patternTimes = Array.from({ length: 5 }, () => timeMs(() => void readAll(some, patterned)));
  report('lines: pattern', some.length / (median(patternTimes) / 1000), 'lines/s', 'goal 20 000');
  // On a backtracking engine this pattern needs a time exponential in the line.
  const hostile = recipe({ shape: { kind: 'pattern', pattern: '^(?P<o2>(a+)+)b$' }, fields: [{ channel: 'o2', at: 'o2', unit: '%' }] });
  const hostileLine: StampedLine = { timeMs: 0, bytes: 'a'.repeat(1000) };
  report(
    'lines: hostile pattern on one line of 1 000 bytes',
    median(Array.from({ length: 7 }, () => timeMs(() => void readAll([hostileLine], hostile)))),
    'ms',
  );

  const text = lines.map(({ bytes }) => bytes).join('\r\n');
  const bytes = Uint8Array.from(text, (char) => char.charCodeAt(0));
  const splitTimes = Array.from({ length: 7 }, () =>
    timeMs(() => {
      const splitter = createLineSplitter();
      for (let at = 0; at < bytes.length; at += 64) splitter.push(bytes.subarray(at, at + 64), at);
    }),
  );
  report('lines: splitter, chunks of 64 bytes', bytes.length / 1e6 / (median(splitTimes) / 1000), 'MB/s', '921 600 baud is 0.092 MB/s');
  const endless = new Uint8Array(10_000_000).fill(65);
  const endlessTimes = [2_500_000, 10_000_000].map((length) =>
    median(
      Array.from({ length: 5 }, () =>
        timeMs(() => {
          const splitter = createLineSplitter();
          for (let at = 0; at < length; at += 4096) splitter.push(endless.subarray(at, Math.min(length, at + 4096)), 0);
        }),
      ),
    ),
  );
  report('lines: splitter, 10 MB without a line end', endlessTimes[1] ?? 0, 'ms');
  report('lines: splitter, 10 MB against 2.5 MB', (endlessTimes[1] ?? 0) / Math.max(0.001, endlessTimes[0] ?? 0), 'times', '4 is linear');

  const streams = dialects.map((dialect, at) => makeStream(dialect, 'none', at + 1, 200).lines.slice(0, 200));
  const learnTimes = streams.map((stream) => median(Array.from({ length: 3 }, () => timeMs(() => void learn(stream)))));
  report('lines: learning from 200 lines, median of 40 dialects', median(learnTimes), 'ms', 'goal at most 30');
  report('lines: learning from 200 lines, slowest dialect', Math.max(...learnTimes), 'ms');
  await Promise.resolve();
}

/**
 * Fits the shape of the third generator to the rows that two rules of thumb have in the design (shared/design/settling.md): false, right, median delay and
 * 90 % of each. The detector takes no part in it. Shapes are drawn from ranges within what the design says of streams, the nearest of them is moved a part
 * at a time, and what is nearest in the end is kept.
 */
import { maxMinRule, rStatisticRule } from './settling-rules.ts';
import { makeNearStream, nearShape } from './settling-near-streams.ts';
import { newOutcome, quantile, scoreReadings, type Outcome } from './settling-score.ts';
import { createRandom } from './stream-random.ts';
import type { PlainShape } from './settling-plain-streams.ts';

/** false %, read rightly %, median delay s, 90th percentile s */
type Row = readonly [number, number, number, number];
/** @source shared/design/settling.md, 'How good it must be' */
const wanted: readonly [Row, Row] = [
  [63, 61, 42, 344],
  [49, 88, 31, 177],
];
const POINTS = 4;
const TIMES = 0.15;
const FIT_FIRST = 6100;
const FIT_COUNT = 60;
const MOVED_PART = 0.4;
const MOVED_BY = 0.5;

const rowOf = (o: Outcome): Row => [
  (100 * o.falseFirst) / o.read,
  (100 * o.rightly) / o.longEnough,
  quantile(o.delays, 0.5),
  quantile(o.delays, 0.9),
];

function rowsOf(shape: PlainShape, first: number, count: number): [Row, Row] {
  const spread = newOutcome();
  const r = newOutcome();
  for (let seed = first; seed < first + count; seed++) {
    const stream = makeNearStream(seed, 0, shape);
    scoreReadings(spread, stream, maxMinRule(stream.samples), 'full');
    scoreReadings(r, stream, rStatisticRule(stream.samples), 'full');
  }
  return [rowOf(spread), rowOf(r)];
}

/** Squares of the distance: 4 points of a share count as much as 15 % of a delay. */
function distance(rows: readonly [Row, Row]): number {
  let sum = 0;
  rows.forEach((row, i) => {
    row.forEach((x, k) => {
      const to = wanted[i]![k]!;
      sum += (k < 2 ? (x - to) / POINTS : Math.log(Math.max(1, x) / to) / TIMES) ** 2;
    });
  });
  return sum;
}

type Random = ReturnType<typeof createRandom>;
const draw = (r: Random): PlainShape => ({
  lastsS: [r.between(60, 250), r.between(400, 1200)],
  coldS: [r.between(200, 600), r.between(700, 1800)],
  hurried: r.between(0, 0.3),
  turn: [r.between(0.3, 0.8), r.between(1.2, 3.5)],
  slopeK: [r.between(1, 5), r.between(6, 16)],
  scatterK: r.between(0, 5),
  cold: r.between(0.1, 0.5),
  atRest: r.between(0.2, 0.8),
  noise: r.log(0.3, 2.5),
  wander: r.between(0, 1.6),
  spikes: r.between(0, 2.5),
  flutters: r.between(0.3, 1),
  everySecond: r.between(0, 1),
});

/** Some parts of a shape on their way to those of another. */
function moved(shape: PlainShape, r: Random): PlainShape {
  const other = draw(r);
  const parts = Object.entries(shape).map(([key, value]: [string, number | readonly [number, number]]) => {
    const to = other[key as keyof PlainShape];
    const part = r.chance(MOVED_PART) ? MOVED_BY * r.next() : 0;
    const mix = (a: number, b: number): number => a + part * (b - a);
    if (typeof value === 'number') return [key, mix(value, to as number)] as const;
    return [key, value.map((one, i) => mix(one, (to as readonly [number, number])[i]!))] as const;
  });
  return Object.fromEntries(parts) as PlainShape;
}

const say = (rows: readonly [Row, Row]): string => rows.map((row) => row.map((x) => x.toFixed(0)).join(' / ')).join('   ');

/**
 * How near the kept shape is to the printed rows; with draws or moves the search for a nearer one.
 *
 * @param draws shapes drawn, on a third of the seeds
 * @param moves of the nearest of them and of the kept one, on all seeds
 */
export function fitNearStreams(first = FIT_FIRST, count = FIT_COUNT, draws = 0, moves = 0, seed = 1): void {
  console.log(`wanted: ${say(wanted)}`);
  const now = rowsOf(nearShape, first, count);
  console.log(`kept, seeds ${first}-${first + count - 1}: ${say(now)}, distance ${distance(now).toFixed(1)}`);
  if (draws + moves === 0) return;
  const r = createRandom(seed);
  const drawn = Array.from({ length: draws }, () => {
    const shape = draw(r);
    return { shape, off: distance(rowsOf(shape, first, Math.ceil(count / 3))) };
  }).sort((a, b) => a.off - b.off);
  let best = { shape: nearShape, off: Infinity };
  const begins = [nearShape, ...drawn.slice(0, 2).map(({ shape }) => shape)];
  for (let i = -begins.length; i < moves; i++) {
    const shape = i < 0 ? begins[i + begins.length]! : moved(best.shape, r);
    const rows = rowsOf(shape, first, count);
    const off = distance(rows);
    if (off >= best.off) continue;
    best = { shape, off };
    console.log(
      `${say(rows)}, distance ${off.toFixed(1)}: ${JSON.stringify(shape, (_, x: unknown) => (typeof x === 'number' ? Number(x.toPrecision(3)) : x))}`,
    );
  }
}

/**
 * CO of a fixed level that swings at random by several bands for minutes and then stands still, all else at rest: how often a pause of the swings is read, and how
 * long after them the rest is. A reading is false when the noise-free CO is further than 1.25 bands from it within the next minute.
 */
import { createSettling } from '../../shared/settling/settling.ts';
import { bandOf } from './settling-streams.ts';
import { createRandom } from './stream-random.ts';

/** Fixed before any tuning; tuning uses other seeds. */
const SWINGS_FIRST = 760_000;
const SWINGS_COUNT = 60;
const MEMORIES_S = [12, 25, 50, 90];
const LEVELS = [100, 1000];
const SD_BANDS = 3;
const LAG_S = 8;
const SWINGS_S = 500;
const REST_S = 240;
const AHEAD_S = 60;

/** A random walk pulled back to its middle within `memoryS`, in steps of a second, smoothed as a cell smooths; then still. */
function course(seed: number, level: number, memoryS: number): number[] {
  const r = createRandom(seed + 4_700_000);
  const sd = SD_BANDS * bandOf.co(level);
  let raw = sd * r.normal();
  let smooth = raw;
  const points: number[] = [];
  for (let t = 0; t <= SWINGS_S + REST_S; t++) {
    if (t < SWINGS_S) raw = raw * Math.exp(-1 / memoryS) + sd * Math.sqrt(1 - Math.exp(-2 / memoryS)) * r.normal();
    smooth += (raw - smooth) / LAG_S;
    points.push(Math.max(0, level + smooth));
  }
  return points;
}

function scoreOne(level: number, memoryS: number, first: number, count: number): string {
  let readings = 0;
  let falseReadings = 0;
  let falseRuns = 0;
  let read = 0;
  const delays: number[] = [];
  for (let seed = first; seed < first + count; seed++) {
    const points = course(seed, level, memoryS);
    const r = createRandom(seed + 4_800_000);
    const settling = createSettling();
    const seen = new Set<string>();
    let wrong = 0;
    let restRead: number | undefined;
    for (let t = 0; t < points.length; t++) {
      const update = settling.push({
        timeMs: 1000 * t,
        values: {
          o2: Math.round(10 * (5 + 0.03 * r.normal())) / 10,
          co: Math.max(0, Math.round(points[t]! + r.normal())),
          stackTemperature: Math.round(10 * (230 + 0.2 * r.normal())) / 10,
          airTemperature: 21,
        },
      });
      for (const { id, scope, first: means } of update.readings) {
        if (scope !== 'full' || seen.has(id)) continue;
        seen.add(id);
        const isRight = points.slice(t, t + AHEAD_S + 1).every((ppm) => Math.abs(ppm - means!.co!) <= 1.25 * bandOf.co(ppm));
        if (t < SWINGS_S) readings++;
        if (!isRight) wrong++;
        else if (t >= SWINGS_S) restRead ??= t - SWINGS_S;
      }
    }
    falseReadings += wrong;
    if (wrong > 0) falseRuns++;
    if (restRead === undefined) continue;
    read++;
    delays.push(restRead);
  }
  delays.sort((a, b) => a - b);
  const at = (part: number): string => String(delays[Math.min(delays.length - 1, Math.floor(part * delays.length))] ?? '-').padStart(7);
  return `${String(level).padStart(6)}${String(memoryS).padStart(10)}${String(readings).padStart(10)}${String(falseReadings).padStart(8)}${String(falseRuns).padStart(12)}${String(read).padStart(12)}${at(0.5)}${at(0.9)}`;
}

export function scoreSwings(first = SWINGS_FIRST, count = SWINGS_COUNT): void {
  console.log(`random swings of CO, ${SD_BANDS} bands, seeds ${first}-${first + count - 1}, ${SWINGS_S} s each, then a rest`);
  console.log('   ppm  memory s  readings   false  runs false  rests read  median   90 %');
  for (const level of LEVELS) for (const memoryS of MEMORIES_S) console.log(scoreOne(level, memoryS, first, count));
}

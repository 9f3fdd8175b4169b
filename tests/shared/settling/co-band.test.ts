/**
 * The band of CO is 10 ppm or 10 % of the value, whichever is larger (`defaultBands`), so 1000 ppm that go to and fro by 15 ppm are at rest, and 1000 ppm
 * that rise by 300 ppm a minute are not. The same in shares of the band at every level. Levels, swings and slopes by hand.
 */
import { describe, expect, it } from 'vitest';
import { bandAt, defaultBands } from '../../../shared/measurement/limits.ts';
import { createRandom } from '../../score/stream-random.ts';
import { lines, offered, tell } from './streams.ts';

const LEVELS = [100, 400, 1000, 2000];
const SEEDS = [1, 2, 3];
const bandOf = (ppm: number): number => bandAt(defaultBands, 'co', ppm);
const coStates = (story: ReturnType<typeof tell>): string[] =>
  story.states.filter(({ channel }) => channel === 'co').map(({ state }) => state);

/** Pulled back to nothing within `memoryS`, in steps of a second, smoothed as a cell smooths. */
function randomSwing(seed: number, sd: number, memoryS: number, lagS: number, seconds: number): number[] {
  const r = createRandom(seed + 4_700_000);
  const points: number[] = [];
  let raw = sd * r.normal();
  let smooth = raw;
  for (let t = 0; t <= seconds; t++) {
    raw = raw * Math.exp(-1 / memoryS) + sd * Math.sqrt(1 - Math.exp(-2 / memoryS)) * r.normal();
    smooth += (raw - smooth) / lagS;
    points.push(smooth);
  }
  return points;
}

describe.each(LEVELS)('CO of %i ppm', (level) => {
  const band = bandOf(level);

  it.each([40, 80])('is read while it swings well inside its band, once in %i s', (periodS) => {
    for (const seed of SEEDS) {
      const co = (t: number): number => level + 0.15 * band * Math.sin((2 * Math.PI * t) / periodS);
      const story = tell(lines({ co }, { seconds: 200, seed }));
      expect(coStates(story), `seed ${seed}`).not.toContain('drifting');
      expect(coStates(story), `seed ${seed}`).not.toContain('surging');
      expect(offered(story.readings, 'gas')[0]?.takenMs ?? Infinity, `seed ${seed}`).toBeLessThan(100_000);
    }
  });

  it('is read while it wanders at random well inside its band', () => {
    for (const seed of SEEDS) {
      const swing = randomSwing(seed, 0.2 * band, 20, 8, 400);
      const story = tell(lines({ co: (t) => level + swing[Math.floor(t)]! }, { seconds: 200, seed }));
      expect(coStates(story), `seed ${seed}`).not.toContain('drifting');
      expect(offered(story.readings, 'gas')[0]?.takenMs ?? Infinity, `seed ${seed}`).toBeLessThan(120_000);
    }
  });

  it.each([3, -3, 8])('is not read on a slope of %i bands a minute, and is called drifting', (bandsPerMinute) => {
    for (const seed of SEEDS) {
      const fromS = 60;
      // a cell shows 4000 ppm at most; down to nothing is not a slope any more
      const room = bandsPerMinute > 0 ? 3900 - level : 0.6 * level;
      const forS = Math.min(100, (60 * room) / Math.abs(band * bandsPerMinute));
      const co = (t: number): number => level + (band * bandsPerMinute * Math.max(0, t - fromS)) / 60;
      const story = tell(lines({ co }, { seconds: fromS + forS, seed }));
      const late = [...offered(story.readings, 'gas'), ...offered(story.readings, 'full')].filter(
        ({ takenMs }) => takenMs / 1000 > fromS + 15,
      );
      expect(late, `seed ${seed}`).toEqual([]);
      expect(coStates(story), `seed ${seed}`).toContain('drifting');
    }
  });

  it('is held back while it swings at random by several bands: one pause in a run of eight may be taken for a rest', () => {
    let read = 0;
    for (let seed = 1; seed <= 8; seed++) {
      const swing = randomSwing(seed, 5 * band, 25, 8, 300);
      const story = tell(lines({ co: (t) => Math.max(0, level + swing[Math.floor(t)]!) }, { seconds: 300, seed }));
      read += offered(story.readings, 'gas').length;
    }
    expect(read).toBeLessThanOrEqual(1);
  });
});

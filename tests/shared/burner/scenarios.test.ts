/** Each scenario's phenomenon must stand in the lines themselves: read as columns, judged by a statistic of this file only. */
import { describe, expect, it } from 'vitest';
import { between, burnerOf, mean, meanOf, rowsOf, seeds, type Row } from './read-stream.ts';

const O2_OF_AIR = 20.95;
const airFree = ({ co, o2 }: Row): number => (co * O2_OF_AIR) / (O2_OF_AIR - o2);
const slopePerMinute = (rows: readonly Row[], key: keyof Row): number => {
  const x = meanOf(rows, 's');
  const y = meanOf(rows, key);
  const sxy = rows.reduce((sum, row) => sum + (row.s - x) * (row[key] - y), 0);
  return (60 * sxy) / rows.reduce((sum, row) => sum + (row.s - x) ** 2, 0);
};
/** Half the range of the middle 80 %: a single spike does not count. */
const spread = (rows: readonly Row[], key: keyof Row): number => {
  const sorted = rows.map((row) => row[key]).toSorted((x, y) => x - y);
  return ((sorted[Math.floor(0.9 * sorted.length)] ?? 0) - (sorted[Math.floor(0.1 * sorted.length)] ?? 0)) / 2;
};
/** Seconds from `fromS` until the channel has gone 90 % of its way to the mean over the last 30 s before `toS`. */
const t90 = (rows: readonly Row[], key: keyof Row, fromS: number, toS: number): number => {
  const start = meanOf(between(rows, fromS - 20, fromS), key);
  const end = meanOf(between(rows, toS - 30, toS), key);
  const target = start + 0.9 * (end - start);
  return (between(rows, fromS, toS).find((row) => (end > start ? row[key] >= target : row[key] <= target))?.s ?? Infinity) - fromS;
};

describe.each(seeds.slice(0, 2))('seed %d', (seed) => {
  it('tune-up: from room air to an open but clean flame, stack warm', () => {
    const rows = rowsOf(burnerOf('tune-up', seed), 600);
    expect(rows.length).toBe(601);
    expect(meanOf(rows.slice(0, 5), 'o2')).toBeGreaterThan(20.5);
    const end = between(rows, 540, 600);
    expect(meanOf(end, 'o2')).toBeGreaterThan(4.5);
    expect(meanOf(end, 'o2')).toBeLessThan(9);
    expect(meanOf(end, 'stack')).toBeGreaterThan(160);
    expect(Math.max(...between(rows, 10, 70).map(({ co }) => co))).toBeGreaterThan(5 * meanOf(end, 'co'));
  });

  it('cold-start: a CO spike, a stack that still climbs when half a minute looks flat, a growing draft', () => {
    const burner = burnerOf('cold-start', seed);
    const rows = rowsOf(burner, 600);
    expect(Math.max(...rows.map(({ co }) => co))).toBeGreaterThan(150);
    const late = between(rows, 480, 600);
    expect(slopePerMinute(late, 'stack')).toBeGreaterThan(1);
    expect(slopePerMinute(late, 'stack')).toBeLessThan(12);
    const stillToCome = (burner.truth(600_000).headingFor?.stackTemperature ?? 0) - meanOf(rows.slice(-10), 'stack');
    expect(stillToCome).toBeGreaterThan(4);
    const early = burnerOf('cold-start', seed).draft(40_000).breechPa;
    expect(burner.draft(1_800_000).breechPa).toBeLessThan(early - 2);
  });

  it('worn-nozzle and low-pressure: plenty of O2 and smoke all the same; low pressure makes a cooler stack', () => {
    for (const name of ['worn-nozzle', 'low-pressure']) {
      const burner = burnerOf(name, seed);
      const rows = rowsOf(burner, 120);
      expect(meanOf(rows, 'o2')).toBeGreaterThan(4.8);
      const spots = Array.from({ length: 6 }, (_, n) => burner.smokeSpot(120_000 + n * 1000)).filter(({ flaw }) => flaw === undefined);
      expect(mean(spots.map(({ number }) => number))).toBeGreaterThanOrEqual(1.8);
    }
    const low = burnerOf('low-pressure', seed);
    expect(low.gauges(0).pumpPressurePa).toBeLessThan(420_000);
    expect(meanOf(rowsOf(low, 60), 'stack')).toBeLessThan(meanOf(rowsOf(burnerOf('worn-nozzle', seed), 60), 'stack') - 15);
  });

  it('air-leak: O2 up, CO down, air-free CO and stack as before', () => {
    const rows = rowsOf(burnerOf('air-leak', seed), 560);
    const before = between(rows, 120, 270);
    const after = between(rows, 420, 560);
    expect(meanOf(after, 'o2')).toBeGreaterThan(meanOf(before, 'o2') + 1);
    expect(meanOf(after, 'co')).toBeLessThan(meanOf(before, 'co') - 2);
    expect(Math.abs(mean(after.map(airFree)) / mean(before.map(airFree)) - 1)).toBeLessThan(0.04);
    expect(Math.abs(meanOf(after, 'stack') - meanOf(before, 'stack'))).toBeLessThan(1);
  });

  it('a turn of the shutter by the same O2 does change the air-free CO, unlike the leak', () => {
    const burner = burnerOf('tune-up', seed);
    const open = burner.truth(500_000).shown;
    burner.setAdjuster('shutter', 9.5, 500_000);
    burner.setAdjuster('band', 3.5, 500_000);
    const wide = burner.truth(1_000_000).shown;
    const free = ({ o2, co }: { o2: number; co: number }) => (co * O2_OF_AIR) / (O2_OF_AIR - o2);
    expect(free(wide) / free(open)).toBeGreaterThan(1.15);
  });

  it('sooted-exchanger: hot stack at ordinary O2, the draft eaten up inside', () => {
    const burner = burnerOf('sooted-exchanger', seed);
    const clean = burnerOf('sooted-exchanger', seed);
    clean.setPart('fouling', 1, 0);
    const [hot, usual] = [rowsOf(burner, 1200), rowsOf(clean, 1200)].map((rows) => between(rows, 1140, 1200));
    if (!hot || !usual) throw new Error('two runs');
    expect(meanOf(hot, 'stack')).toBeGreaterThan(meanOf(usual, 'stack') + 30);
    expect(Math.abs(meanOf(hot, 'o2') - meanOf(usual, 'o2'))).toBeLessThan(0.7);
    const { overFirePa, breechPa } = burner.draft(1_200_000);
    expect(overFirePa - breechPa).toBeGreaterThan(12.5);
    expect(meanOf(hot, 'draft')).toBeLessThan(-8);
  });

  it('falling-draft: suction goes, O2 follows slowly', () => {
    const rows = rowsOf(burnerOf('falling-draft', seed), 1200);
    const before = between(rows, 60, 230);
    const after = between(rows, 1120, 1200);
    expect(meanOf(after, 'draft')).toBeGreaterThan(meanOf(before, 'draft') + 6);
    expect(meanOf(after, 'o2')).toBeLessThan(meanOf(before, 'o2') - 0.4);
    expect(slopePerMinute(between(rows, 500, 1050), 'draft')).toBeGreaterThan(0.3);
  });

  it('house-fans: steady until the fans come on, then draft and O2 fall within a minute', () => {
    const burner = burnerOf('house-fans', seed);
    const off = between(rowsOf(burner, 240), 120, 240);
    burner.setPart('roomDepressionPa', 6, 240_000, 20);
    const on = between(rowsOf(burner, 420), 320, 420);
    expect(Math.abs(slopePerMinute(off, 'draft'))).toBeLessThan(0.5);
    // hydrostatics: 6 Pa less in the room is up to 6 Pa less suction, a fifth of it where the regulator still flattens
    expect(meanOf(on, 'draft') - meanOf(off, 'draft')).toBeGreaterThan(1);
    expect(meanOf(on, 'draft') - meanOf(off, 'draft')).toBeLessThan(6.5);
    expect(meanOf(on, 'o2')).toBeLessThan(meanOf(off, 'o2'));
  });

  it('depressurised-room: draft and O2 drop together, come back with the fan off, CO stands in the room meanwhile', () => {
    const burner = burnerOf('depressurised-room', seed);
    const rows = rowsOf(burner, 860);
    expect(burner.gauges(860_000).roomCoPpm).toBeGreaterThan(9);
    rows.push(...rowsOf(burner, 1200));
    const [before, during, after] = [between(rows, 100, 270), between(rows, 420, 860), between(rows, 1060, 1200)];
    if (!before || !during || !after) throw new Error('three stretches');
    expect(meanOf(during, 'draft')).toBeGreaterThan(meanOf(before, 'draft') + 3);
    expect(meanOf(during, 'o2')).toBeLessThan(meanOf(before, 'o2') - 0.25);
    expect(Math.abs(meanOf(after, 'o2') - meanOf(before, 'o2'))).toBeLessThan(0.15);
  });

  it('flutter: the spread of O2 grows several times, at one frequency, the mean hardly moves', () => {
    const rows = rowsOf(burnerOf('flutter', seed), 620);
    const calm = between(rows, 100, 270);
    const wild = between(rows, 360, 616);
    expect(spread(wild, 'o2')).toBeGreaterThanOrEqual(1.99 * Math.max(0.05, spread(calm, 'o2')));
    expect(Math.abs(meanOf(wild, 'o2') - meanOf(calm, 'o2'))).toBeLessThan(0.5);
    // periodogram: the strongest line between 0.1 and 0.5 Hz carries far more than the typical one
    const average = meanOf(wild, 'o2');
    const power = Array.from({ length: 100 }, (_, bin) => {
      const hz = 0.1 + bin * 0.004;
      const [re, im] = wild.reduce(
        ([a, b], row) => [
          a + (row.o2 - average) * Math.cos(2 * Math.PI * hz * row.s),
          b + (row.o2 - average) * Math.sin(2 * Math.PI * hz * row.s),
        ],
        [0, 0],
      );
      return re * re + im * im;
    });
    const typical = power.toSorted((a, b) => a - b)[50] ?? 0;
    expect(Math.max(...power)).toBeGreaterThan(20 * typical);
  });

  it('creeping-co: CO climbs minute by minute, O2 stands', () => {
    const rows = between(rowsOf(burnerOf('creeping-co', seed), 900), 320, 900);
    expect(slopePerMinute(rows, 'co')).toBeGreaterThan(1.5);
    expect(slopePerMinute(rows, 'co')).toBeLessThan(10);
    expect(Math.abs(slopePerMinute(rows, 'o2'))).toBeLessThan(0.02);
  });

  it('after-drip: a CO bump and smoke after the stop, an oily spot', () => {
    const burner = burnerOf('after-drip', seed);
    const rows = rowsOf(burner, 330);
    const stopS = rows.find(({ s, o2 }) => s > 190 && o2 > 12)?.s ?? 0;
    expect(stopS).toBeGreaterThan(195);
    const running = meanOf(between(rows, 60, 190), 'co');
    expect(Math.max(...between(rows, stopS - 10, stopS + 60).map(({ co }) => co))).toBeGreaterThan(running + 100);
    const healthy = burnerOf('tune-up', seed);
    healthy.setPart('firing', false, 500_000);
    const afterHealthy = between(rowsOf(healthy, 600), 500, 600);
    expect(Math.max(...afterHealthy.map(({ co }) => co))).toBeLessThan(running + 60);
    const again = burnerOf('after-drip', seed);
    const spots = Array.from({ length: 5 }, () => again.smokeSpot((stopS - 2) * 1000));
    expect(mean(spots.map(({ number }) => number))).toBeGreaterThan(1);
    expect(spots.some(({ oilTrace }) => oilTrace)).toBe(true);
  });

  it('zeroed-in-bad-air: CO below zero in clean air', () => {
    const rows = rowsOf(burnerOf('zeroed-in-bad-air', seed), 60);
    expect(meanOf(rows, 'o2')).toBeGreaterThan(20.7);
    expect(meanOf(rows, 'co')).toBeLessThan(-10);
  });

  it('purge: O2 leaps to air and CO to nothing, the stack does not notice; three times', () => {
    const rows = rowsOf(burnerOf('purge', seed), 1100);
    const inAir = rows.map(({ o2 }) => o2 > 18);
    expect(inAir.filter((now, index) => now && inAir[index - 1] === false).length).toBe(3);
    const air = rows.filter(({ o2 }) => o2 > 20);
    expect(Math.min(...air.map(({ co }) => co))).toBeLessThan(4);
    expect(Math.abs(meanOf(air, 'stack') - meanOf(between(rows, 0, 200), 'stack'))).toBeLessThan(1);
  });

  it('unplug: two gaps, everything else unbroken', () => {
    const burner = burnerOf('unplug', seed);
    const rows = rowsOf(burner, 800);
    const gaps = rows
      .slice(1)
      .map(({ s }, index) => s - (rows[index]?.s ?? 0))
      .filter((pause) => pause > 1);
    expect(gaps.length).toBe(2);
    expect(gaps[0]).toBeGreaterThan(15);
    expect(gaps[1]).toBeGreaterThan(90);
    expect(rows.length).toBe(801 - gaps.reduce((sum, pause) => sum + pause - 1, 0));
  });

  it('slow-cell: O2 takes several times longer to answer the shutter', () => {
    const answer = (name: string) => {
      const burner = burnerOf(name, seed);
      burner.setAdjuster('shutter', 4.5, 700_000);
      return t90(rowsOf(burner, 1000), 'o2', 700, 1000);
    };
    expect(answer('slow-cell')).toBeGreaterThan(1.7 * answer('tune-up'));
  });

  it('bench faults: each shows at the gas that finds it, and the healthy instrument shows none', () => {
    const bench = (name: string) => {
      const rows = rowsOf(burnerOf(name, seed), 3060);
      const at = (key: keyof Row, startS: number) => meanOf(between(rows, startS + 150, startS + 180), key);
      return {
        zeroStart: meanOf(between(rows, 100, 180), 'co'),
        zeroEnd: at('co', 180 + 7 * 360 + 180),
        co100: at('co', 180 + 360),
        co400: at('co', 180 + 2 * 360),
        co1000: at('co', 180 + 3 * 360),
        h2: at('co', 180 + 5 * 360),
        o2At4: at('o2', 180 + 360),
        t90O2: t90(rows, 'o2', 180 + 7 * 360, 180 + 7 * 360 + 180),
      };
    };
    const healthy = bench('bench-healthy');
    expect(Math.abs(healthy.zeroStart)).toBeLessThan(2);
    expect(Math.abs(healthy.zeroEnd - healthy.zeroStart)).toBeLessThan(2);
    for (const [shown, gas] of [
      [healthy.co100, 100],
      [healthy.co400, 400],
      [healthy.co1000, 1000],
    ] as const)
      expect(Math.abs(shown - gas)).toBeLessThan(0.02 * gas + 2);
    expect(Math.abs(healthy.o2At4 - 4)).toBeLessThan(0.1);
    expect(healthy.h2).toBeLessThan(3);
    expect(healthy.t90O2).toBeLessThan(35);

    expect(bench('drifting-zero').zeroEnd).toBeGreaterThan(healthy.zeroEnd + 10);
    const low = bench('low-span');
    expect(low.co100).toBeLessThan(90);
    expect(Math.abs(low.co1000 / low.co100 - 10)).toBeLessThan(0.5);
    expect(Math.abs(low.zeroStart)).toBeLessThan(2);
    const bent = bench('non-linear-co');
    expect(Math.abs(bent.co100 - 100)).toBeLessThan(5);
    expect(bent.co1000).toBeLessThan(920);
    expect(bench('cross-sensitive-co').h2).toBeGreaterThan(60);
    expect(bench('clogged-filter').t90O2).toBeGreaterThan(healthy.t90O2 + 20);
    // its gases stay on for 330 s each: the fourth comes at 180 + 3 * 660
    const slow = rowsOf(burnerOf('slow-co-cell', seed), 2500);
    expect(t90(slow, 'co', 180 + 3 * 660, 180 + 3 * 660 + 330)).toBeGreaterThan(75);
    expect(t90(slow, 'o2', 180 + 3 * 660, 180 + 3 * 660 + 330)).toBeLessThan(35);
    expect(Math.abs(meanOf(between(slow, 180 + 3 * 660 + 290, 180 + 3 * 660 + 330), 'co') - 1000)).toBeLessThan(25);
  });
});

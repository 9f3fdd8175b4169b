import { expect, it } from 'vitest';
import { HISTORY, historyGeometry } from '../../../renderer/views/records/history-geometry.ts';
import type { HistoryPoint } from '../../../shared/report/comparison/compare-visits.ts';

const point = (year: number, found: number | undefined, left: number | undefined): HistoryPoint => ({
  visitId: `visit-${year}`,
  zoneMinutes: 0,
  wallMs: Date.UTC(year, 9, 20, 12),
  found,
  left,
  foundText: undefined,
  leftText: undefined,
});

it.each([2, 3, 8, 20])('%i visits stand evenly spaced in their order, inside the picture, the higher figure higher', (count) => {
  const points = Array.from({ length: count }, (_, at) => point(2005 + at, 80 + at, 81 + at));
  const { marks, grid } = historyGeometry(points)!;
  expect(marks.map(({ year }) => year)).toEqual(points.map((_, at) => `${2005 + at}-10`));
  const xs = marks.map(({ x }) => x);
  const gaps = xs.slice(1).map((x, at) => x - xs[at]!);
  for (const gap of gaps) expect(gap).toBeCloseTo(gaps[0]!, 9);
  expect(gaps[0]).toBeGreaterThan(0);
  expect(xs[0]).toBeGreaterThanOrEqual(HISTORY.left);
  expect(xs.at(-1)).toBeLessThanOrEqual(HISTORY.width);
  for (const { found, left } of marks) {
    expect(left!).toBeLessThan(found!);
    for (const y of [found!, left!]) expect(y >= HISTORY.top && y <= HISTORY.bottom).toBe(true);
  }
  expect(grid.length).toBeGreaterThan(1);
});

it('one visit stands in the middle; one without figures is left out; without any there is no picture', () => {
  const one = historyGeometry([point(2024, undefined, undefined), point(2025, 80, undefined)])!;
  expect(one.marks.map(({ year, x, left }) => [year, x, left])).toEqual([['2025-10', (HISTORY.left + HISTORY.width) / 2, undefined]]);
  expect(historyGeometry([point(2024, undefined, undefined)])).toBeUndefined();
});

it('names the month in the zone of the visit: New Year\u2019s Eve is not yet the year after', () => {
  const eve = { ...point(2026, 80, 85), wallMs: Date.UTC(2026, 0, 1, 2), zoneMinutes: -300 };
  expect(historyGeometry([eve])?.marks.map(({ year }) => year)).toEqual(['2025-12']);
});

import { isoDay } from '../../../shared/format/date.ts';
import { ticks } from 'd3-array';
import type { HistoryPoint } from '../../../shared/report/comparison/compare-visits.ts';

export type HistoryMark = { x: number; year: string; found: number | undefined; left: number | undefined; point: HistoryPoint };
export type HistoryGeometry = { marks: HistoryMark[]; grid: { y: number; text: string }[] };

export const HISTORY = { width: 860, height: 168, left: 52, top: 14, bottom: 130 };

/** One place per visit, evenly spaced in their order: the years are words, not a scale. */
export function historyGeometry(points: readonly HistoryPoint[]): HistoryGeometry | undefined {
  const used = points.filter(({ found, left }) => found !== undefined || left !== undefined);
  if (used.length === 0) return undefined;
  const values = used.flatMap(({ found, left }) => [found, left].filter((value) => value !== undefined));
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const margin = Math.max((most - least) * 0.12, Math.abs(most) * 0.02, 0.1);
  const { width, left, top, bottom } = HISTORY;
  const y = (value: number): number => bottom - ((value - least + margin) / (most - least + 2 * margin)) * (bottom - top);
  const step = (width - left - 100) / Math.max(1, used.length - 1);
  return {
    marks: used.map((point, index) => ({
      x: used.length === 1 ? (left + width) / 2 : left + 30 + index * step,
      year: isoDay(point.wallMs, point.zoneMinutes).slice(0, 7),
      found: point.found === undefined ? undefined : y(point.found),
      left: point.left === undefined ? undefined : y(point.left),
      point,
    })),
    grid: ticks(least - margin, most + margin, 3).map((tick) => ({ y: y(tick), text: String(tick).replace('-', '−') })),
  };
}

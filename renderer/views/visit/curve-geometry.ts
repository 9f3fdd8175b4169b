/** Places on the air curve: smoke above CO on one O2 axis. Pure. */
import { scaleLinear, type ScaleLinear } from 'd3-scale';
import type { AirCurve } from '../../../shared/tuning/air-curve.ts';
import type { NextPoint } from './advice-words.ts';

export const chartSize = {
  width: 772,
  height: 314,
  left: 78,
  right: 760,
  top: 30,
  smokeBottom: 153,
  coTop: 190,
  coBottom: 272,
  axis: 276,
} as const;

export type CurveScales = {
  o2: ScaleLinear<number, number>;
  smoke: ScaleLinear<number, number>;
  co: ScaleLinear<number, number>;
  o2Ticks: number[];
  smokeTicks: number[];
  coTicks: number[];
};

const LEAST_SPAN_O2 = 4;

export function curveScales(curve: AirCurve, advice: NextPoint | undefined): CurveScales {
  const places = curve.points.flatMap(({ o2, o2Half }) => [o2 - o2Half, o2 + o2Half]);
  if (advice !== undefined) places.push(advice.low, advice.high);
  if (curve.window !== undefined) places.push(curve.window.fromO2, curve.window.toO2);
  let from = Math.max(0, Math.floor(Math.min(...places, 8) - 0.2));
  let to = Math.min(21, Math.ceil(Math.max(...places, 4) + 0.2));
  while (to - from < LEAST_SPAN_O2) {
    if (from > 0) from -= 1;
    else to += 1;
  }
  const highest = Math.max(2, ...curve.points.map(({ smoke, smokeHalf }) => (smoke ?? 0) + (smokeHalf ?? 0)));
  const smokeTop = highest <= 3 ? 3 : highest <= 5 ? 5 : 9;
  const mostCo = Math.max(60, ...curve.points.map(({ coPpm, coHalf }) => (coPpm ?? 0) + (coHalf ?? 0)));
  const co = scaleLinear().domain([0, mostCo]).nice(3).range([chartSize.coBottom, chartSize.coTop]);
  return {
    o2: scaleLinear().domain([from, to]).range([chartSize.left, chartSize.right]),
    smoke: scaleLinear()
      .domain([0, smokeTop])
      .range([chartSize.smokeBottom, chartSize.top + 8]),
    co,
    o2Ticks: Array.from({ length: to - from + 1 }, (_, index) => from + index).filter((tick) => to - from <= 12 || tick % 2 === 0),
    smokeTicks: smokeTop === 3 ? [0, 1, 2, 3] : smokeTop === 5 ? [0, 1, 2, 3, 4, 5] : [0, 3, 6, 9],
    coTicks: co.ticks(3),
  };
}

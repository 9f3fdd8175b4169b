/** Runs in the browser: the trend against uPlot drawing the same points raw. Bundled by charts.ts. */
import uPlot from 'uplot';
import { createLiveChart } from '../../renderer/charts/create-live-chart.ts';
import type { RunBuffers } from '../../renderer/live/run-buffers.ts';
import { settlingChannels } from '../../shared/measurement/channel.ts';
import { createSeries } from '../../shared/series/series.ts';

/** Medians in ms of script time per frame, and the same at the 95th percentile. */
export type ChartTimes = {
  readonly ours: number;
  readonly oursP95: number;
  readonly uplot: number;
  readonly uplotP95: number;
  readonly spikeSeen: boolean;
};

const WIDTH = 1100;
const HEIGHT = 420;
const INTERVAL_MS = 100;

function measure(points: number, frames: number): ChartTimes {
  document.body.innerHTML = `<div style="width:${WIDTH}px;height:${HEIGHT}px"><canvas id="ours"></canvas></div><div id="uplot"></div>`;
  const series = settlingChannels.map(() => createSeries());
  const time = new Float64Array(points + frames);
  const values = settlingChannels.map(() => new Float64Array(points + frames));
  let state = 12345;
  const random = (): number => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
  const next = (i: number): void => {
    time[i] = i * INTERVAL_MS;
    values.forEach((column, k) => {
      column[i] = 100 * (k + 1) + 20 * Math.sin(i / 500) + 3 * random() + (i === Math.floor(points / 3) ? 500 : 0);
      series[k]?.append(i * INTERVAL_MS, column[i]);
    });
  };
  for (let i = 0; i < points; i++) next(i);
  let count = points;
  const buffers = {
    version: () => count,
    nowMs: () => (count - 1) * INTERVAL_MS,
    series: (channel: (typeof settlingChannels)[number]) => series[settlingChannels.indexOf(channel)],
  } as unknown as RunBuffers;
  const chart = createLiveChart(
    document.getElementById('ours') as HTMLCanvasElement,
    settlingChannels.map((channel) => ({ channel, weight: 1 })),
  );
  const content = {
    strips: settlingChannels.map((channel) => ({
      channel,
      weight: 1,
      leastSpan: 1,
      settled: [],
      readings: [],
      forecast: [],
      heading: undefined,
    })),
    marks: [],
    gaps: [],
    lostSinceMs: undefined,
    excluded: [],
  };
  const columns = (): uPlot.AlignedData => [time.subarray(0, count), ...values.map((column) => column.subarray(0, count))];
  const plot = new uPlot(
    { width: WIDTH, height: HEIGHT, series: [{}, ...settlingChannels.map(() => ({ stroke: '#456', width: 2 }))] },
    columns(),
    document.getElementById('uplot') as HTMLElement,
  );

  const ours: number[] = [];
  const raw: number[] = [];
  for (let frame = 0; frame < frames; frame++) {
    next(count);
    count++;
    const a = performance.now();
    chart.draw({
      buffers,
      content,
      window: { kind: 'fixed', fromMs: 0, toMs: count * INTERVAL_MS },
      units: 'metric',
      timeText: (ms) => `${Math.round(ms / 60_000)} min`,
    });
    const b = performance.now();
    plot.batch(() => plot.setData(columns()));
    const c = performance.now();
    ours.push(b - a);
    raw.push(c - b);
  }
  const columnsSeen = series[0]?.query(0, count * INTERVAL_MS, 700);
  const spikeSeen = points < 300 || Math.max(...(columnsSeen?.high ?? [0])) > 500;
  chart.destroy();
  plot.destroy();
  return { ours: quantile(ours, 0.5), oursP95: quantile(ours, 0.95), uplot: quantile(raw, 0.5), uplotP95: quantile(raw, 0.95), spikeSeen };
}

function quantile(values: readonly number[], part: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? 0;
}

Object.assign(globalThis, { measureCharts: measure });

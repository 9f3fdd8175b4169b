/** Runs in the browser: the trend against uPlot drawing the same points raw. Bundled by charts.ts. */
import uPlot from 'uplot';
import { createLiveChart } from '../../renderer/charts/create-live-chart.ts';
import type { RunBuffers } from '../../renderer/live/run-buffers.ts';
import { settlingChannels } from '../../shared/measurement/channel.ts';
import { createSeries } from '../../shared/series/series.ts';

export type ChartPage = {
  /** a history of so many points a channel, and both charts of it */
  prepareCharts(points: number): void;
  /** one more point, then a frame. @returns ms of script on the clock */
  drawFrame(which: 'ours' | 'uplot'): number;
  /** is a spike of one sample seen? Ends the charts */
  endCharts(): boolean;
};

const WIDTH = 1100;
const HEIGHT = 420;
const INTERVAL_MS = 100;
const MOST_FRAMES = 200;

let drawn: Record<'ours' | 'uplot', () => void>;
let end: () => boolean;

function prepareCharts(points: number): void {
  document.body.innerHTML = `<div style="width:${WIDTH}px;height:${HEIGHT}px"><canvas id="ours"></canvas></div><div id="uplot"></div>`;
  const series = settlingChannels.map(() => createSeries());
  const room = points + MOST_FRAMES;
  const time = new Float64Array(room);
  const values = settlingChannels.map(() => new Float64Array(room));
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

  drawn = {
    ours() {
      next(count);
      count++;
      chart.draw({
        buffers,
        content,
        window: { kind: 'fixed', fromMs: 0, toMs: count * INTERVAL_MS },
        units: 'metric',
        timeText: (ms) => `${Math.round(ms / 60_000)} min`,
      });
    },
    uplot: () => plot.batch(() => plot.setData(columns())),
  };
  end = () => {
    const seen = series[0]?.query(0, count * INTERVAL_MS, 700);
    chart.destroy();
    plot.destroy();
    return Math.max(...(seen?.high ?? [0])) > 500;
  };
}

const page: ChartPage = {
  prepareCharts,
  drawFrame(which) {
    const from = performance.now();
    drawn[which]();
    return performance.now() - from;
  },
  endCharts: () => end(),
};
Object.assign(globalThis, page);

/**
 * The trend as an object with a life: created once, fed, destroyed. One strip per channel over one time axis, drawn by Chart.js;
 * points are thinned here to low and high per pixel column before Chart.js sees them, so a one-sample spike stays.
 */
import { Chart, LinearScale, LineController, LineElement, PointElement, type ChartDataset, type Plugin, type ScaleOptions } from 'chart.js';
import type { SettlingChannel } from '../../shared/measurement/channel.ts';
import type { Columns, Series } from '../../shared/series/series.ts';
import type { RunBuffers } from '../live/run-buffers.ts';
import { readColors, type ChartColors } from './chart-colors.ts';
import { drawBehind, drawInFront } from './draw-trend.ts';
import { drawMarkNames, drawTimeAxis } from './draw-trend-edges.ts';
import type { StrayValue, StripFrame, TrendFrame } from './trend-frame.ts';
import { stripViewOf, type StripScale } from './strip-scale.ts';
import type { TrendContent } from './trend-content.ts';
import { followingTicks, spanOf, timeTicks, type TrendWindow } from './trend-window.ts';
import { formatNumber, shownAs, type UnitSystem } from '../../shared/format/quantity.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale);

/** Where the points come from: the buffers of a run being captured, or what was fetched of a stored one. */
export type ChartPoints = Pick<RunBuffers, 'version' | 'nowMs'> & { series: (channel: SettlingChannel) => Pick<Series, 'query'> };
export type LiveChartInput = {
  buffers: ChartPoints;
  content: TrendContent;
  window: TrendWindow;
  units: UnitSystem;
  /** offset from now while following, else run time -> text */
  timeText: (ms: number, following: boolean) => string;
};
export type LiveChart = {
  /** draws when something changed since the last time; cheap otherwise */
  draw: (input: LiveChartInput) => void;
  themeChanged: () => void;
  timeAt: (clientX: number) => number | undefined;
  destroy: () => void;
};

type Point = { x: number; y: number };
const HEAD = 34;
const FOOT = 34;
/** the value axis is as wide as this, so that it does not jump when CO comes to four figures */
const AXIS_FIGURE = 1000;
const AXIS_GAP = 12;
/** about as wide, in px, as it is until its figures are measured; how finely the curve is thinned hangs on nothing that changes */
const USUAL_AXIS = 52;

export function createLiveChart(canvas: HTMLCanvasElement, channels: readonly { channel: SettlingChannel; weight: number }[]): LiveChart {
  let colors: ChartColors = readColors(canvas);
  let input: LiveChartInput | undefined;
  let drawn = '';
  let drawnContent: TrendContent | undefined;
  const scales = new Map<SettlingChannel, StripScale>();
  /** of what is seen, in the shown unit */
  const strays = new Map<SettlingChannel, StrayValue[]>();
  let axisWidth = USUAL_AXIS;

  const frameOf = (chart: Chart): TrendFrame | undefined => {
    const x = chart.scales['x'];
    if (x === undefined || input === undefined) return undefined;
    const { units } = input;
    const strips = input.content.strips.flatMap((strip): StripFrame[] => {
      const axis = chart.scales[strip.channel];
      const scale = scales.get(strip.channel);
      if (axis === undefined || scale === undefined) return [];
      const shown = shownAs(strip.channel, units);
      return [
        {
          strip,
          scale,
          top: axis.top,
          bottom: axis.bottom,
          yOf: (inner) => axis.getPixelForValue(inner * shown.factor + shown.offset),
          labelOf: (value) => formatNumber(value, scale.decimals),
          strays: strays.get(strip.channel) ?? [],
          strayText: (value) => formatNumber(value, strip.channel === 'o2' ? 1 : 0),
        },
      ];
    });
    const { left, right, top, bottom } = chart.chartArea;
    return {
      context: chart.ctx,
      colors,
      left,
      right,
      top,
      bottom,
      nowX: x.getPixelForValue(input.buffers.nowMs()),
      xOf: (time) => x.getPixelForValue(time),
      strips,
    };
  };

  const drawing: Plugin<'line'> = {
    id: 'trend',
    beforeDatasetsDraw(chart) {
      const frame = frameOf(chart);
      if (frame !== undefined && input !== undefined) drawBehind(frame, input.content);
    },
    afterDatasetsDraw(chart) {
      const frame = frameOf(chart);
      if (frame === undefined || input === undefined) return;
      const { content, window, buffers, timeText } = input;
      drawInFront(frame, content.lostSinceMs);
      drawMarkNames(frame, content.marks);
      const span = spanOf(window, buffers.nowMs());
      const following = window.kind === 'following';
      const most = Math.max(3, Math.floor((frame.right - frame.left) / 82));
      const ticksOf = following ? followingTicks : timeTicks;
      drawTimeAxis(
        frame,
        ticksOf(span, following ? buffers.nowMs() : 0, most, (ms) => timeText(ms, following)),
      );
    },
  };

  const axes = Object.fromEntries(
    channels.map(({ channel, weight }): [string, ScaleOptions<'linear'>] => [
      channel,
      {
        type: 'linear',
        position: 'left',
        stack: 'strips',
        stackWeight: weight,
        weight: -channels.findIndex((one) => one.channel === channel),
        grid: { display: false },
        border: { display: false },
        ticks: { display: false },
        afterFit: (axis: { width: number }) => void (axis.width = axisWidth),
      } as unknown as ScaleOptions<'linear'>,
    ]),
  );
  // fonts, themes and frames may still call a chart that has left the page; it cannot be drawn any more
  let gone = false;
  const chart = new Chart(canvas, {
    type: 'line',
    data: { datasets: channels.map(({ channel }) => datasetOf(channel, colors)) },
    options: {
      animation: false,
      parsing: false,
      normalized: true,
      responsive: true,
      maintainAspectRatio: false,
      events: [],
      layout: { autoPadding: false, padding: { top: HEAD, right: 0, bottom: 0, left: 0 } },
      elements: { point: { radius: 0 } },
      plugins: { tooltip: { enabled: false } },
      scales: {
        ...axes,
        x: {
          type: 'linear',
          position: 'bottom',
          grid: { display: false },
          border: { display: false },
          ticks: { display: false },
          afterFit: (axis: { height: number }) => void (axis.height = FOOT),
        } as unknown as ScaleOptions<'linear'>,
      },
      onResize: () => void (drawn = ''),
    },
    plugins: [drawing],
  });

  return {
    draw(next) {
      if (gone) return;
      const key = `${next.buffers.version()}|${next.units}|${JSON.stringify(next.window)}|${canvas.clientWidth}x${canvas.clientHeight}`;
      if (key === drawn && next.content === drawnContent) return;
      drawn = key;
      drawnContent = next.content;
      input = next;
      const span = spanOf(next.window, next.buffers.nowMs());
      const buckets = Math.max(50, Math.round((canvas.clientWidth - USUAL_AXIS) / 1.5));
      channels.forEach(({ channel }, index) => {
        const strip = next.content.strips.find((one) => one.channel === channel);
        const dataset = chart.data.datasets[index];
        const axis = chart.options.scales?.[channel] as { min?: number; max?: number } | undefined;
        if (strip === undefined || dataset === undefined || axis === undefined) return;
        const shown = shownAs(channel, next.units);
        const columns = next.buffers.series(channel).query(span.fromMs, Math.min(span.toMs, next.buffers.nowMs()), buckets);
        const toShown = (inner: number): number => inner * shown.factor + shown.offset;
        dataset.data = pointsOf(columns, toShown);
        const { scale, strays: found } = stripViewOf(columns, strip, span, next.content.excluded, shown);
        scales.set(channel, scale);
        strays.set(
          channel,
          found.map(({ index: at, end }) => ({ timeMs: columns.timeMs[at] as number, value: toShown(columns[end][at] as number) })),
        );
        axis.min = scale.low;
        axis.max = scale.high;
      });
      axisWidth = axisWidthOf(chart.ctx, colors, [...scales.values()]);
      const x = chart.options.scales?.['x'] as { min?: number; max?: number };
      x.min = span.fromMs;
      x.max = span.toMs;
      chart.update('none');
    },
    themeChanged() {
      if (gone) return;
      colors = readColors(canvas);
      channels.forEach(({ channel }, index) => {
        const dataset = chart.data.datasets[index];
        if (dataset !== undefined) dataset.borderColor = colors[channel];
      });
      drawn = '';
      if (input !== undefined) this.draw(input);
    },
    timeAt(clientX) {
      const axis = chart.scales['x'];
      return axis?.getValueForPixel(clientX - canvas.getBoundingClientRect().left);
    },
    destroy() {
      gone = true;
      chart.destroy();
    },
  };
}

const datasetOf = (channel: SettlingChannel, colors: ChartColors): ChartDataset<'line', Point[]> => ({
  data: [],
  yAxisID: channel,
  xAxisID: 'x',
  borderColor: colors[channel],
  borderWidth: 2.5,
  borderJoinStyle: 'round',
  pointRadius: 0,
  spanGaps: false,
  tension: 0,
});

/** Low and high of each column as two points; a break becomes a point without value, so that nothing is joined over it. */
function pointsOf({ timeMs, low, high, breaks }: Columns, toShown: (inner: number) => number): Point[] {
  const points: Point[] = [];
  const breaksAt = new Set(breaks);
  timeMs.forEach((time, index) => {
    if (breaksAt.has(index)) points.push({ x: time, y: NaN });
    const [bottom, top] = [low[index] as number, high[index] as number];
    points.push({ x: time, y: toShown(bottom) });
    if (top !== bottom) points.push({ x: time, y: toShown(top) });
  });
  return points;
}

function axisWidthOf(context: CanvasRenderingContext2D, colors: ChartColors, all: readonly StripScale[]): number {
  context.font = `15px ${colors.font}`;
  const texts = all.flatMap(({ ticks, decimals }) => ticks.map((tick) => formatNumber(tick, decimals)));
  return Math.ceil(Math.max(...[formatNumber(AXIS_FIGURE, 0), ...texts].map((text) => context.measureText(text).width))) + AXIS_GAP;
}

/**
 * Many curves over each other, lined up at light-off. Told apart by dash and by a word at the curve's end, never by colour alone.
 * Imperative like the trend: created once, fed, destroyed.
 */
import { Chart, LinearScale, LineController, LineElement, PointElement, type ChartDataset, type Plugin } from 'chart.js';
import { formatNumber } from '../format/quantity.ts';
import { readColors, type ChartColors } from './chart-colors.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale);

export type OverlayCurve = {
  readonly id: string;
  readonly label: string;
  /** shown units */
  readonly points: readonly { x: number; y: number }[];
  /** 0 to 5 have a colour and dash of their own, the rest is thin */
  readonly style: number;
  /** the one that is looked at */
  readonly strong: boolean;
};
export type OverlayContent = {
  readonly curves: readonly OverlayCurve[];
  readonly band: { readonly low: readonly { x: number; y: number }[]; readonly high: readonly { x: number; y: number }[] } | undefined;
  /** open squares with a word, s from light-off */
  readonly points: readonly { x: number; y: number; label: string }[];
  readonly decimals: number;
  readonly minutes: (value: string) => string;
  readonly lightOff: string;
};
export type OverlayRange = { readonly fromS: number; readonly toS: number };

export type OverlayChart = {
  draw(content: OverlayContent, range: OverlayRange): void;
  themeChanged(): void;
  picture(): string;
  destroy(): void;
};

export const curveDashes: readonly (readonly number[])[] = [[], [9, 5], [14, 4, 2, 4], [2, 5], [10, 4, 2, 4, 2, 4], [22, 6]];
const RIGHT = 150;

export function createOverlayChart(canvas: HTMLCanvasElement): OverlayChart {
  let colors = readColors(canvas);
  let content: OverlayContent | undefined;
  let range: OverlayRange = { fromS: -60, toS: 1200 };

  const drawing: Plugin<'line'> = {
    id: 'overlay',
    beforeDatasetsDraw(chart) {
      if (content !== undefined) drawGround(chart, content, colors);
    },
    afterDatasetsDraw(chart) {
      if (content === undefined) return;
      drawPoints(chart, content, colors);
      drawLabels(chart, content, colors);
    },
  };
  const chart = new Chart(canvas, {
    type: 'line',
    data: { datasets: [] },
    options: {
      animation: false,
      parsing: false,
      normalized: true,
      responsive: true,
      maintainAspectRatio: false,
      events: [],
      layout: { padding: { top: 22, right: RIGHT, bottom: 0, left: 0 } },
      elements: { point: { radius: 0 } },
      plugins: { tooltip: { enabled: false } },
      scales: {
        x: { type: 'linear', grid: { display: false }, border: { display: false }, ticks: { display: false } },
        y: {
          type: 'linear',
          grid: { display: false },
          border: { display: false },
          ticks: { display: false },
          afterFit: (axis) => void (axis.width = 56),
        },
      },
    },
    plugins: [drawing],
  });

  return {
    draw(next, nextRange) {
      content = next;
      range = nextRange;
      chart.data.datasets = next.curves.map((curve) => datasetOf(curve, colors));
      const seen = next.curves.flatMap(({ points }) => points.filter(({ x }) => x >= range.fromS && x <= range.toS).map(({ y }) => y));
      const [low, high] = seen.length === 0 ? [0, 1] : [Math.min(...seen), Math.max(...seen)];
      const room = Math.max(0.05 * (high - low), 0.5);
      const y = chart.options.scales?.['y'] as { min?: number; max?: number };
      y.min = low - room;
      y.max = high + room;
      const x = chart.options.scales?.['x'] as { min?: number; max?: number };
      x.min = range.fromS;
      x.max = range.toS;
      chart.update('none');
    },
    themeChanged() {
      colors = readColors(canvas);
      if (content !== undefined) this.draw(content, range);
    },
    picture: () => chart.toBase64Image('image/png'),
    destroy: () => chart.destroy(),
  };
}

const colorOf = (style: number, colors: ChartColors): string =>
  [colors.o2, colors.co, colors.stackTemperature, colors.airTemperature, colors.fifth, colors.sixth][style] ?? colors.third;

const datasetOf = ({ points, style, strong }: OverlayCurve, colors: ChartColors): ChartDataset<'line', { x: number; y: number }[]> => ({
  data: points as { x: number; y: number }[],
  borderColor: strong ? colors.ink : colorOf(style, colors),
  borderWidth: strong ? 4 : style > 5 ? 1 : 2.5,
  borderDash: strong ? [] : [...(curveDashes[style] ?? [])],
  borderJoinStyle: 'round',
  pointRadius: 0,
  tension: 0,
  order: strong ? 0 : 1,
});

function drawGround(chart: Chart, { band, minutes, lightOff, decimals }: OverlayContent, colors: ChartColors): void {
  const { ctx, chartArea, scales } = chart;
  const { x, y } = scales;
  if (x === undefined || y === undefined) return;
  ctx.save();
  ctx.font = `400 15px ${colors.font}`;
  ctx.lineWidth = 1;
  ctx.strokeStyle = colors.hairline;
  ctx.fillStyle = colors.second;
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'right';
  // the first and last ticks are the scale's own odd ends
  for (const { value } of y.ticks.filter(({ value: v }) => Math.abs(v / tickStep(y.ticks) - Math.round(v / tickStep(y.ticks))) < 1e-6)) {
    const at = y.getPixelForValue(value);
    ctx.beginPath();
    ctx.moveTo(chartArea.left, at);
    ctx.lineTo(chartArea.right, at);
    ctx.stroke();
    ctx.fillText(formatNumber(value, decimals), chartArea.left - 8, at);
  }
  ctx.textAlign = 'center';
  ctx.textBaseline = 'alphabetic';
  const span = x.max - x.min;
  const step = [15, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200].find((one) => span / one <= 8) ?? 14_400;
  for (let s = Math.ceil(x.min / step) * step; s <= x.max; s += step) {
    const at = x.getPixelForValue(s);
    ctx.fillText(minutes(formatNumber(s / 60, step % 60 === 0 ? 0 : 1)), at, chartArea.bottom + 20);
  }
  if (band !== undefined) {
    ctx.beginPath();
    band.low.forEach((point, i) =>
      i === 0
        ? ctx.moveTo(x.getPixelForValue(point.x), y.getPixelForValue(point.y))
        : ctx.lineTo(x.getPixelForValue(point.x), y.getPixelForValue(point.y)),
    );
    [...band.high].reverse().forEach((point) => ctx.lineTo(x.getPixelForValue(point.x), y.getPixelForValue(point.y)));
    ctx.closePath();
    ctx.fillStyle = colors.accentSoft;
    ctx.globalAlpha = 0.6;
    ctx.fill();
    ctx.globalAlpha = 1;
  }
  const zero = x.getPixelForValue(0);
  if (zero >= chartArea.left && zero <= chartArea.right) {
    ctx.strokeStyle = colors.ink;
    ctx.lineWidth = 1.5;
    ctx.beginPath();
    ctx.moveTo(zero, chartArea.top - 14);
    ctx.lineTo(zero, chartArea.bottom);
    ctx.stroke();
    ctx.fillStyle = colors.ink;
    ctx.font = `600 15px ${colors.font}`;
    ctx.textAlign = 'left';
    ctx.fillText(lightOff, zero + 7, chartArea.top - 4);
  }
  ctx.restore();
}

/** The usual distance between ticks. */
function tickStep(ticks: readonly { value: number }[]): number {
  const [a, b] = [ticks[1]?.value ?? 0, ticks[2]?.value ?? 1];
  return Math.abs(b - a) || 1;
}

function drawPoints(chart: Chart, { points }: OverlayContent, colors: ChartColors): void {
  const { ctx, chartArea, scales } = chart;
  const { x, y } = scales;
  if (x === undefined || y === undefined) return;
  ctx.save();
  points.forEach((point, i) => {
    const [px, py] = [x.getPixelForValue(point.x), y.getPixelForValue(point.y)];
    if (px < chartArea.left || px > chartArea.right) return;
    const foot = Math.min(chartArea.bottom - 8, py + 70 + 34 * (i % 3));
    ctx.strokeStyle = colors.ink;
    ctx.lineWidth = 1.5;
    ctx.beginPath();
    ctx.moveTo(px, py);
    ctx.lineTo(px, foot);
    ctx.stroke();
    ctx.fillStyle = colors.ground;
    ctx.lineWidth = 2;
    ctx.fillRect(px - 5, py - 5, 10, 10);
    ctx.strokeRect(px - 5, py - 5, 10, 10);
    ctx.fillStyle = colors.ink;
    ctx.font = `600 15px ${colors.font}`;
    ctx.textAlign = 'left';
    ctx.fillText(point.label, px + 8, foot - 4);
  });
  ctx.restore();
}

/** Words at the ends, moved apart where curves end close together. */
function drawLabels(chart: Chart, { curves }: OverlayContent, colors: ChartColors): void {
  const { ctx, chartArea, scales } = chart;
  const { x, y } = scales;
  if (x === undefined || y === undefined) return;
  const ends = curves
    .flatMap((curve) => {
      const last = curve.points.findLast((point) => point.x <= x.max && point.x >= x.min);
      return last === undefined ? [] : [{ curve, at: y.getPixelForValue(last.y), x: x.getPixelForValue(last.x) }];
    })
    .sort((a, b) => a.at - b.at);
  let lowest = chartArea.top + 4;
  ctx.save();
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  for (const { curve, at } of ends) {
    const place = Math.max(lowest, at);
    lowest = place + 17;
    ctx.font = `${curve.strong ? 700 : 400} 15px ${colors.font}`;
    ctx.fillStyle = curve.strong ? colors.ink : colorOf(curve.style, colors);
    ctx.fillText(curve.label.length > 19 ? `${curve.label.slice(0, 18)}…` : curve.label, chartArea.right + 8, place);
  }
  ctx.restore();
}

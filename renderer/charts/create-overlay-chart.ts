/**
 * Many curves over each other, lined up at light-off. Told apart by dash and by a word at the curve's end, never by colour alone.
 * Imperative like the trend: created once, fed, destroyed.
 */
import { Chart, LinearScale, LineController, LineElement, PointElement, type ChartDataset, type Plugin } from 'chart.js';
import { readColors, type ChartColors } from './chart-colors.ts';
import { labelPlaces, pointsInSight, type XY } from './overlay-points.ts';
import { formatNumber } from '../../shared/format/quantity.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale);

export type OverlayCurve = {
  readonly id: string;
  /** begins with the curve's number in the table, so that it is found without its colour */
  readonly label: string;
  /** shown units, in the order of x */
  readonly points: readonly XY[];
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
  /** over the value axis */
  readonly unit: string;
  readonly minutes: (value: string) => string;
  readonly lightOff: string;
};
export type OverlayRange = { readonly fromS: number; readonly toS: number };

export type OverlayChart = {
  draw(content: OverlayContent, range: OverlayRange): void;
  themeChanged(): void;
  /** as PNG on the ground of the theme, with what has to be said above the curves */
  picture(title: string, watermark: string | undefined): string;
  destroy(): void;
};

export const curveDashes: readonly (readonly number[])[] = [[], [9, 5], [14, 4, 2, 4], [2, 5], [10, 4, 2, 4, 2, 4], [22, 6]];
/** room for names at the curves' ends; longer ones take a second line */
const RIGHT = 200;

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
  // fonts, themes and frames may still call a chart that has left the page; it cannot be drawn any more
  let gone = false;
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
      layout: { padding: { top: 22, right: RIGHT, bottom: 28, left: 0 } },
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
      if (gone) return;
      content = next;
      range = nextRange;
      const columns = Math.max(200, Math.round((chart.chartArea?.width ?? canvas.clientWidth) || 700));
      const sight = next.curves.map((curve) => ({ ...curve, points: pointsInSight(curve.points, range.fromS, range.toS, columns) }));
      chart.data.datasets = sight.map((curve) => datasetOf(curve, colors));
      let [low, high] = [Infinity, -Infinity];
      for (const { points } of sight)
        for (const { x, y } of points) {
          if (x < range.fromS || x > range.toS) continue;
          if (y < low) low = y;
          if (y > high) high = y;
        }
      if (low > high) [low, high] = [0, 1];
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
      if (gone) return;
      colors = readColors(canvas);
      if (content !== undefined) this.draw(content, range);
    },
    picture(title, watermark) {
      const sheet = document.createElement('canvas');
      const ratio = canvas.width / Math.max(1, canvas.clientWidth);
      const head = 44 * ratio;
      sheet.width = canvas.width;
      sheet.height = canvas.height + head;
      const ctx = sheet.getContext('2d');
      if (ctx === null) return '';
      ctx.fillStyle = colors.ground;
      ctx.fillRect(0, 0, sheet.width, sheet.height);
      ctx.fillStyle = colors.ink;
      ctx.font = `650 ${20 * ratio}px ${colors.font}`;
      ctx.textBaseline = 'middle';
      ctx.fillText(title, 16 * ratio, head / 2);
      if (watermark !== undefined) {
        ctx.save();
        ctx.globalAlpha = 0.16;
        ctx.textAlign = 'center';
        ctx.font = `700 ${84 * ratio}px ${colors.font}`;
        ctx.translate(sheet.width / 2, sheet.height / 2);
        ctx.rotate(-Math.PI / 9);
        ctx.fillText(watermark, 0, 0);
        ctx.restore();
      }
      ctx.drawImage(canvas, 0, head);
      return sheet.toDataURL('image/png');
    },
    destroy() {
      gone = true;
      chart.destroy();
    },
  };
}

const colorOf = (style: number, colors: ChartColors): string =>
  [colors.o2, colors.co, colors.stackTemperature, colors.airTemperature, colors.fifth, colors.sixth][style] ?? colors.third;

/** The run that is measured now has no dash and the colour of the ink; a kept one keeps its dash and colour when it is looked at. */
const lineColor = ({ style }: Pick<OverlayCurve, 'style'>, colors: ChartColors): string =>
  style === 0 ? colors.ink : colorOf(style, colors);

const datasetOf = ({ points, style, strong }: OverlayCurve, colors: ChartColors): ChartDataset<'line', { x: number; y: number }[]> => ({
  data: points as { x: number; y: number }[],
  borderColor: lineColor({ style }, colors),
  borderWidth: strong ? 4 : style > 5 ? 1 : 2.5,
  borderDash: [...(curveDashes[style] ?? [])],
  borderJoinStyle: 'round',
  pointRadius: 0,
  tension: 0,
  spanGaps: false,
  order: strong ? 0 : 1,
});

function drawGround(chart: Chart, { band, minutes, lightOff, decimals, unit }: OverlayContent, colors: ChartColors): void {
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
  ctx.textAlign = 'left';
  ctx.fillText(unit, 0, chartArea.top - 9);
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

const LABEL_HEIGHT = 17;

/** Words at the ends, moved apart where curves end close together; a thin line leads to a word that had to move. */
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
  ctx.save();
  ctx.font = `700 15px ${colors.font}`;
  const tall = ends.some(({ curve }) => linesOf(ctx, curve.label).length > 1) ? 2 : 1;
  const places = labelPlaces(
    ends.map(({ at }) => at),
    chartArea.top + 4,
    chartArea.bottom - 4 - (tall - 1) * LABEL_HEIGHT,
    LABEL_HEIGHT * tall + (tall - 1) * 4,
  );
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  ends.forEach(({ curve, at, x: endX }, i) => {
    const place = places[i] ?? at;
    ctx.strokeStyle = ctx.fillStyle = lineColor(curve, colors);
    if (Math.abs(place - at) > 6 || endX < chartArea.right - 12) {
      ctx.lineWidth = 1;
      ctx.beginPath();
      ctx.moveTo(endX + 3, at);
      ctx.lineTo(chartArea.right - 2, at);
      ctx.lineTo(chartArea.right + 7, place);
      ctx.stroke();
    }
    ctx.font = `${curve.strong ? 700 : 400} 15px ${colors.font}`;
    linesOf(ctx, curve.label).forEach((text, line) => ctx.fillText(text, chartArea.right + 10, place + line * LABEL_HEIGHT));
  });
  ctx.restore();
}

/** A name that is wider than the room goes on in a second line, broken between words; what is still too long ends in dots. */
function linesOf(ctx: CanvasRenderingContext2D, label: string): string[] {
  const most = RIGHT - 14;
  const fits = (text: string): boolean => ctx.measureText(text).width <= most;
  if (fits(label)) return [label];
  const words = label.split(' ');
  let first = words[0] ?? '';
  let used = 1;
  while (used < words.length && fits(`${first} ${words[used] ?? ''}`)) first = `${first} ${words[used++] ?? ''}`;
  let second = words.slice(used).join(' ');
  if (second === '') [first, second] = [label.slice(0, 20), label.slice(20)];
  if (fits(second)) return [first, second];
  while (second !== '' && !fits(`${second}…`)) second = second.slice(0, -1);
  return [first, `${second}…`];
}

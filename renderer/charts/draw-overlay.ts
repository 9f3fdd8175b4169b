/** What is not a curve in the overlay: ground, axes, band, points with words, names at the curves' ends. */
import type { Chart } from 'chart.js';
import type { ChartColors } from './chart-colors.ts';
import { labelPlaces } from './overlay-points.ts';
import { formatNumber } from '../../shared/format/quantity.ts';
import type { OverlayCurve, OverlayContent } from './overlay-content.ts';

/** room for names at the curves' ends; longer ones take a second line */
export const RIGHT = 200;

const colorOf = (style: number, colors: ChartColors): string =>
  [colors.o2, colors.co, colors.stackTemperature, colors.airTemperature, colors.fifth, colors.sixth][style] ?? colors.third;

/** The run that is measured now has no dash and the colour of the ink; a kept one keeps its dash and colour when it is looked at. */
export const lineColor = ({ style }: Pick<OverlayCurve, 'style'>, colors: ChartColors): string =>
  style === 0 ? colors.ink : colorOf(style, colors);

export function drawGround(chart: Chart, { band, minutes, lightOff, decimals, unit }: OverlayContent, colors: ChartColors): void {
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

export function drawPoints(chart: Chart, { points }: OverlayContent, colors: ChartColors): void {
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
export function drawLabels(chart: Chart, { curves }: OverlayContent, colors: ChartColors): void {
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

/** What every drawer of the trend gets, and the strokes that they share. Plain canvas, called by the chart. */
import type { ChartColors } from './chart-colors.ts';
import type { TrendSpan, TrendStrip } from './trend-content.ts';
import type { StripScale } from './strip-scale.ts';

export type StripFrame = {
  strip: TrendStrip;
  scale: StripScale;
  top: number;
  bottom: number;
  yOf: (inner: number) => number;
  labelOf: (shown: number) => string;
  /** single values that the scale does not follow */
  strays: readonly StrayValue[];
  strayText: (shown: number) => string;
};
/** `value` in the shown unit */
export type StrayValue = { timeMs: number; value: number };
export type TrendFrame = {
  context: CanvasRenderingContext2D;
  colors: ChartColors;
  left: number;
  right: number;
  top: number;
  bottom: number;
  nowX: number;
  xOf: (timeMs: number) => number;
  strips: readonly StripFrame[];
};
const FONT_SIZE = 15;
export const font = (colors: ChartColors, weight: number): string => `${weight} ${FONT_SIZE}px ${colors.font}`;

export function inside({ context, left, right, top, bottom }: TrendFrame, draw: () => void): void {
  context.save();
  context.beginPath();
  context.rect(left, top, right - left, bottom - top);
  context.clip();
  draw();
  context.restore();
}

export function line(
  context: CanvasRenderingContext2D,
  color: string,
  width: number,
  points: readonly (readonly [number, number])[],
  dash: readonly number[] = [],
): void {
  context.strokeStyle = color;
  context.lineWidth = width;
  context.setLineDash([...dash]);
  context.beginPath();
  points.forEach(([x, y], index) => (index === 0 ? context.moveTo(x, y) : context.lineTo(x, y)));
  context.stroke();
  context.setLineDash([]);
}

export function hatch(context: CanvasRenderingContext2D, color: string, x: number, y: number, width: number, height: number): void {
  context.save();
  context.beginPath();
  context.rect(x, y, width, height);
  context.clip();
  context.strokeStyle = color;
  context.lineWidth = 1.5;
  context.beginPath();
  const step = 11.3;
  const start = Math.floor((x - y - height) / step) * step;
  for (let offset = start; offset < x + width - y; offset += step) {
    context.moveTo(offset + y, y);
    context.lineTo(offset + y + height, y + height);
  }
  context.stroke();
  context.restore();
}

export const clampSpan = (frame: TrendFrame, { fromMs, toMs }: TrendSpan, lastX = frame.right): { x: number; width: number } => {
  const x = Math.max(frame.left, frame.xOf(fromMs));
  return { x, width: Math.min(frame.right, lastX, frame.xOf(toMs)) - x };
};

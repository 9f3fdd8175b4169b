/** Draws what is not a curve: shading, hatch, marks, readings, slots, axes. Plain canvas, called by the chart. */
import type { ChartColors } from './chart-colors.ts';
import type { TimeTick } from './trend-window.ts';
import type { TrendMark, TrendSpan, TrendStrip } from './trend-content.ts';
import { lowEndOf, type StripScale } from './strip-scale.ts';

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

const HEAD = 34;
const FONT_SIZE = 15;
const font = (colors: ChartColors, weight: number): string => `${weight} ${FONT_SIZE}px ${colors.font}`;

function inside({ context, left, right, top, bottom }: TrendFrame, draw: () => void): void {
  context.save();
  context.beginPath();
  context.rect(left, top, right - left, bottom - top);
  context.clip();
  draw();
  context.restore();
}

function line(
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

function hatch(context: CanvasRenderingContext2D, color: string, x: number, y: number, width: number, height: number): void {
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

const clampSpan = (frame: TrendFrame, { fromMs, toMs }: TrendSpan, lastX = frame.right): { x: number; width: number } => {
  const x = Math.max(frame.left, frame.xOf(fromMs));
  return { x, width: Math.min(frame.right, lastX, frame.xOf(toMs)) - x };
};

/** Under the curves: settled stretches with their foot line, value grid, hatch, marks. */
export function drawBehind(
  frame: TrendFrame,
  { gaps, excluded, marks }: { gaps: readonly TrendSpan[]; excluded: readonly TrendSpan[]; marks: readonly TrendMark[] },
): void {
  const { context, colors, left, right, top, bottom } = frame;
  frame.strips.forEach((one) => {
    const tall = one.bottom - one.top;
    context.save();
    for (const span of one.strip.settled) {
      const { x, width } = clampSpan(frame, span);
      if (width <= 0) continue;
      context.fillStyle = colors.accentSoft;
      context.globalAlpha = 0.55;
      context.fillRect(x, one.top, width, tall);
      context.globalAlpha = 1;
      context.fillStyle = colors.accent;
      context.fillRect(x, one.bottom - 3, width, 3);
    }
    context.restore();
    for (const tick of one.scale.ticks) {
      const y = Math.round(one.bottom - ((tick - one.scale.low) / (one.scale.high - one.scale.low)) * tall) + 0.5;
      if (y < one.top + 4 || y > one.bottom - 4) continue;
      line(context, colors.hairline, 1, [
        [left, y],
        [right, y],
      ]);
      context.fillStyle = colors.second;
      context.font = font(colors, 400);
      context.textAlign = 'right';
      context.textBaseline = 'middle';
      if (y > one.top + 8 && y < one.bottom - 8) context.fillText(one.labelOf(tick), left - 7, y);
    }
    line(context, colors.hairline, 1, [
      [0, Math.round(one.top) - 0.5],
      [right, Math.round(one.top) - 0.5],
    ]);
  });
  for (const span of excluded) {
    const { x, width } = clampSpan(frame, span, frame.nowX);
    if (width > 0) hatch(context, colors.third, x, top, width, bottom - top);
  }
  for (const span of gaps) {
    const { x, width } = clampSpan(frame, span);
    if (width <= 0) continue;
    context.fillStyle = colors.ground;
    context.fillRect(x, top, width, bottom - top);
    hatch(context, colors.third, x, top, Math.max(4, width), bottom - top);
  }
  inside(frame, () => {
    for (const { timeMs } of marks) {
      const x = Math.round(frame.xOf(timeMs)) + 0.5;
      line(context, colors.ink, 1.5, [
        [x, top],
        [x, bottom],
      ]);
    }
  });
}

/** Over the curves: now, forecast and its slot, the start of a silence, readings as open squares. */
export function drawInFront(frame: TrendFrame, lostSinceMs: number | undefined): void {
  const { context, colors, top, bottom, right, nowX } = frame;
  inside(frame, () => {
    line(context, colors.third, 1.5, [
      [nowX, top],
      [nowX, bottom],
    ]);
    if (lostSinceMs !== undefined) {
      const x = frame.xOf(lostSinceMs);
      line(context, colors.alarm, 2, [
        [x, top],
        [x, bottom],
      ]);
    }
    for (const one of frame.strips) {
      const points = one.strip.forecast
        .map(({ timeMs, value }) => [frame.xOf(timeMs), one.yOf(value)] as const)
        .filter(([x]) => x >= nowX - 1);
      if (points.length > 1) line(context, colors.second, 2.5, points, [3, 6]);
      if (one.strip.heading !== undefined && nowX < right - 20) drawSlot(frame, one);
      if (one.strip.drift !== undefined) drawDrift(frame, one, one.strip.drift);
      if (one.strip.swing !== undefined) drawSwing(frame, one, one.strip.swing);
      drawStrays(frame, one);
      for (const { timeMs, value } of one.strip.readings) drawSquare(frame, frame.xOf(timeMs), one.yOf(value));
    }
  });
}

function drawSlot({ context, colors, right }: TrendFrame, { strip, yOf, top, bottom }: StripFrame): void {
  const heading = strip.heading as { value: number; band: number };
  const high = Math.max(top + 3, yOf(heading.value + heading.band));
  const low = Math.min(bottom - 4, yOf(lowEndOf(heading, strip.channel)));
  if (low - high < 3) return;
  line(context, colors.ink, 3, [
    [right - 17, high],
    [right - 8, high],
    [right - 8, low],
    [right - 17, low],
  ]);
}

/** What runs out of the strip by itself: an arrow at the edge it leaves by, and its value as far as there is room. */
function drawStrays(frame: TrendFrame, { strip, strays, strayText, scale, top, bottom }: StripFrame): void {
  const { context, colors, right, xOf } = frame;
  const outside = strays.filter(({ value }) => value < scale.low || value > scale.high);
  let freeFrom = -Infinity;
  for (const { timeMs, value } of outside) {
    const x = xOf(timeMs);
    const isHigh = value > scale.high;
    const [tip, foot] = isHigh ? [top + 2, top + 13] : [bottom - 5, bottom - 16];
    context.fillStyle = colors[strip.channel];
    context.beginPath();
    context.moveTo(x, tip);
    context.lineTo(x - 7, foot);
    context.lineTo(x + 7, foot);
    context.fill();
    context.font = font(colors, 600);
    const text = strayText(value);
    const width = context.measureText(text).width;
    const start = x + 10 + width < right ? x + 10 : x - 10 - width;
    if (start < freeFrom) continue;
    freeFrom = start + width + 8;
    context.textAlign = 'left';
    context.textBaseline = 'middle';
    context.strokeStyle = colors.ground;
    context.lineWidth = 4;
    context.strokeText(text, start, (tip + foot) / 2);
    context.fillStyle = colors.ink;
    context.fillText(text, start, (tip + foot) / 2);
  }
}

/** Two strokes that end at a tip and open against the way (dx, dy). */
function drawTip({ context, colors }: TrendFrame, x: number, y: number, dx: number, dy: number): void {
  const angle = Math.atan2(dy, dx);
  const arm = (turn: number): readonly [number, number] => [x - 11 * Math.cos(angle + turn), y - 11 * Math.sin(angle + turn)];
  line(context, colors.ink, 2.5, [arm(0.65), [x, y], arm(-0.65)]);
}

/** The slope goes straight on and ends in a chevron: no slot, for it does not come to rest. */
function drawDrift(frame: TrendFrame, { yOf, top, bottom }: StripFrame, { value, toMs, toValue }: NonNullable<TrendStrip['drift']>): void {
  const { context, colors, nowX, xOf } = frame;
  const inStrip = (y: number): number => Math.min(bottom - 8, Math.max(top + 8, y));
  const [fromY, toX, toY] = [inStrip(yOf(value)), xOf(toMs), inStrip(yOf(toValue))];
  line(
    context,
    colors.second,
    2.5,
    [
      [nowX, fromY],
      [toX, toY],
    ],
    [3, 6],
  );
  drawTip(frame, toX, toY, toX - nowX, toY - fromY);
}

/** Dashed lines at both ends of the swing, and an arrow both ways between them ahead of now. */
function drawSwing(frame: TrendFrame, { yOf, top, bottom }: StripFrame, { fromMs, low, high }: NonNullable<TrendStrip['swing']>): void {
  const { context, colors, nowX, right, xOf } = frame;
  const ends = [Math.max(top + 3, yOf(high)), Math.min(bottom - 5, yOf(low))] as const;
  const toX = nowX + (right - nowX) * 0.7;
  for (const y of ends)
    line(
      context,
      colors.second,
      1.5,
      [
        [xOf(fromMs), y],
        [toX, y],
      ],
      [5, 4],
    );
  const [upper, lower] = [ends[0] + 3, ends[1] - 3];
  const x = nowX + (right - nowX) * 0.45;
  if (lower - upper < 24) return;
  line(context, colors.ink, 2, [
    [x, upper],
    [x, lower],
  ]);
  drawTip(frame, x, upper, 0, -1);
  drawTip(frame, x, lower, 0, 1);
}

function drawSquare({ context, colors }: TrendFrame, x: number, y: number): void {
  context.fillStyle = colors.ground;
  context.strokeStyle = colors.ink;
  context.lineWidth = 2;
  context.fillRect(x - 5, y - 5, 10, 10);
  context.strokeRect(x - 5, y - 5, 10, 10);
}

/** Names of the marks in the top row; a name that has no room is left out, its line stays. */
export function drawMarkNames({ context, colors, left, right, top, xOf }: TrendFrame, marks: readonly TrendMark[]): void {
  context.font = font(colors, 600);
  context.fillStyle = colors.ink;
  context.textAlign = 'left';
  context.textBaseline = 'alphabetic';
  const sorted = [...marks].filter(({ timeMs }) => xOf(timeMs) < right - 8).sort((a, b) => a.timeMs - b.timeMs);
  sorted.forEach(({ timeMs, label }, index) => {
    const x = xOf(timeMs);
    const nextMark = sorted[index + 1];
    const limit = nextMark === undefined ? right : xOf(nextMark.timeMs);
    if (x < left - 1 && limit < left + 20) return;
    const start = Math.max(left, x) + 1;
    const short = label.split(' · ')[0] ?? label;
    const fits = (text: string): boolean => start + context.measureText(text).width < limit - 8;
    const text = fits(label) ? label : fits(short) ? short : undefined;
    if (text !== undefined) context.fillText(text, start, top - HEAD + 21);
    if (x >= left)
      line(context, colors.ink, 1.5, [
        [Math.round(x) + 0.5, top - 8],
        [Math.round(x) + 0.5, top],
      ]);
  });
}

export function drawTimeAxis({ context, colors, bottom, left, right, xOf }: TrendFrame, ticks: readonly TimeTick[]): void {
  context.font = font(colors, 400);
  context.fillStyle = colors.second;
  context.textBaseline = 'alphabetic';
  let endOfLast = -Infinity;
  line(context, colors.hairline, 1, [
    [0, Math.round(bottom) + 0.5],
    [right, Math.round(bottom) + 0.5],
  ]);
  for (const { timeMs, text } of ticks) {
    const x = xOf(timeMs);
    if (x < left - 1 || x > right + 1) continue;
    const half = context.measureText(text).width / 2;
    const centre = Math.min(right - half, Math.max(left + half - 40, x));
    if (centre - half < endOfLast + 10) continue;
    endOfLast = centre + half;
    line(context, colors.edge, 1, [
      [Math.round(x) + 0.5, bottom],
      [Math.round(x) + 0.5, bottom + 5],
    ]);
    context.textAlign = 'center';
    context.fillText(text, centre, bottom + 20);
  }
}

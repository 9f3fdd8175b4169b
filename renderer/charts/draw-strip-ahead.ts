/** What one strip shows over its curve: slot, drift, swing, values out of scale, readings. */
import type { TrendStrip } from './trend-content.ts';
import { lowEndOf } from './strip-scale.ts';
import { type StripFrame, type TrendFrame, font, line } from './trend-frame.ts';

export function drawSlot({ context, colors, right }: TrendFrame, { strip, yOf, top, bottom }: StripFrame): void {
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
export function drawStrays(frame: TrendFrame, { strip, strays, strayText, scale, top, bottom }: StripFrame): void {
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
export function drawDrift(
  frame: TrendFrame,
  { yOf, top, bottom }: StripFrame,
  { value, toMs, toValue }: NonNullable<TrendStrip['drift']>,
): void {
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
export function drawSwing(
  frame: TrendFrame,
  { yOf, top, bottom }: StripFrame,
  { fromMs, low, high }: NonNullable<TrendStrip['swing']>,
): void {
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

export function drawSquare({ context, colors }: TrendFrame, x: number, y: number): void {
  context.fillStyle = colors.ground;
  context.strokeStyle = colors.ink;
  context.lineWidth = 2;
  context.fillRect(x - 5, y - 5, 10, 10);
  context.strokeRect(x - 5, y - 5, 10, 10);
}

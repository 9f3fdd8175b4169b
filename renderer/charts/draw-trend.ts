/** Draws what is not a curve: shading, hatch, marks, readings, slots, axes. Plain canvas, called by the chart. */
import type { TrendMark, TrendSpan } from './trend-content.ts';
import { type TrendFrame, font, inside, line, hatch, clampSpan } from './trend-frame.ts';
import { drawSlot, drawStrays, drawDrift, drawSwing, drawSquare } from './draw-strip-ahead.ts';

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

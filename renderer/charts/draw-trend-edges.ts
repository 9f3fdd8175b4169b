/** Names of the marks above the trend, and its time axis. */
import type { TimeTick } from './trend-window.ts';
import type { TrendMark } from './trend-content.ts';
import { type TrendFrame, font, line } from './trend-frame.ts';

const HEAD = 34;

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

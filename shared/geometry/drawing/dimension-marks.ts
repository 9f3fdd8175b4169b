/** One dimension: its lines, arrows and figure. */
import type { Dimension, Point } from './drawing.ts';
import { writtenLength as n, type PictureMark } from './picture-mark.ts';

export function dimensionMarks(
  dimension: Dimension,
  at: (point: Point) => [number, number],
  isStrong: boolean,
  options: { readonly figure: (dimension: Dimension) => string; readonly text?: { readonly plain: number; readonly strong: number } },
): PictureMark[] {
  const { figure, text = { plain: 15, strong: 24 } } = options;
  const look = isStrong ? 'g-ink' : 'g-third';
  const size = isStrong ? text.strong : text.plain;
  const [arrow, wing] = isStrong ? [9.9, 4.4] : [6.3, 2.8];
  const written = dimension.source === 'card' ? `[${figure(dimension)}]` : figure(dimension);
  const [from, to] = [at(dimension.from), at(dimension.to)];
  const marks: PictureMark[] = [];
  const textLook = isStrong ? 'g-text-strong' : 'g-text-third';
  const named = isStrong ? { item: dimension.item } : {};
  if (dimension.axis === 'y') {
    const x = at([dimension.at, 0])[0];
    const [low, high] = [Math.max(from[1], to[1]), Math.min(from[1], to[1])];
    marks.push({
      kind: 'path',
      d: `M${n(from[0] + 5)} ${n(from[1])}H${n(x + 14)}M${n(to[0] + 8)} ${n(to[1])}H${n(x + 14)}`,
      look,
      width: isStrong ? 1.2 : 0.8,
    });
    const isNarrow = low - high < 3 * arrow;
    const arrows = isNarrow
      ? `M${n(x)} ${n(low + 20)}V${n(low)}M${n(x - wing)} ${n(low + arrow)}L${n(x)} ${n(low)}L${n(x + wing)} ${n(low + arrow)}M${n(x)} ${n(high - 20)}V${n(high)}M${n(x - wing)} ${n(high - arrow)}L${n(x)} ${n(high)}L${n(x + wing)} ${n(high - arrow)}`
      : `M${n(x)} ${n(low)}V${n(high)}M${n(x + wing)} ${n(high + arrow)}L${n(x)} ${n(high)}L${n(x - wing)} ${n(high + arrow)}M${n(x - wing)} ${n(low - arrow)}L${n(x)} ${n(low)}L${n(x + wing)} ${n(low - arrow)}`;
    marks.push({ kind: 'path', d: arrows, look, width: isStrong ? 2.5 : 1.2 });
    marks.push({ kind: 'text', x: x + 14, y: (low + high) / 2 + size / 3, text: written, look: textLook, size, ...named });
    return marks;
  }
  const y = at([0, dimension.at])[1];
  const [left, right] = [Math.min(from[0], to[0]), Math.max(from[0], to[0])];
  const past = (point: [number, number]): string => `M${n(point[0])} ${n(point[1])}V${n(y + (y > point[1] ? 6 : -6))}`;
  if (Math.abs(from[1] - y) > 2)
    marks.push({ kind: 'path', d: `${past(from)}${past(to)}`, look: isStrong ? 'g-ink' : 'g-hair', width: isStrong ? 1.2 : 1 });
  else {
    // the line lies below the parts: it is led up to them
    marks.push({
      kind: 'path',
      d: `M${n(from[0])} ${n(y - 10)}v16M${n(to[0])} ${n(y - 10)}v16`,
      look: isStrong ? 'g-ink' : 'g-hair',
      width: 1.2,
    });
  }
  const isNarrow = right - left < 3.2 * arrow;
  const d = isNarrow
    ? `M${n(left - 18)} ${n(y)}H${n(left)}M${n(left - arrow)} ${n(y - wing)}L${n(left)} ${n(y)}L${n(left - arrow)} ${n(y + wing)}M${n(right + 18)} ${n(y)}H${n(right)}M${n(right + arrow)} ${n(y + wing)}L${n(right)} ${n(y)}L${n(right + arrow)} ${n(y - wing)}`
    : `M${n(left)} ${n(y)}H${n(right)}M${n(left + arrow)} ${n(y + wing)}L${n(left)} ${n(y)}L${n(left + arrow)} ${n(y - wing)}M${n(right - arrow)} ${n(y - wing)}L${n(right)} ${n(y)}L${n(right - arrow)} ${n(y + wing)}`;
  marks.push({ kind: 'path', d, look, width: isStrong ? 2.5 : 1.2 });
  const isBelow = Math.abs(from[1] - y) <= 2;
  // over the arrows there is the nozzle: its figure is beside them
  const place =
    dimension.item === 'tipToMetal'
      ? ({ x: right + (isNarrow ? 26 : 8), y: y + size / 3, anchor: 'start' } as const)
      : ({ x: (left + right) / 2, y: isBelow ? y + size + 4 : y - 9, anchor: 'middle' } as const);
  marks.push({ kind: 'text', ...place, text: written, look: textLook, size, ...named });
  return marks;
}

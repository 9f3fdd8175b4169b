/** Names beside the parts of a side view, for who sees the drawing for the first time. */
import type { Part, Point, View } from './drawing/drawing.ts';
import type { PictureMark } from './drawing/picture-mark.ts';

export type PartName = 'nozzle' | 'head' | 'tube';

/** px between a part and its name */
const CLEAR = 8;

/**
 * @param size drawing units per mm
 * @param text height of the letters, drawing units
 * @returns a name in or beside each part of the upper half of the view
 */
export function partNames(view: View, names: Readonly<Record<PartName, string>>, size: number, text: number): PictureMark[] {
  const corners = (part: Part): Point[] =>
    view.shapes.flatMap((shape) =>
      shape.part === part && shape.kind === 'line' ? shape.points.filter(([, y]) => part === 'nozzle' || y > 0) : [],
    );
  const mark = (part: PartName, x: number, y: number, anchor: 'start' | 'middle' | 'end'): PictureMark => ({
    kind: 'text',
    x,
    y,
    text: names[part],
    look: 'g-text-third',
    anchor,
    size: text,
  });
  const right = (x: number): number => (x - view.box.left) * size;
  const down = (y: number): number => (view.box.top - y) * size;
  const [nozzle, head, tube] = [corners('nozzle'), corners('head'), corners('tube')];
  const xs = (points: readonly Point[]): number[] => points.map(([x]) => x);
  const ys = (points: readonly Point[]): number[] => points.map(([, y]) => y);
  return [
    // below the centreline, clear of it
    ...(nozzle.length === 0
      ? []
      : [mark('nozzle', right((Math.min(...xs(nozzle)) + Math.max(...xs(nozzle))) / 2), down(0) + text + 3, 'middle')]),
    ...(head.length === 0
      ? []
      : [
          mark('head', right(Math.max(...xs(head))) + CLEAR, down((Math.min(...ys(head)) + Math.max(...ys(head))) / 2) + text / 3, 'start'),
        ]),
    ...(tube.length === 0
      ? []
      : [mark('tube', right(Math.max(...xs(tube))) - CLEAR / 2, down(Math.min(...ys(tube))) + text + CLEAR / 2, 'end')]),
  ];
}

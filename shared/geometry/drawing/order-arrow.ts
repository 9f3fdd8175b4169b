/** The arrow that points the way to bend or move, with its verb: for the far view, where the order has to be seen before it is read. */
import type { View } from './drawing.ts';
import type { Direction } from '../items.ts';
import type { PictureMark } from './picture-mark.ts';

type Way = readonly [x: number, y: number];

/** As the views are drawn: forward is to the right, up is up; of two arrows the left one belongs to the left tip. `set-to` has no way. */
export const waysOf: Readonly<Record<Direction, readonly Way[]>> = {
  'spread-tips': [
    [-1, 0],
    [1, 0],
  ],
  'close-tips': [
    [1, 0],
    [-1, 0],
  ],
  'raise-tips': [[0, 1]],
  'lower-tips': [[0, -1]],
  'move-tips-forward': [[1, 0]],
  'move-tips-back': [[-1, 0]],
  'move-tips-from-metal': [[-1, 0]],
  'move-tips-to-metal': [[1, 0]],
  // the left tip is drawn as the lower one
  'level-tips': [
    [0, 1],
    [0, -1],
  ],
  'move-nozzle-forward': [[1, 0]],
  'move-nozzle-back': [[-1, 0]],
  // the nozzle is drawn to the right of the middle
  'centre-nozzle': [[-1, 0]],
  'move-head-forward': [[1, 0]],
  'move-head-back': [[-1, 0]],
  'set-to': [],
};

const LENGTH_MM = 8;
const WING_MM = 2.6;
const WIDTH = 8;
/** Beside the front view, which is full. */
export const ORDER_ROOM_MM = 24;
/** between two arrows beside each other */
const APART_MM = 5;

/**
 * Where nothing else is drawn.
 *
 * @param size drawing units per mm
 * @param view `side`: right of the nozzle, below its centreline; `front`: in the room beside the view
 */
export function orderArrow(
  direction: Direction,
  verb: string,
  { box, size, view, text }: { box: View['box']; size: number; view: 'side' | 'front'; text: number },
): PictureMark[] {
  const ways = waysOf[direction];
  if (ways.length === 0) return [];
  const middle = view === 'side' ? Math.min(box.right * 0.28, 12) : box.right + ORDER_ROOM_MM / 2;
  const height = view === 'side' ? -7.5 : box.bottom + 12;
  const at = (x: number, y: number): [number, number] => [(x - box.left) * size, (box.top - y) * size];
  const half = LENGTH_MM / 2;
  const spread = ways.length === 1 ? 0 : ways[0]?.[0] === 0 ? APART_MM / 2 : half + 1.5;
  const n = (value: number): string => String(Number(value.toFixed(2)));
  let right = 0;
  const marks = ways.map(([dx, dy], index): PictureMark => {
    const x = middle + (index === 0 ? -spread : spread);
    const [[ax, ay], [bx, by]] = [at(x - dx * half, height - dy * half), at(x + dx * half, height + dy * half)];
    right = Math.max(right, ax, bx);
    // back from the point, along the arrow and across it; y goes down on the page
    const [along, across] = [WING_MM * size, WING_MM * size];
    const wing = (side: 1 | -1): string =>
      `M${n(bx - dx * along - side * dy * across)} ${n(by + dy * along - side * dx * across)}L${n(bx)} ${n(by)}`;
    return { kind: 'path', d: `M${n(ax)} ${n(ay)}L${n(bx)} ${n(by)}${wing(1)}${wing(-1)}`, look: 'g-ink', width: WIDTH };
  });
  const [, y] = at(0, height);
  if (view === 'front') {
    const [x, below] = at(middle, height - half);
    return [...marks, { kind: 'text', x, y: below + text + 6, text: verb, look: 'g-text-strong', anchor: 'middle', size: text }];
  }
  return [...marks, { kind: 'text', x: right + WING_MM * size + 8, y: y + text / 3, text: verb, look: 'g-text-strong', size: text }];
}

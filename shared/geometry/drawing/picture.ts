/**
 * A view in mm -> marks in drawing units, for the window, the far view and paper alike: one factor for the whole drawing, so what is drawn
 * is as long as its figure says. `size` is drawing units per mm; y goes down.
 */
import type { Dimension, Part, Point, Shape, Slot, View } from './drawing.ts';
import { drawnMm, electrodeWidthMm } from './drawing.ts';
import type { Direction, GeometryItem } from '../items.ts';
import { ORDER_ROOM_MM, orderArrow } from './order-arrow.ts';
import { writtenLength as n, type Picture, type PictureMark } from './picture-mark.ts';
import { dimensionMarks } from './dimension-marks.ts';

export type PictureOptions = {
  /** drawing units per mm */
  readonly size: number;
  /** the one dimension that is drawn strong; without it all are alike */
  readonly strong?: GeometryItem | undefined;
  readonly figure: (dimension: Dimension) => string;
  readonly cardWord: string;
  /** these are drawn strong too, with their slots: the answers of a lesson */
  readonly marked?: readonly GeometryItem[];
  /** the part is not on the bench now */
  readonly dashedTube?: boolean;
  /** the part of the view that is shown, mm; the whole view without it */
  readonly box?: View['box'] | undefined;
  readonly dimensions?: 'all' | 'strong' | 'none';
  readonly slots?: 'all' | 'strong' | 'none';
  readonly text?: { readonly plain: number; readonly strong: number };
  /** drawn behind, fainter: as found behind as left */
  readonly ghost?: View | undefined;
  /** which way to bend or move, as an arrow with its verb */
  readonly order?: { readonly direction: Direction; readonly verb: string; readonly view: 'side' | 'front' } | undefined;
};

/** Which part a dimension belongs to: it is drawn as dark as its figure. */
const partsOf: Readonly<Record<GeometryItem, readonly Part[]>> = {
  electrodeGap: ['electrode', 'porcelain'],
  heightAboveCentreline: ['electrode', 'porcelain'],
  aheadOfNozzle: ['electrode', 'porcelain'],
  tipToMetal: ['electrode', 'porcelain', 'metal'],
  tipDifference: ['electrode', 'porcelain'],
  nozzleToHead: ['head'],
  offCentre: ['nozzle', 'orifice'],
  headToTubeEnd: ['head', 'tube'],
  headSetting: ['head'],
  shutterStart: [],
  bandStart: [],
};

const HEAD_MM = 1.75;
const METAL_MM = 1.2;
const PORCELAIN_HALF_MM = 4;

export function pictureOf(view: View, options: PictureOptions): Picture {
  const { size, strong, box = view.box, dimensions = 'all', slots = 'all', ghost, marked = [] } = options;
  const isMarked = (item: GeometryItem): boolean => item === strong || marked.includes(item);
  const at = ([x, y]: Point): [number, number] => [(x - box.left) * size, (box.top - y) * size];
  const dark = new Set<Part>(strong === undefined ? ['electrode', 'porcelain', 'crack', 'head', 'nozzle', 'orifice'] : partsOf[strong]);
  const tone = (part: Part): string =>
    dark.has(part) ? 'g-ink' : part === 'nozzle' || part === 'adapter' || part === 'orifice' ? 'g-second' : 'g-edge';
  const marks: PictureMark[] = [];
  if (ghost !== undefined)
    for (const shape of ghost.shapes)
      if (shape.part === 'electrode' || shape.part === 'head') marks.push(shapeMark(shape, at, size, 'g-ghost'));
  const drawn = [...view.shapes].sort((a, b) => order(a.part, dark) - order(b.part, dark));
  const shownSlots =
    slots === 'none'
      ? []
      : view.slots.filter(({ item }) => slots === 'all' || (strong === undefined && marked.length === 0) || isMarked(item));
  let slotsDrawn = false;
  for (const shape of drawn) {
    if (!slotsDrawn && (shape.part === 'electrode' || shape.part === 'porcelain')) {
      marks.push(...shownSlots.flatMap((slot) => slotMarks(slot, at)));
      slotsDrawn = true;
    }
    const look = shape.part === 'tube' && options.dashedTube === true ? `${tone(shape.part)} g-dashed` : tone(shape.part);
    marks.push(shapeMark(shape, at, size, look));
  }
  const main = shownSlots.find(({ item }) => item === strong);
  if (main !== undefined) marks.push(...cardWordMark(main, at, options));
  for (const dimension of view.dimensions) {
    const isStrong = isMarked(dimension.item);
    // a part that is where it should be, to nothing, has no length to draw
    if (!isStrong && drawnMm(dimension) < 0.05) continue;
    if (dimensions === 'none' || (dimensions === 'strong' && !isStrong)) continue;
    marks.push(...dimensionMarks(dimension, at, isStrong, options));
  }
  if (options.order !== undefined) {
    const { direction, verb, view: place } = options.order;
    marks.push(...orderArrow(direction, verb, { box, size, view: place, text: options.text?.plain ?? 15 }));
  }
  const room = options.order?.view === 'front' ? ORDER_ROOM_MM : 0;
  return { width: (box.right - box.left + room) * size, height: (box.top - box.bottom) * size, marks };
}

const order = (part: Part, dark: ReadonlySet<Part>): number =>
  (part === 'electrode' ? 20 : part === 'porcelain' ? 21 : part === 'crack' ? 26 : part === 'centreline' ? 5 : part === 'orifice' ? 9 : 0) +
  (dark.has(part) ? 3 : 0);

function shapeMark(shape: Shape, at: (point: Point) => [number, number], size: number, look: string): PictureMark {
  if (shape.kind === 'circle') {
    const [x, y] = at(shape.centre);
    const fill = shape.part === 'orifice' ? 'g-dot' : shape.part === 'porcelain' ? `${look} g-filled` : look;
    const width = shape.part === 'head' ? 3 : 1.5;
    return { kind: 'circle', x, y, r: shape.radius * size, look: fill, width };
  }
  const points = shape.points.map(at);
  if (shape.part === 'porcelain') return { kind: 'path', d: bar(points, PORCELAIN_HALF_MM * size), look: `${look} g-filled`, width: 1.5 };
  const d = `M${points.map(([x, y]) => `${n(x)} ${n(y)}`).join('L')}${shape.closed ? 'Z' : ''}`;
  switch (shape.part) {
    case 'electrode':
      return { kind: 'path', d, look, width: electrodeWidthMm * size };
    case 'head':
      return { kind: 'path', d, look, width: HEAD_MM * size };
    case 'metal':
      return { kind: 'path', d, look, width: METAL_MM * size };
    case 'crack':
      return { kind: 'path', d, look, width: 2 };
    case 'nozzle':
    case 'adapter':
      return { kind: 'path', d, look: `${look} g-filled`, width: 2 };
    case 'centreline':
      return { kind: 'path', d, look: 'g-edge g-axis', width: 1 };
    case 'spray':
      return { kind: 'path', d, look: 'g-edge g-dashed', width: 1 };
    default:
      return { kind: 'path', d, look, width: 1.5 };
  }
}

/** A line as a box of some thickness. */
function bar(points: readonly [number, number][], half: number): string {
  const [[ax, ay], [bx, by]] = [points[0] ?? [0, 0], points[1] ?? [0, 0]];
  const length = Math.hypot(bx - ax, by - ay) || 1;
  const [ux, uy] = [(-(by - ay) / length) * half, ((bx - ax) / length) * half];
  const corners: [number, number][] = [
    [ax + ux, ay + uy],
    [bx + ux, by + uy],
    [bx - ux, by - uy],
    [ax - ux, ay - uy],
  ];
  return `M${corners.map(([x, y]) => `${n(x)} ${n(y)}`).join('L')}Z`;
}

/** A pair of brackets; the clear gap between them is the tolerance to scale. */
function slotMarks(slot: Slot, at: (point: Point) => [number, number]): PictureMark[] {
  const isUp = slot.axis === 'y';
  const TICK = 2.7;
  const LINE = 3;
  const [l0, h0] = isUp
    ? [at([slot.at - slot.half, slot.low]), at([slot.at - slot.half, slot.high])]
    : [at([slot.low, slot.at + slot.half]), at([slot.high, slot.at + slot.half])];
  const [l1, h1] = isUp
    ? [at([slot.at + slot.half, slot.low]), at([slot.at + slot.half, slot.high])]
    : [at([slot.low, slot.at - slot.half]), at([slot.high, slot.at - slot.half])];
  const half = LINE / 2;
  const d = isUp
    ? `M${n(h0[0])} ${n(h0[1] + TICK - half)}V${n(h0[1] - half)}H${n(h1[0])}V${n(h0[1] + TICK - half)}M${n(l0[0])} ${n(l0[1] - TICK + half)}V${n(l0[1] + half)}H${n(l1[0])}V${n(l0[1] - TICK + half)}`
    : `M${n(h0[0] - TICK + half)} ${n(h0[1])}H${n(h0[0] + half)}V${n(h1[1])}H${n(h0[0] - TICK + half)}M${n(l0[0] + TICK - half)} ${n(l0[1])}H${n(l0[0] - half)}V${n(l1[1])}H${n(l0[0] + TICK - half)}`;
  return [{ kind: 'path', d, look: 'g-accent', width: LINE }];
}

function cardWordMark(slot: Slot, at: (point: Point) => [number, number], { cardWord, text }: PictureOptions): PictureMark[] {
  const size = text?.plain ?? 15;
  if (slot.axis === 'y') {
    const [x, y] = at([slot.at - slot.half, (slot.low + slot.high) / 2]);
    return [{ kind: 'text', x: x - 7, y: y + size / 3, text: cardWord, look: 'g-text-accent', anchor: 'end', size }];
  }
  const [x, y] = at([(slot.low + slot.high) / 2, slot.at - slot.half]);
  return [{ kind: 'text', x, y: y + size + 5, text: cardWord, look: 'g-text-accent', anchor: 'middle', size }];
}

/**
 * A view in mm -> marks in drawing units, for the window, the far view and paper alike: one factor for the whole drawing, so what is drawn
 * is as long as its figure says. `size` is drawing units per mm; y goes down.
 */
import type { Dimension, Part, Point, Shape, Slot, View } from './drawing.ts';
import { drawnMm, electrodeWidthMm } from './drawing.ts';
import type { Direction, GeometryItem } from './items.ts';
import { ORDER_ROOM_MM, orderArrow } from './order-arrow.ts';
import type { PictureMark } from './picture-mark.ts';

export type Picture = { readonly width: number; readonly height: number; readonly marks: readonly PictureMark[] };

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
const n = (value: number): string => String(Number(value.toFixed(3)));

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

function dimensionMarks(
  dimension: Dimension,
  at: (point: Point) => [number, number],
  isStrong: boolean,
  options: PictureOptions,
): PictureMark[] {
  const { figure, text = { plain: 15, strong: 24 } } = options;
  const look = isStrong ? 'g-ink' : 'g-third';
  const size = isStrong ? text.strong : text.plain;
  const [arrow, wing] = isStrong ? [9.9, 4.4] : [6.3, 2.8];
  const written = dimension.source === 'card' ? `[${figure(dimension)}]` : figure(dimension);
  const [from, to] = [at(dimension.from), at(dimension.to)];
  const marks: PictureMark[] = [];
  const textLook = isStrong ? 'g-text-strong' : 'g-text-third';
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
    marks.push({ kind: 'text', x: x + 14, y: (low + high) / 2 + size / 3, text: written, look: textLook, size });
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
  marks.push({ kind: 'text', ...place, text: written, look: textLook, size });
  return marks;
}

export type CloseUp = {
  readonly width: number;
  readonly height: number;
  /** mm, or marks */
  readonly value: number | undefined;
  readonly limits: { readonly low: number; readonly high: number } | undefined;
  readonly verdict: 'pass' | 'fail' | 'none';
  readonly target: number | undefined;
  /** one tick, and how many of them carry a figure */
  readonly tick: number;
  readonly labelEvery: number;
  readonly label: (value: number) => string;
  /** how far the reading may be off, half */
  readonly half: number;
};

/** The scale beside the drawing: slot, measured value with its whisker, and an arrow that points the way to move. */
export function closeUpPicture({ width, height, value, limits, verdict, target, tick, labelEvery, label, half }: CloseUp): Picture {
  const ends = [
    value,
    target,
    Number.isFinite(limits?.low) ? limits?.low : undefined,
    Number.isFinite(limits?.high) ? limits?.high : undefined,
  ].filter((one) => one !== undefined);
  if (ends.length === 0) return { width, height, marks: [] };
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const middle = Math.round((least + most) / 2 / tick) * tick;
  const reach = Math.max(4 * tick, Math.ceil((most - least) / 2 / tick + 1.6) * tick);
  const from = Math.max(0, middle - reach);
  const to = from + 2 * reach;
  const x = 22;
  const y = (one: number): number => height - 12 - ((one - from) / (to - from)) * (height - 24);
  const marks: PictureMark[] = [{ kind: 'path', d: `M${x} ${n(y(from))}V${n(y(to))}`, look: 'g-edge', width: 1 }];
  const count = Math.round((to - from) / tick);
  const thin = Math.max(1, Math.ceil(count / 12));
  for (let index = 0; index <= count; index += 1) {
    const at = from + index * tick;
    const isLabelled = Math.round(at / tick) % (labelEvery * thin) === 0;
    if (!isLabelled && thin > 1) continue;
    marks.push({ kind: 'path', d: isLabelled ? `M${x - 8} ${n(y(at))}h16` : `M${x - 5} ${n(y(at))}h10`, look: 'g-edge', width: 1 });
    if (isLabelled) marks.push({ kind: 'text', x: x + 26, y: y(at) + 5, text: label(at), look: 'g-text-second', size: 15 });
  }
  if (limits !== undefined) {
    const [w, t] = [18, 10];
    const high = Number.isFinite(limits.high)
      ? `M${x - w} ${n(y(limits.high) + t)}V${n(y(limits.high))}H${x + w}V${n(y(limits.high) + t)}`
      : '';
    const low = Number.isFinite(limits.low) ? `M${x - w} ${n(y(limits.low) - t)}V${n(y(limits.low))}H${x + w}V${n(y(limits.low) - t)}` : '';
    marks.push({ kind: 'path', d: high + low, look: 'g-accent', width: 3.5 });
  }
  if (value === undefined) return { width, height, marks };
  const at = y(value);
  const whisker = Math.max(4, (half / (to - from)) * (height - 24));
  const look = verdict === 'fail' ? 'g-alarm' : verdict === 'pass' ? 'g-accent' : 'g-second';
  if (half > 0)
    marks.push({
      kind: 'path',
      d: `M${x} ${n(at - whisker)}V${n(at + whisker)}M${x - 6} ${n(at - whisker)}h12M${x - 6} ${n(at + whisker)}h12`,
      look,
      width: 2.5,
    });
  if (verdict === 'fail') {
    marks.push({ kind: 'path', d: `M${x - 9} ${n(at - 9)}l18 18M${x + 9} ${n(at - 9)}l-18 18`, look, width: 4.5 });
    if (target !== undefined) {
      const way = target > value ? -1 : 1;
      const [start, end] = [at + way * 16, y(target) - way * 4];
      if ((end - start) * way > 10)
        marks.push({ kind: 'path', d: `M${x} ${n(start)}V${n(end)}m-7 ${-way * 9}l7 ${way * 9}l7 ${-way * 9}`, look: 'g-ink', width: 2.5 });
    }
  } else marks.push({ kind: 'path', d: `M${x - 9} ${n(at)}h18`, look: verdict === 'pass' ? 'g-pin' : 'g-second', width: 9 });
  return { width, height, marks };
}

/**
 * Side and front view in mm, from the same figures as the fields: nothing is drawn by eye. The window, the report and the true-size sheet
 * turn these shapes into pixels or paper with one factor for the whole drawing.
 *
 * Side view: x along the burner's axis, 0 at the nozzle's face, forward is positive; y up from the nozzle's centreline.
 * Front view: looking at the nozzle; x to the right of the head's centre, y up from it.
 */
import type { GeometryItem } from '../items.ts';
import { whenDefined } from '../../defined.ts';

export type Point = readonly [x: number, y: number];
export type Part =
  | 'nozzle'
  | 'adapter'
  | 'orifice'
  | 'electrode'
  | 'porcelain'
  | 'head'
  | 'tube'
  | 'spray'
  | 'centreline'
  | 'metal'
  | 'crack';
export type Shape =
  | { readonly part: Part; readonly kind: 'line'; readonly points: readonly Point[]; readonly closed: boolean }
  | { readonly part: Part; readonly kind: 'circle'; readonly centre: Point; readonly radius: number };

/** A distance with its figure: drawn between two points that differ only along its axis. */
export type Dimension = {
  readonly item: GeometryItem;
  readonly axis: 'x' | 'y';
  readonly from: Point;
  readonly to: Point;
  /** where the line with the arrows is, across the axis */
  readonly at: number;
  /** a figure from the card stands in brackets until it is measured */
  readonly source: 'measured' | 'card';
};
/** Where the card wants the part: the clear distance between the brackets is the tolerance, to scale. */
export type Slot = {
  readonly item: GeometryItem;
  readonly axis: 'x' | 'y';
  readonly low: number;
  readonly high: number;
  readonly at: number;
  readonly half: number;
};

export type View = {
  readonly shapes: readonly Shape[];
  readonly dimensions: readonly Dimension[];
  readonly slots: readonly Slot[];
  readonly box: Box;
};
export type Box = { readonly left: number; readonly right: number; readonly bottom: number; readonly top: number };

export type DrawnFigure = {
  readonly mm: number;
  readonly source: 'measured' | 'card';
  readonly slot?: { low: number; high: number } | undefined;
};
export type DrawnFigures = Partial<Record<GeometryItem, DrawnFigure>> & {
  readonly sprayAngleDeg?: number;
  readonly porcelainCracked?: boolean;
};

/** Plain shapes of no maker; only the dimensions count. All in mm. */
const nozzleShape = { half: 7, face: 4.4, length: 21, shoulder: 6, hexagon: 8.2, orifice: 0.6, adapterHalf: 11, adapter: 7 } as const;
const ELECTRODE = 2.4;
const headHalf = 30;
const headHole = 17;
const tubeHalf = 41;
const TUBE_WALL = 2;
/** What is drawn where neither the gauge nor the card has a figure: the shape must be somewhere, without a dimension. */
const placed = { electrodeGap: 4, heightAboveCentreline: 12, aheadOfNozzle: 3, nozzleToHead: 22, headToTubeEnd: 20 } as const;

const mm = (figures: DrawnFigures, item: keyof typeof placed): number => figures[item]?.mm ?? placed[item];
const line = (part: Part, points: readonly Point[], closed = false): Shape => ({ part, kind: 'line', points, closed });
const circle = (part: Part, centre: Point, radius: number): Shape => ({ part, kind: 'circle', centre, radius });

/**
 * @param cut only what is worked on: the lower half of head and tube is left out, and the dimensions move up
 * @param metal a piece of metal at the measured distance from the tip; where it is on the burner nobody measured, so it is drawn for teaching
 *   and for its own step only
 */
export function sideView(figures: DrawnFigures, { cut = false, metal = false }: { cut?: boolean; metal?: boolean } = {}): View {
  const tip: Point = [mm(figures, 'aheadOfNozzle'), mm(figures, 'heightAboveCentreline')];
  const headX = mm(figures, 'nozzleToHead');
  const tubeX = headX + mm(figures, 'headToTubeEnd');
  const { half, face, length, shoulder, adapterHalf, adapter } = nozzleShape;
  const left = -(length + adapter + 10);
  const spray = figures.sprayAngleDeg;
  const metalX = metal && figures.tipToMetal !== undefined ? tip[0] + figures.tipToMetal.mm : undefined;
  const reach = Math.max(10, headX);
  const shapes: Shape[] = [
    line('centreline', [
      [left, 0],
      [tubeX + 2, 0],
    ]),
    line(
      'adapter',
      [
        [-length - adapter, adapterHalf],
        [-length, adapterHalf],
        [-length, -adapterHalf],
        [-length - adapter, -adapterHalf],
      ],
      true,
    ),
    line(
      'nozzle',
      [
        [-length, half],
        [-shoulder, half],
        [0, face],
        [0, -face],
        [-shoulder, -half],
        [-length, -half],
      ],
      true,
    ),
    line('porcelain', [
      [tip[0] - 31, tip[1] + 11],
      [tip[0] - 13, tip[1] + 8.5],
    ]),
    line('electrode', [[tip[0] - 13, tip[1] + 8.5], [tip[0] - 6, tip[1] + 7.5], tip]),
    ...(figures.porcelainCracked === true
      ? [
          line('crack', [
            [tip[0] - 23.5, tip[1] + 14.2],
            [tip[0] - 21.6, tip[1] + 11.4],
            [tip[0] - 23.2, tip[1] + 9.2],
            [tip[0] - 21.3, tip[1] + 5.6],
          ]),
        ]
      : []),
    ...whenDefined(metalX, (metalX) =>
      line('metal', [
        [metalX, tip[1] - 3],
        [metalX, tip[1] + 14],
        [metalX + 5, tip[1] + 14],
      ]),
    ),
    line('head', [
      [headX - 5, headHalf + 3],
      [headX, headHalf],
      [headX, headHole],
      [headX - 2.5, headHole - 1.5],
    ]),
    line('head', [
      [headX - 5, -headHalf - 3],
      [headX, -headHalf],
      [headX, -headHole],
      [headX - 2.5, -headHole + 1.5],
    ]),
    line('tube', [
      [left, tubeHalf + TUBE_WALL],
      [tubeX, tubeHalf + TUBE_WALL],
      [tubeX, tubeHalf],
      [left, tubeHalf],
    ]),
    line('tube', [
      [left, -tubeHalf - TUBE_WALL],
      [tubeX, -tubeHalf - TUBE_WALL],
      [tubeX, -tubeHalf],
      [left, -tubeHalf],
    ]),
    ...(spray === undefined
      ? []
      : [1, -1].map((way) =>
          line('spray', [
            [0, 0],
            [reach, way * reach * Math.tan((spray * Math.PI) / 360)],
          ]),
        )),
  ];
  const below = cut ? -nozzleShape.adapterHalf - 6 : -tubeHalf - 8;
  const slotY = (headHalf + headHole) / 2;
  return {
    shapes: cut
      ? shapes.filter(
          ({ part, ...shape }) => (part !== 'head' && part !== 'tube') || shape.kind !== 'line' || shape.points.every(([, y]) => y > 0),
        )
      : shapes,
    dimensions: [
      dimension(figures, 'heightAboveCentreline', 'y', [tip[0], 0], tip, tip[0] + 8),
      dimension(figures, 'aheadOfNozzle', 'x', [0, tip[1]], tip, tip[1] + 15),
      metalX === undefined ? undefined : dimension(figures, 'tipToMetal', 'x', tip, [metalX, tip[1]], tip[1] - 7),
      dimension(figures, 'nozzleToHead', 'x', [0, below], [headX, below], below),
      dimension(figures, 'headToTubeEnd', 'x', [headX, below], [tubeX, below], below),
    ].filter((one) => one !== undefined),
    slots: [
      slot(figures, 'heightAboveCentreline', 'y', 0, tip[0], 4),
      slot(figures, 'aheadOfNozzle', 'x', 0, tip[1], 4),
      slot(figures, 'nozzleToHead', 'x', 0, slotY, 7),
      slot(figures, 'headToTubeEnd', 'x', tubeX, cut ? slotY : -slotY, 7, -1),
    ].filter((one) => one !== undefined),
    box: { left, right: tubeX + 4, bottom: below - (cut ? 9 : 8), top: tubeHalf + 5 },
  };
}

export function frontView(figures: DrawnFigures, { cut = false }: { cut?: boolean } = {}): View {
  const gap = mm(figures, 'electrodeGap');
  const height = mm(figures, 'heightAboveCentreline');
  const difference = figures.tipDifference?.mm ?? 0;
  const off = figures.offCentre?.mm ?? 0;
  const tips: readonly [Point, Point] = [
    [off - gap / 2, height - difference / 2],
    [off + gap / 2, height + difference / 2],
  ];
  const hexagon = Array.from({ length: 6 }, (_, corner): Point => {
    const angle = ((corner * 60 + 30) * Math.PI) / 180;
    return [off + nozzleShape.hexagon * Math.cos(angle), nozzleShape.hexagon * Math.sin(angle)];
  });
  const reach = tubeHalf + TUBE_WALL;
  const shapes: Shape[] = [
    circle('tube', [0, 0], reach),
    circle('tube', [0, 0], tubeHalf),
    circle('head', [0, 0], headHalf),
    circle('head', [0, 0], headHole),
    line('centreline', [
      [-reach - 2, 0],
      [reach + 2, 0],
    ]),
    line('centreline', [
      [0, -reach - 2],
      [0, reach + 2],
    ]),
    line('nozzle', hexagon, true),
    circle('nozzle', [off, 0], nozzleShape.face),
    circle('orifice', [off, 0], nozzleShape.orifice),
    ...tips.flatMap((tip, index): Shape[] => {
      const way = index === 0 ? -1 : 1;
      const end: Point = [tip[0] + way * 9.5, tip[1] + 9];
      return [line('electrode', [tip, end]), circle('porcelain', [end[0], end[1] + 2.5], 3.6)];
    }),
  ];
  return {
    shapes: cut
      ? shapes.filter(({ part, ...shape }) => part !== 'tube' && (part !== 'head' || (shape.kind === 'circle' && shape.radius < headHalf)))
      : shapes,
    dimensions: [
      dimension(figures, 'electrodeGap', 'x', tips[0], [tips[1][0], tips[0][1]], Math.max(tips[0][1], tips[1][1]) + 20),
      dimension(figures, 'tipDifference', 'y', tips[0], [tips[0][0], tips[1][1]], tips[1][0] + 14),
      dimension(figures, 'offCentre', 'x', [0, -nozzleShape.hexagon], [off, -nozzleShape.hexagon], -nozzleShape.hexagon - 5),
    ].filter((one) => one !== undefined),
    slots: [slot(figures, 'heightAboveCentreline', 'y', 0, off, 6)].filter((one) => one !== undefined),
    box: cut
      ? { left: -headHole - 4, right: headHole + 4, bottom: -nozzleShape.adapterHalf - 12, top: tubeHalf + 5 }
      : { left: -reach - 4, right: reach + 4, bottom: -reach - 4, top: reach + 4 },
  };
}

function dimension(figures: DrawnFigures, item: GeometryItem, axis: 'x' | 'y', from: Point, to: Point, at: number): Dimension | undefined {
  const figure = figures[item];
  return figure === undefined ? undefined : { item, axis, from, to, at, source: figure.source };
}

/** @param from where the card's figure is measured from, @param way 1 towards greater coordinates, -1 towards smaller ones */
function slot(
  figures: DrawnFigures,
  item: GeometryItem,
  axis: 'x' | 'y',
  from: number,
  at: number,
  half: number,
  way: 1 | -1 = 1,
): Slot | undefined {
  const limits = figures[item]?.slot;
  if (limits === undefined || !Number.isFinite(limits.low) || !Number.isFinite(limits.high)) return undefined;
  const ends = [from + way * limits.low, from + way * limits.high] as const;
  return { item, axis, low: Math.min(...ends), high: Math.max(...ends), at, half };
}

/** How far apart the drawn points of a dimension are, mm: what a ruler on a true-size sheet shows. */
export const drawnMm = ({ axis, from, to }: Dimension): number => Math.abs(axis === 'x' ? to[0] - from[0] : to[1] - from[1]);
export const electrodeWidthMm = ELECTRODE;

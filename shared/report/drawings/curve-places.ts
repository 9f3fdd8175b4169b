/** Places on the air curve: smoke above CO on one O2 axis. Pure. */
import { scaleLinear, type ScaleLinear } from 'd3-scale';
import { whenDefined } from '../../defined.ts';

export type PicturePoint = {
  readonly number: number;
  readonly o2: number;
  readonly o2Half: number;
  readonly smoke: number | undefined;
  readonly smokeHalf: number | undefined;
  readonly coPpm: number | undefined;
  readonly coHalf?: number | undefined;
  readonly settled: boolean;
  readonly asLeft: boolean;
};
export type AirCurvePicture = {
  readonly points: readonly PicturePoint[];
  readonly onset: { readonly o2: number; readonly low: number; readonly high: number } | undefined;
  readonly window: { readonly fromO2: number; readonly toO2: number; readonly reserveO2Points?: number | undefined } | undefined;
  /** the setting to try next */
  readonly next?: { readonly expectedO2: number; readonly low: number; readonly high: number } | undefined;
  readonly words: { readonly smoke: string; readonly co: string; readonly o2: string; readonly simulated: string | undefined };
  readonly label: string;
};

export type CurveSize = {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly smokeTop: number;
  readonly smokeBottom: number;
  readonly coTop: number;
  readonly coBottom: number;
  readonly axis: number;
};

export const curveSizes = {
  window: { width: 772, height: 314, left: 78, right: 760, top: 30, smokeTop: 38, smokeBottom: 153, coTop: 190, coBottom: 272, axis: 276 },
  paper: { width: 424, height: 188, left: 70, right: 416, top: 6, smokeTop: 16, smokeBottom: 84, coTop: 104, coBottom: 148, axis: 152 },
} as const satisfies Record<string, CurveSize>;

export type CurveScales = {
  readonly o2: ScaleLinear<number, number>;
  readonly smoke: ScaleLinear<number, number>;
  readonly co: ScaleLinear<number, number>;
  readonly o2Ticks: readonly number[];
  readonly smokeTicks: readonly number[];
  readonly coTicks: readonly number[];
};

const LEAST_SPAN_O2 = 4;

/** One rule for window and paper: whole points of O2, the smoke scale 0 to 3, 5 or 9, CO in round steps. */
export function curveScales({ points, onset, window, next }: AirCurvePicture, size: CurveSize): CurveScales {
  const places = points.flatMap(({ o2, o2Half }) => [o2 - o2Half, o2 + o2Half]);
  if (next !== undefined) places.push(next.low, next.high);
  if (window !== undefined) places.push(window.fromO2, window.toO2);
  if (onset !== undefined) places.push(onset.low, onset.high);
  let from = Math.max(0, Math.floor(Math.min(...places, 8) - 0.2));
  let to = Math.min(21, Math.ceil(Math.max(...places, 4) + 0.2));
  while (to - from < LEAST_SPAN_O2) {
    if (from > 0) from -= 1;
    else to += 1;
  }
  const highest = Math.max(2, ...points.map(({ smoke, smokeHalf }) => (smoke ?? 0) + (smokeHalf ?? 0)));
  const smokeTop = highest <= 3 ? 3 : highest <= 5 ? 5 : 9;
  const mostCo = Math.max(60, ...points.map(({ coPpm, coHalf }) => (coPpm ?? 0) + (coHalf ?? 0)));
  const co = scaleLinear().domain([0, mostCo]).nice(3).range([size.coBottom, size.coTop]);
  const coTicks = co.ticks(3).filter((tick, index, all) => size.coBottom - size.coTop > 60 || all.length < 5 || index % 2 === 0);
  return {
    o2: scaleLinear().domain([from, to]).range([size.left, size.right]),
    smoke: scaleLinear().domain([0, smokeTop]).range([size.smokeBottom, size.smokeTop]),
    co,
    o2Ticks: Array.from({ length: to - from + 1 }, (_, index) => from + index).filter((tick) => to - from <= 12 || tick % 2 === 0),
    smokeTicks: smokeTop === 3 ? [0, 1, 2, 3] : smokeTop === 5 ? [0, 1, 2, 3, 4, 5] : [0, 3, 6, 9],
    coTicks,
  };
}

/** half the side of a trial's square */
export const BOX = 6;
const LETTER_HEIGHT = 12;
/** clear paper between two numbers: nearer than this, 4 beside 8 reads as 48 */
const BETWEEN = 6;
const LINE = LETTER_HEIGHT + 2;

export type Rect = { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
/** One label: the number of a trial, or of several at one place. */
export type NumberPlace = {
  readonly numbers: readonly number[];
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly rect: Rect;
};

export const overlaps = (one: Rect, other: Rect): boolean =>
  one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom;

const boxAt = (x: number, y: number): Rect => ({ left: x - BOX, right: x + BOX, top: y - BOX, bottom: y + BOX });

/** bold figures of 10 pt, in CSS pixels: as wide as they are set */
const textWidth = (text: string): number => [...text].reduce((sum, sign) => sum + (/[\d+]/.test(sign) ? 9 : 4.5), 0);

type Group = { readonly x: number; readonly y: number; readonly numbers: number[] };

/** Trials whose squares lie on each other have one label; the one that is as left leads it. */
function groupsOf(points: readonly PicturePoint[], scales: CurveScales): Group[] {
  const groups: Group[] = [];
  const asLeftFirst = [...points].sort((one, other) => Number(other.asLeft) - Number(one.asLeft));
  for (const { number, o2, smoke, coPpm } of asLeftFirst) {
    const x = scales.o2(o2);
    const y = smoke === undefined ? (coPpm === undefined ? undefined : scales.co(Math.max(0, coPpm))) : scales.smoke(smoke);
    if (y === undefined) continue;
    const same = groups.find((group) => Math.abs(group.x - x) <= BOX && Math.abs(group.y - y) <= BOX);
    if (same === undefined) groups.push({ x, y, numbers: [number] });
    else same.numbers.push(number);
  }
  return groups;
}

const labelOf = ([first, ...more]: readonly number[]): string =>
  more.length === 0 ? String(first) : more.length === 1 ? `${first}, ${more[0]}` : `${first} +${more.length}`;

/**
 * Where each trial's number stands: above its square, or the nearest place that is free of every other number and square. Trials at
 * one place share a label ("7, 15", or "7 +4"). A label without any free place is left out, and the drawing says that the table has it.
 *
 * @param uprights x of lines through the panel: a number stands beside them where there is room
 */
export function numberPlaces(
  points: readonly PicturePoint[],
  scales: CurveScales,
  size: CurveSize,
  uprights: readonly number[] = [],
): NumberPlace[] {
  const squares = points.flatMap((point) => {
    const x = scales.o2(point.o2);
    return [
      ...whenDefined(point.smoke, (smoke) => boxAt(x, scales.smoke(smoke))),
      ...whenDefined(point.coPpm, (coPpm) => boxAt(x, scales.co(Math.max(0, coPpm)))),
    ];
  });
  const placed: NumberPlace[] = [];
  for (const { x, y, numbers } of groupsOf(points, scales)) {
    const text = labelOf(numbers);
    const width = textWidth(text);
    const rectAt = (middle: number, foot: number): Rect => ({
      left: middle - width / 2,
      right: middle + width / 2,
      top: foot - LETTER_HEIGHT,
      bottom: foot,
    });
    const side = BOX + 3 + width / 2;
    const above = y - BOX - 5;
    const tries: [number, number][] = [
      [x, above],
      [x + side, y - BOX - 2],
      [x - side, y - BOX - 2],
      [x, above - LINE],
      [x, y + BOX + LINE],
      [x, above - 2 * LINE],
      [x, above - 3 * LINE],
      [x + side, above - LINE],
      [x - side, above - LINE],
      [x, y + BOX + 2 * LINE],
    ];
    const open = tries
      .map(([middle, foot]) => ({ numbers, text, x: middle, y: foot, rect: rectAt(middle, foot) }))
      .filter(
        ({ rect }) =>
          rect.top >= size.top - 2 &&
          rect.left >= size.left + 2 &&
          rect.right <= size.right &&
          rect.bottom <= size.axis &&
          !squares.some((square) => overlaps(rect, square)) &&
          !placed.some((one) => overlaps({ ...rect, left: rect.left - BETWEEN, right: rect.right + BETWEEN }, one.rect)),
      );
    const free = open.find(({ rect }) => !uprights.some((at) => rect.left < at + 3 && rect.right > at - 3)) ?? open[0];
    if (free !== undefined) placed.push(free);
  }
  return placed;
}

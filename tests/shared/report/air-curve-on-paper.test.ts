/** The air curve as paper draws it: its numbers and its scales. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  BOX,
  curveScales,
  curveSizes,
  numberPlaces,
  overlaps,
  type AirCurvePicture,
  type PicturePoint,
  type Rect,
} from '../../../shared/report/drawings/curve-places.ts';
import { scaleSpan } from '../../../shared/report/drawings/scale-span.ts';
import { createElement } from 'react';
import { AirCurveDrawing } from '../../../shared/report/drawings/AirCurveDrawing.tsx';
import { markup } from '../../../shared/report/markup.ts';

const point = (number: number, o2: number, smoke: number, coPpm: number): PicturePoint => ({
  number,
  o2,
  o2Half: 0.3,
  smoke,
  smokeHalf: 0.5,
  coPpm,
  settled: true,
  asLeft: number === 1,
});
/** four CSS pixels at either side: nearer than this, 4 beside 8 reads as 48 */
const withAir = (rect: Rect): Rect => ({ ...rect, left: rect.left - 4, right: rect.right + 4 });

const pictureOf = (points: PicturePoint[]): AirCurvePicture => ({
  points,
  onset: undefined,
  window: undefined,
  words: { smoke: '', co: '', o2: '', simulated: undefined },
  label: 'curve',
});
const drawn = (points: PicturePoint[]): string => markup(createElement(AirCurveDrawing, { picture: pictureOf(points), place: 'paper' }));

describe('the numbers at the air curve', () => {
  it.each(['window', 'paper'] as const)('never lie over each other, however near the trials: %s', (place) => {
    const anyPoint = fc.tuple(
      fc.double({ min: 1, max: 12, noNaN: true }),
      fc.integer({ min: 0, max: 9 }),
      fc.integer({ min: 0, max: 900 }),
    );
    fc.assert(
      fc.property(fc.array(anyPoint, { minLength: 1, maxLength: 40 }), (list) => {
        const points = list.map(([o2, smoke, co], index) => point(index + 1, o2, smoke, co));
        const size = curveSizes[place];
        const places = numberPlaces(points, curveScales(pictureOf(points), size), size);
        expect(places.length).toBeGreaterThan(0);
        for (const [index, one] of places.entries())
          for (const other of places.slice(index + 1)) expect(overlaps(withAir(one.rect), other.rect)).toBe(false);
      }),
      { seed: 24 },
    );
  });
  it('all stand there in an everyday row of trials, two of them at the same place', () => {
    const points = [8, 7, 6, 5, 5.05, 4, 3].map((o2, index) => point(index + 1, o2, o2 < 4 ? 2 : 0, 20));
    const size = curveSizes.paper;
    const places = numberPlaces(points, curveScales(pictureOf(points), size), size);
    expect(places.flatMap(({ numbers }) => numbers).sort()).toEqual([1, 2, 3, 4, 5, 6, 7]);
  });
  it.each(['window', 'paper'] as const)('share one label where forty trials were taken at eight settings: %s', (place) => {
    const eight = [7.2, 6.1, 5.1, 4.3, 3.7, 2.5, 1.4, 0.7];
    const points = Array.from({ length: 40 }, (_, index) => {
      const o2 = (eight[index % 8] ?? 0) + Math.floor(index / 8) * 0.01;
      return { ...point(index + 1, o2, index % 8 > 4 ? (index % 8) - 4 : 0, o2 < 2 ? 900 : 10), asLeft: index === 35 };
    });
    const size = curveSizes[place];
    const places = numberPlaces(points, curveScales(pictureOf(points), size), size);
    expect(places.flatMap(({ numbers }) => numbers).sort((one, other) => one - other)).toEqual(points.map(({ number }) => number));
    expect(places).toHaveLength(8);
    expect(places.map(({ text }) => text)).toContain('36 +4');
    for (const [index, one] of places.entries()) {
      for (const other of places.slice(index + 1)) expect(overlaps(withAir(one.rect), other.rect)).toBe(false);
      for (const { o2, smoke = 0 } of points) {
        const [x, y] = [curveScales(pictureOf(points), size).o2(o2), curveScales(pictureOf(points), size).smoke(smoke)];
        expect(overlaps(one.rect, { left: x - BOX, right: x + BOX, top: y - BOX, bottom: y + BOX })).toBe(false);
      }
    }
  });
  it('say in the drawing how many stand behind a label, and how many have none', () => {
    const many = Array.from({ length: 12 }, (_, index) => point(index + 1, 4, 0, 10));
    expect(drawn(many)).toContain('+11: that many more trials at this place');
    const crowd = Array.from({ length: 60 }, (_, index) => point(index + 1, 3 + index * 0.05, 0, 10));
    expect(drawn(crowd)).toMatch(/\d+ numbers? (is|are) in the table only/);
    expect(drawn([point(1, 4, 0, 10), point(2, 6, 0, 10)])).not.toContain('table only');
  });
  it('stand beside the onset of smoke and the ends of the window where there is room', () => {
    const points = [7, 5, 2.5].map((o2, index) => point(index + 1, o2, o2 < 3 ? 1 : 0, 20));
    const size = curveSizes.paper;
    const scales = curveScales(pictureOf(points), size);
    const onset = scales.o2(2.5);
    const third = numberPlaces(points, scales, size, [onset]).find(({ numbers }) => numbers[0] === 3);
    expect(third).toBeDefined();
    expect(third !== undefined && (third.rect.left > onset || third.rect.right < onset)).toBe(true);
  });
});

describe('a scale', () => {
  it('shows the limits and half their width on either side', () => {
    expect(scaleSpan({ value: 5, low: 4, high: 6 })).toEqual([3, 7]);
  });
  it('with one limit begins where the quantity begins, and has none without any', () => {
    expect(scaleSpan({ value: 10, high: 50, floor: 0 })).toEqual([0, 70]);
    expect(scaleSpan({ value: 10 })).toBeUndefined();
    expect(scaleSpan({ value: 10, high: Infinity })).toBeUndefined();
  });
});

/** Where the air curve begins and ends, and where the number of a trial goes when the place above it is taken. */
import { describe, expect, it } from 'vitest';
import {
  curveScales,
  curveSizes,
  numberPlaces,
  type AirCurvePicture,
  type PicturePoint,
} from '../../../shared/report/drawings/curve-places.ts';

const trial = (number: number, o2: number, more: Partial<PicturePoint> = {}): PicturePoint => ({
  number,
  o2,
  o2Half: 0,
  smoke: 1,
  smokeHalf: 0,
  coPpm: undefined,
  settled: true,
  asLeft: false,
  ...more,
});
const picture = (points: PicturePoint[], more: Partial<AirCurvePicture> = {}): AirCurvePicture => ({
  points,
  onset: undefined,
  window: undefined,
  words: { smoke: '', co: '', o2: '', simulated: undefined },
  label: '',
  ...more,
});
const size = curveSizes.window;

describe('the scales of the air curve', () => {
  const scalesOf = (points: PicturePoint[], more: Partial<AirCurvePicture> = {}, place: keyof typeof curveSizes = 'window') =>
    curveScales(picture(points, more), curveSizes[place]);
  const o2Of = (...given: Parameters<typeof scalesOf>): number[] => scalesOf(...given).o2.domain();

  it('go over whole points of O2 with 0.2 to spare, over four of them at least', () => {
    expect(o2Of([trial(1, 5)])).toEqual([2, 6]);
    expect(o2Of([])).toEqual([1, 5]);
    expect(o2Of([trial(1, 3.1), trial(2, 9.9)])).toEqual([2, 11]);
    expect(o2Of([trial(1, 3.2), trial(2, 9.8)])).toEqual([3, 10]);
    expect(o2Of([trial(1, 3.5, { o2Half: 0.4 }), trial(2, 9.5, { o2Half: 0.4 })])).toEqual([2, 11]);
  });
  it('take in the next setting, the window and the onset', () => {
    const points = [trial(1, 6)];
    expect(o2Of(points, { next: { expectedO2: 3, low: 2.5, high: 9.5 } })).toEqual([2, 10]);
    expect(o2Of(points, { window: { fromO2: 2.5, toO2: 9.5 } })).toEqual([2, 10]);
    expect(o2Of(points, { onset: { o2: 3, low: 2.5, high: 9.5 } })).toEqual([2, 10]);
  });
  it('end at none and at air', () => expect(o2Of([trial(1, 0.1), trial(2, 21)])).toEqual([0, 21]));
  it('name every point up to twelve of them, and every second one of more', () => {
    expect(scalesOf([trial(1, 1.5), trial(2, 12.5)]).o2Ticks).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]);
    expect(scalesOf([trial(1, 1.5), trial(2, 13.5)]).o2Ticks).toEqual([2, 4, 6, 8, 10, 12, 14]);
  });
  it('show smoke to 3, 5 or 9 with its ±', () => {
    const to = (smoke: number | undefined, smokeHalf: number | undefined): number[] => {
      const { smoke: scale, smokeTicks } = scalesOf([trial(1, 5, { smoke, smokeHalf })]);
      expect(scale.domain()).toEqual([0, smokeTicks.at(-1)]);
      expect(scale.range()).toEqual([size.smokeBottom, size.smokeTop]);
      return [...smokeTicks];
    };
    expect(to(undefined, undefined)).toEqual([0, 1, 2, 3]);
    expect(to(2.5, 0.5)).toEqual([0, 1, 2, 3]);
    expect(to(2.5, 0.6)).toEqual([0, 1, 2, 3, 4, 5]);
    expect(to(4.5, 0.5)).toEqual([0, 1, 2, 3, 4, 5]);
    expect(to(4.5, 0.6)).toEqual([0, 3, 6, 9]);
  });
  it('show CO with its ±, to 60 ppm at least; where there is little height, every second step', () => {
    expect(scalesOf([trial(1, 5)]).co.domain()).toEqual([0, 60]);
    expect(scalesOf([trial(1, 5, { coPpm: 90, coHalf: 20 })]).co.domain()).toEqual([0, 150]);
    expect(scalesOf([trial(1, 5, { coPpm: 90 })]).co.domain()).toEqual([0, 100]);
    const at = (place: keyof typeof curveSizes, coPpm: number) => [...scalesOf([trial(1, 5, { coPpm })], {}, place).coTicks];
    expect(at('window', 200)).toEqual([0, 50, 100, 150, 200]);
    expect(at('paper', 200)).toEqual([0, 100, 200]);
    expect(at('paper', 60)).toEqual([0, 20, 40, 60]);
  });
});

describe('the number of a trial', () => {
  const scales = curveScales(picture([trial(1, 1), trial(2, 11)]), size);
  /** px of the drawing: a digit is 9 wide and 12 tall, the square of a trial 12 */
  const o2At = (x: number): number => scales.o2.invert(x);
  const smokeAt = (y: number): number => scales.smoke.invert(y);
  const at = (number: number, x: number, y: number, more: Partial<PicturePoint> = {}) =>
    trial(number, o2At(x), { smoke: smokeAt(y), ...more });
  const placed = (points: PicturePoint[], uprights: number[] = []) =>
    numberPlaces(points, scales, size, uprights).map(({ text, x, y }) => [text, Math.round(x * 10) / 10, Math.round(y * 10) / 10]);

  it('stands above its square', () => {
    expect(placed([at(1, 400, 100)])).toEqual([['1', 400, 89]]);
    const [only] = numberPlaces([at(1, 400, 100)], scales, size);
    expect(only!.rect.right - only!.rect.left).toBeCloseTo(9, 6);
    expect(only!.rect.bottom - only!.rect.top).toBeCloseTo(12, 6);
  });
  it('goes to the right of a line that comes nearer than 3, or to the left where the line is there', () => {
    // 4.5 to either side and 3 to spare
    expect(placed([at(1, 400, 100)], [407.6])).toEqual([['1', 400, 89]]);
    expect(placed([at(1, 400, 100)], [392.4])).toEqual([['1', 400, 89]]);
    expect(placed([at(1, 400, 100)], [392.6])).toEqual([['1', 413.5, 92]]);
    expect(placed([at(1, 400, 100)], [407.4])).toEqual([['1', 386.5, 92]]);
    // with a line on both sides there is no better place
    expect(placed([at(1, 400, 100)], [386.5, 400, 413.5])).toEqual([['1', 400, 89]]);
  });
  it('keeps inside the panel', () => {
    // its upper edge is at 28 for a number, which is 12 tall
    expect(placed([at(1, 400, 51.1)])).toEqual([['1', 400, 40.1]]);
    expect(placed([at(1, 400, 50.9)])).toEqual([['1', 413.5, 42.9]]);
    expect(placed([at(1, 400, 47.9)])).toEqual([['1', 400, 67.9]]);
    expect(placed([at(1, size.left + 6, 100)])).toEqual([['1', size.left + 19.5, 92]]);
    expect(placed([at(1, size.left + 7, 100)])).toEqual([['1', size.left + 7, 89]]);
    expect(placed([at(1, size.right - 4, 100)])).toEqual([['1', size.right - 17.5, 92]]);
    expect(placed([at(1, size.right - 5, 100)])).toEqual([['1', size.right - 5, 89]]);
  });
  it('keeps 6 from the next number', () => {
    expect(placed([at(1, 400, 100), at(2, 415.1, 100)])).toEqual([
      ['1', 400, 89],
      ['2', 415.1, 89],
    ]);
    expect(placed([at(1, 400, 100), at(2, 414.9, 100)])).toEqual([
      ['1', 400, 89],
      ['2', 428.4, 92],
    ]);
  });
  it('goes round the squares: above them, then below', () => {
    // a trial right above takes the place, and its own number goes above it
    expect(placed([at(1, 400, 100), at(2, 400, 84)])).toEqual([
      ['1', 413.5, 92],
      ['2', 400, 73],
    ]);
  });
  it('is shared by trials within half a square of each other; the one as left leads', () => {
    expect(placed([at(1, 400, 100), at(2, 405.9, 105.9)])).toEqual([['1, 2', 400, 89]]);
    expect(placed([at(1, 400, 100), at(2, 406.1, 100)]).map(([text]) => text)).toEqual(['1', '2']);
    expect(placed([at(1, 400, 100), at(2, 400, 106.1)]).map(([text]) => text)).toEqual(['1', '2']);
    expect(placed([at(1, 400, 100), at(2, 400, 100, { asLeft: true })])).toEqual([['2, 1', 400, 89]]);
    expect(placed([1, 2, 3, 4].map((number) => at(number, 400, 100)))).toEqual([['1 +3', 400, 89]]);
  });
  it('stands at its CO where it has no smoke, never below zero, and nowhere without either', () => {
    const y = scales.co(30);
    expect(placed([at(1, 400, 0, { smoke: undefined, coPpm: 30 })])).toEqual([['1', 400, Math.round((y - 11) * 10) / 10]]);
    expect(placed([at(1, 400, 0, { smoke: undefined, coPpm: -4 })])).toEqual([['1', 400, size.coBottom - 11]]);
    expect(placed([at(1, 400, 0, { smoke: undefined })])).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import { labelPlaces, pointsInSight, type XY } from '../../../renderer/charts/overlay-points.ts';
import { placeBeside } from '../../../renderer/views/tour/place-beside.ts';
import { keptPartOf, type OverlayChoice } from '../../../renderer/views/warm-up/curves/overlay-content.ts';
import type { WarmUpCurve } from '../../../shared/warm-up/curve.ts';

const wave = (count: number): XY[] => Array.from({ length: count }, (_, x) => ({ x, y: Math.sin(x / 50) }));

describe('points in sight', () => {
  it('are all of a short curve, and one more at either edge of a part', () => {
    const points = wave(100);
    expect(pointsInSight(points, -10, 1000, 200)).toBe(points);
    expect(pointsInSight(points, 20, 30, 200).map(({ x }) => x)).toEqual([19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30]);
  });
  it('keep a spike of a single point however many there are, in the order of time', () => {
    const points = wave(18_000).map((point) => (point.x === 7777 ? { ...point, y: 9 } : point));
    const thin = pointsInSight(points, 0, 18_000, 700);
    expect(thin.length).toBeLessThanOrEqual(3 * 701);
    expect(Math.max(...thin.map(({ y }) => y))).toBe(9);
    expect(thin.every(({ x }, i) => i === 0 || x > (thin[i - 1]?.x ?? 0))).toBe(true);
  });
  it('choose the same lows and highs when the range moves a little: the curve does not shiver', () => {
    const points = wave(18_000);
    const inner = (from: number): string =>
      pointsInSight(points, from, from + 9000, 300)
        .filter(({ x }) => x > 2000 && x < 8000)
        .map(({ x }) => x)
        .join();
    expect(inner(1010)).toBe(inner(1000));
  });
  it('keep a break, and never join over it', () => {
    const broken = wave(18_000).map((point) => (point.x === 9000 ? { ...point, y: NaN } : point));
    const thin = pointsInSight(broken, 0, 18_000, 700);
    expect(thin.filter(({ y }) => Number.isNaN(y)).map(({ x }) => x)).toEqual([9000]);
  });
  it('are none of an empty curve', () => expect(pointsInSight([], 0, 1, 100)).toEqual([]));
});

describe('words at the curves’ ends', () => {
  it('never lie over each other and stay inside, twenty at one place too', () => {
    const places = labelPlaces(Array<number>(20).fill(300), 26, 460, 17);
    expect(places.every((place, i) => i === 0 || place - (places[i - 1] ?? 0) >= 17)).toBe(true);
    expect(places.at(-1)).toBeLessThanOrEqual(460);
    expect(places[0]).toBeGreaterThanOrEqual(26);
  });
  it('stay at their curve where there is room', () => expect(labelPlaces([50, 200], 26, 460, 17)).toEqual([50, 200]));
});

const curve = (name: string, end: number): WarmUpCurve => ({
  format: 1,
  name,
  runId: name,
  capturedWallMs: 0,
  source: 'port',
  startState: 'cold',
  tags: [],
  lightOffMs: 0,
  steadyOwnS: 400,
  channels: { stackTemperature: { seconds: [0, 400, 800], values: [20, end - 5, end] } },
});
const shown = [curve('a', 200), curve('b', 220), curve('c', 240)].map((one) => ({ id: one.name, revision: 0, curve: one }));
const choice: OverlayChoice = {
  channel: 'stackTemperature',
  shows: 'curves',
  lookedAt: undefined,
  scale: { factor: 1.8, offset: 32, decimals: 0 },
};

describe('what the overlay draws', () => {
  it('tells every curve by a number in its word, not by colour alone', () =>
    expect(keptPartOf(shown, choice).curves.map(({ label }) => label)).toEqual(['1 a', '2 b', '3 c']));
  it('shows the chosen unit, and a difference without the 32 of the Fahrenheit scale', () => {
    expect(keptPartOf(shown, choice).curves[1]?.points.at(-1)?.y).toBeCloseTo(220 * 1.8 + 32, 9);
    expect(keptPartOf(shown, { ...choice, shows: 'difference' }).curves[1]?.points.at(-1)?.y).toBeCloseTo(20 * 1.8, 9);
  });
  it('breaks a curve off where lines were missing', () => {
    const holed = { ...curve('d', 200), channels: { stackTemperature: { seconds: [0, 1, 2, 3, 60, 61], values: [1, 2, 3, 4, 5, 6] } } };
    const points = keptPartOf([{ id: 'd', revision: 0, curve: holed }], { ...choice, scale: { factor: 1, offset: 0, decimals: 0 } })
      .curves[0]?.points;
    // six times the usual step of 12 s is longer than the hole of 57 s, so that a coarse curve is whole
    expect(points?.some(({ y }) => Number.isNaN(y))).toBe(false);
    const fine = Array.from({ length: 100 }, (_, i) => (i < 50 ? i : i + 40));
    const finely = { ...holed, channels: { stackTemperature: { seconds: fine, values: fine } } };
    const broken = keptPartOf([{ id: 'd', revision: 0, curve: finely }], choice).curves[0]?.points;
    expect(broken?.findIndex(({ y }) => Number.isNaN(y))).toBe(50);
  });
  it('draws the usual band of three, not of two', () => {
    expect(keptPartOf(shown, { ...choice, shows: 'band' }).band?.low.length).toBeGreaterThan(0);
    expect(keptPartOf(shown.slice(1), { ...choice, shows: 'band' }).band).toBeUndefined();
  });
  it('says when the curve that is looked at was steady', () => {
    expect(keptPartOf(shown, choice).points).toEqual([]);
    expect(keptPartOf(shown, { ...choice, lookedAt: 'b' }).points).toMatchObject([{ x: 400, y: 215 * 1.8 + 32 }]);
  });
});

describe('a card of the tour', () => {
  const screen = { width: 1280, height: 800 };
  const card = { width: 440, height: 276 };
  const covers = (place: { left: number; top: number }, box: { left: number; top: number; width: number; height: number }): boolean =>
    place.left < box.left + box.width &&
    place.left + card.width > box.left &&
    place.top < box.top + box.height &&
    place.top + card.height > box.top;
  it.each([
    { left: 0, top: 56, width: 1280, height: 24 },
    { left: 1000, top: 720, width: 260, height: 64 },
    { left: 20, top: 150, width: 500, height: 400 },
    { left: 160, top: 0, width: 400, height: 56 },
  ])('lies inside the window and covers nothing of %j', (box) => {
    const place = placeBeside(box, card, screen);
    expect(covers(place, box)).toBe(false);
    expect(place.left).toBeGreaterThanOrEqual(0);
    expect(place.left + card.width).toBeLessThanOrEqual(1280);
    expect(place.top + card.height).toBeLessThanOrEqual(800);
  });
});

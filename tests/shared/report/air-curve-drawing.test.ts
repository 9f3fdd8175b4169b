/** The air curve as it is drawn: every trial with its ± to both sides, and what is known of the onset, the window and the next setting in its place. */
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { AirCurveDrawing } from '../../../shared/report/drawings/AirCurveDrawing.tsx';
import { curveScales, curveSizes, type AirCurvePicture, type PicturePoint } from '../../../shared/report/drawings/curve-places.ts';

const place = Object.keys(curveSizes)[0] as keyof typeof curveSizes;
const point = (number: number, o2: number, more: Partial<PicturePoint> = {}): PicturePoint => ({
  number,
  o2,
  o2Half: 0.3,
  smoke: 1,
  smokeHalf: 0.5,
  coPpm: 100,
  coHalf: 20,
  settled: true,
  asLeft: false,
  ...more,
});
const picture: AirCurvePicture = {
  points: [point(1, 4), point(2, 6, { asLeft: true, smoke: 0 }), point(3, 8, { settled: false, smoke: undefined })],
  onset: { o2: 4.5, low: 4, high: 5 },
  window: { fromO2: 5, toO2: 7 },
  next: { expectedO2: 5.5, low: 5.2, high: 5.9 },
  words: { smoke: 'smoke', co: 'CO', o2: 'O2', simulated: undefined },
  label: 'Air curve',
};
const scales = curveScales(picture, curveSizes[place]);
const html = renderToStaticMarkup(createElement(AirCurveDrawing, { picture, place }));
const near = (value: number): number => Math.round(value);
/** the crosses of a trial: from, to, x, low, high */
const crossesOf = (number: number): number[][] => {
  const group = new RegExp(`<g data-trial="${number}">(.*?)</g>`).exec(html)?.[1] ?? '';
  return [...group.matchAll(/d="M(\S+) \S+?H(\S+?)M(\S+) (\S+?)V(\S+?)"/g)].map((found) => found.slice(1).map(Number));
};

describe('a trial on the drawing', () => {
  it('has its ± in O2 to the left and to the right, and its ± in smoke and CO below and above', () => {
    const [smoke, co] = crossesOf(1);
    for (const cross of [smoke, co]) {
      expect(near(cross![0]!)).toBe(near(scales.o2(3.7)));
      expect(near(cross![1]!)).toBe(near(scales.o2(4.3)));
      expect(near(cross![2]!)).toBe(near(scales.o2(4)));
    }
    expect(smoke!.slice(3).map(near)).toEqual([near(scales.smoke(0.5)), near(scales.smoke(1.5))]);
    expect(co!.slice(3).map(near)).toEqual([near(scales.co(80)), near(scales.co(120))]);
  });
  it('without smoke has none drawn; a clean paper has no ±, for there is nothing below it', () => {
    expect(crossesOf(3)).toHaveLength(1);
    const [smoke] = crossesOf(2);
    expect(smoke![3]).toBe(smoke![4]);
  });
  it('is solid as left, open else, and dashed while it was not settled; what was left lies on top', () => {
    const looks = (number: number): string => new RegExp(`<g data-trial="${number}">(.*?)</g>`).exec(html)?.[1] ?? '';
    expect([1, 2, 3].map((number) => looks(number).includes('fill-ink'))).toEqual([false, true, false]);
    expect([1, 2, 3].map((number) => looks(number).includes('stroke-dasharray'))).toEqual([false, false, true]);
    expect(html.indexOf('data-trial="2"')).toBeGreaterThan(html.indexOf('data-trial="3"'));
  });
});

describe('what is known beside the trials', () => {
  const rects = [...html.matchAll(/<rect ([^>]*)>/g)].map(([, text = '']) => ({
    text,
    x: Number(/ x="(\S+?)"/.exec(` ${text}`)?.[1]),
    width: Number(/ width="(\S+?)"/.exec(` ${text}`)?.[1]),
  }));
  it('the window reaches from its first O2 to its last', () => {
    const one = rects.find(({ text }) => text.includes('fill-accent-soft'))!;
    expect([near(one.x), near(one.x + one.width)]).toEqual([near(scales.o2(5)), near(scales.o2(7))]);
  });
  it('the onset is hatched over its uncertainty', () => {
    const one = rects.find(({ text }) => text.includes('url(#'))!;
    expect([near(one.x), near(one.x + one.width)]).toEqual([near(scales.o2(4)), near(scales.o2(5))]);
  });
  it('the next setting stands where it is expected, with its range', () => {
    const range = new RegExp(`M${scales.o2(5.2).toFixed(0)}[\\d.]* \\S+H${String(near(scales.o2(5.9))).slice(0, -1)}`);
    expect(html).toContain('>next<');
    expect(html).toMatch(range);
  });
});

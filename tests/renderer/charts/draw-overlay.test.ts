/** What is drawn around the curves of Warm-up: figures at round places, points and names inside the chart, each name readable. */
import type { Chart } from 'chart.js';
import { describe, expect, it } from 'vitest';
import type { ChartColors } from '../../../renderer/charts/chart-colors.ts';
import { drawGround, drawLabels, drawPoints, lineColor, RIGHT } from '../../../renderer/charts/draw-overlay.ts';
import type { OverlayContent, OverlayCurve } from '../../../renderer/charts/overlay-content.ts';

const colors = new Proxy({}, { get: (_, name) => name }) as ChartColors;
const area = { left: 60, right: 660, top: 20, bottom: 420 };

type Drawn = { what: string; at: number[]; text: string; color: string };
/** A chart of 600 by 400 px whose canvas writes down what is drawn; a letter is 8 px wide. */
function chartOf({
  fromS,
  toS,
  low = 0,
  high = 100,
  ticks = [0, 20, 40, 60, 80, 100],
}: {
  fromS: number;
  toS: number;
  low?: number;
  high?: number;
  ticks?: number[];
}) {
  const drawn: Drawn[] = [];
  const target: Record<string, unknown> = { measureText: (text: string) => ({ width: text.length * 8 }) };
  const ctx = new Proxy(target, {
    get: (own, name: string) =>
      own[name] ??
      ((...rest: (number | string)[]) => {
        const [text, at] = typeof rest[0] === 'string' ? [rest[0], rest.slice(1)] : ['', rest];
        drawn.push({
          what: name,
          at: at as number[],
          text,
          color: String(name.startsWith('stroke') ? own['strokeStyle'] : own['fillStyle']),
        });
      }),
    set: (own, name: string, value) => ((own[name] = value), true),
  });
  const x = { min: fromS, max: toS, getPixelForValue: (s: number) => area.left + ((s - fromS) / (toS - fromS)) * 600 };
  const y = { ticks: ticks.map((value) => ({ value })), getPixelForValue: (v: number) => area.bottom - ((v - low) / (high - low)) * 400 };
  const chart = { ctx, chartArea: area, scales: { x, y } } as unknown as Chart;
  const texts = () => drawn.filter(({ what }) => what === 'fillText');
  return { chart, drawn, texts, x, y };
}
const content = (more: Partial<OverlayContent> = {}): OverlayContent => ({
  curves: [],
  band: undefined,
  points: [],
  decimals: 0,
  unit: 'ppm',
  minutes: (value) => `${value} min`,
  lightOff: 'light-off',
  ...more,
});
const curve = (label: string, lastY: number, more: Partial<OverlayCurve> = {}): OverlayCurve => ({
  id: label,
  label,
  points: [
    { x: 0, y: 0 },
    { x: 600, y: lastY },
  ],
  style: 1,
  strong: false,
  ...more,
});

describe('the ground', () => {
  it('names round values at their height and leaves out the odd ends of the scale', () => {
    const { chart, texts, y } = chartOf({ fromS: 0, toS: 600, ticks: [-7, 0, 20, 40, 60, 73], low: -7, high: 73 });
    drawGround(chart, content(), colors);
    const left = texts().filter(({ at }) => at[0] === area.left - 8);
    expect(left.map(({ text }) => text)).toEqual(['0', '20', '40', '60']);
    expect(left.map(({ at }) => at[1])).toEqual([0, 20, 40, 60].map((value) => y.getPixelForValue(value)));
  });
  it.each([
    [0, 100, ['0.0 min', '0.3 min', '0.5 min', '0.8 min', '1.0 min', '1.3 min', '1.5 min']],
    [0, 480, ['0 min', '1 min', '2 min', '3 min', '4 min', '5 min', '6 min', '7 min', '8 min']],
    [0, 481, ['0 min', '2 min', '4 min', '6 min', '8 min']],
    [-60, 240, ['-1 min', '0 min', '1 min', '2 min', '3 min', '4 min']],
    [30, 330, ['1 min', '2 min', '3 min', '4 min', '5 min']],
    [0, 100_000, ['0 min', '240 min', '480 min', '720 min', '960 min', '1200 min', '1440 min']],
  ])('from %d to %d s: %j', (fromS, toS, expected) => {
    const { chart, texts, x } = chartOf({ fromS, toS });
    drawGround(chart, content(), colors);
    const below = texts().filter(({ at }) => at[1] === area.bottom + 20);
    const plain = (text: string): string => text.replaceAll('\u2009', '').replace('−', '-');
    expect(below.map(({ text }) => plain(text))).toEqual(expected);
    expect(Math.min(...below.map(({ at }) => at[0]!))).toBeGreaterThanOrEqual(area.left);
    expect(Math.max(...below.map(({ at }) => at[0]!))).toBeLessThanOrEqual(x.getPixelForValue(toS));
  });
  it('marks the light-off where it is in sight, and only there', () => {
    const at = (fromS: number, toS: number) => {
      const { chart, texts } = chartOf({ fromS, toS });
      drawGround(chart, content(), colors);
      return texts().find(({ text }) => text === 'light-off')?.at[0];
    };
    expect(at(-60, 540)).toBe(area.left + 60 + 7);
    expect(at(0, 600)).toBe(area.left + 7);
    expect(at(-600, 0)).toBe(area.right + 7);
    expect(at(1, 600)).toBeUndefined();
    expect(at(-600, -1)).toBeUndefined();
  });
  it('fills the band along its low edge and back along its high edge', () => {
    const { chart, drawn } = chartOf({ fromS: 0, toS: 600 });
    const band = {
      low: [
        { x: 0, y: 10 },
        { x: 600, y: 20 },
      ],
      high: [
        { x: 0, y: 30 },
        { x: 600, y: 40 },
      ],
    };
    drawGround(chart, content({ band }), colors);
    const fill = drawn.findIndex(({ what }) => what === 'fill');
    expect(drawn[fill]?.color).toBe('accentSoft');
    const begun = drawn.findLastIndex(({ what }, i) => i < fill && what === 'beginPath');
    expect(drawn.slice(begun + 1, fill).map(({ what, at }) => [what, ...at])).toEqual([
      ['moveTo', 60, 380],
      ['lineTo', 660, 340],
      ['lineTo', 660, 260],
      ['lineTo', 60, 300],
      ['closePath'],
    ]);
    const without = chartOf({ fromS: 0, toS: 600 });
    drawGround(without.chart, content(), colors);
    expect(without.drawn.some(({ what }) => what === 'fill')).toBe(false);
  });
});

describe('points', () => {
  it('stand where they were read, each with its word under it; those out of sight are not drawn', () => {
    const { chart, drawn, texts } = chartOf({ fromS: 0, toS: 600 });
    const points = [
      { x: -1, y: 50, label: 'before' },
      { x: 0, y: 50, label: 'first' },
      { x: 300, y: 90, label: 'middle' },
      { x: 600, y: 1, label: 'last' },
      { x: 601, y: 50, label: 'after' },
    ];
    drawPoints(chart, content({ points }), colors);
    expect(texts().map(({ text }) => text)).toEqual(['first', 'middle', 'last']);
    const squares = drawn.filter(({ what }) => what === 'fillRect').map(({ at }) => [at[0]! + at[2]! / 2, at[1]! + at[3]! / 2]);
    expect(squares).toEqual([
      [60, 220],
      [360, 60],
      [660, 416],
    ]);
    texts().forEach(({ at: [x, y] }, i) => {
      expect(x).toBe(squares[i]![0]! + 8);
      expect(y).toBeLessThanOrEqual(area.bottom - 8);
    });
    // neighbours have their words at other heights
    const [first, middle] = texts().map(({ at }) => at[1]! - 4);
    expect(first! - 220).not.toBe(middle! - 60);
  });
});

describe('names at the ends of curves', () => {
  it('stand at the height of their curve, right of the chart, in its colour', () => {
    const { chart, texts } = chartOf({ fromS: 0, toS: 600 });
    drawLabels(chart, content({ curves: [curve('1 low', 20, { style: 2 }), curve('2 high', 80, { style: 0 })] }), colors);
    expect(texts().map(({ text, at, color }) => [text, ...at.slice(0, 2), color])).toEqual([
      ['2 high', area.right + 10, 100, 'ink'],
      ['1 low', area.right + 10, 340, 'stackTemperature'],
    ]);
  });
  it('are moved apart where curves end together, and joined to them by a line', () => {
    const { chart, texts, drawn } = chartOf({ fromS: 0, toS: 600 });
    drawLabels(chart, content({ curves: [curve('1 one', 50), curve('2 two', 50), curve('3 three', 50)] }), colors);
    const heights = texts().map(({ at }) => at[1]!);
    expect(heights.slice(1).map((height, i) => height - heights[i]!)).toEqual([17, 17]);
    expect(drawn.filter(({ what }) => what === 'stroke')).toHaveLength(2);
  });
  it('are joined to a curve that ends before the edge', () => {
    const lines = (endS: number) => {
      const { chart, drawn } = chartOf({ fromS: 0, toS: 600 });
      drawLabels(
        chart,
        content({
          curves: [
            curve('1', 0, {
              points: [
                { x: 0, y: 50 },
                { x: endS, y: 50 },
              ],
            }),
          ],
        }),
        colors,
      );
      return drawn.filter(({ what }) => what === 'stroke').length;
    };
    expect([lines(600), lines(589), lines(587)]).toEqual([0, 0, 1]);
  });
  it('of a curve without a point in sight are not written; else they go by the last one in sight', () => {
    const { chart, texts } = chartOf({ fromS: 0, toS: 600 });
    const past = curve('1 past', 0, { points: [{ x: -20, y: 50 }] });
    const long = curve('2 long', 0, {
      points: [
        { x: 0, y: 0 },
        { x: 600, y: 70 },
        { x: 900, y: 10 },
      ],
    });
    drawLabels(chart, content({ curves: [past, long] }), colors);
    expect(texts().map(({ text, at }) => [text, at[1]])).toEqual([['2 long', 140]]);
  });
  it('too long for the room go on in a second line, broken between words; what is still too long ends in dots', () => {
    const written = (label: string) => {
      const { chart, texts } = chartOf({ fromS: 0, toS: 600 });
      drawLabels(chart, content({ curves: [curve(label, 50)] }), colors);
      for (const { text } of texts()) expect(text.length * 8).toBeLessThanOrEqual(RIGHT - 14);
      return texts().map(({ text }) => text);
    };
    // 23 letters of 8 px fit into 186
    expect(written('1 a name that just fits')).toEqual(['1 a name that just fits']);
    expect(written('1 a name that just fits in')).toEqual(['1 a name that just fits', 'in']);
    expect(written('12 boiler in the cellar of number nine in the long road')).toEqual([
      '12 boiler in the cellar',
      'of number nine in the …',
    ]);
    expect(written('anamewithoutanyblankinit')).toEqual(['anamewithoutanyblank', 'init']);
  });
});

it('a curve that is measured now has the colour of the ink, one beyond the sixth the plain one', () => {
  expect([0, 1, 5, 6].map((style) => lineColor({ style }, colors))).toEqual(['ink', 'co', 'sixth', 'third']);
});

/** What the trend draws beside the curves, as a canvas is told it: where, how far, and nothing where nothing was seen (law 18). */
import { describe, expect, it } from 'vitest';
import type { ChartColors } from '../../../renderer/charts/chart-colors.ts';
import { drawBehind, drawInFront } from '../../../renderer/charts/draw-trend.ts';
import { drawMarkNames, drawTimeAxis } from '../../../renderer/charts/draw-trend-edges.ts';
import type { StripFrame, TrendFrame } from '../../../renderer/charts/trend-frame.ts';

type Point = readonly [number, number];
type Drawn =
  | { what: 'rect'; color: string; x: number; y: number; width: number; height: number }
  | { what: 'line'; color: string; dash: number[]; points: Point[] }
  | { what: 'shape'; color: string; points: Point[] }
  | { what: 'text'; color: string; text: string; x: number; y: number };

/** A canvas that notes what is drawn; a letter is 8 px wide. */
function canvas() {
  const drawn: Drawn[] = [];
  let points: Point[] = [];
  let dash: number[] = [];
  /** what is drawn outside of it is not seen; undefined: everywhere */
  let clip: number[] | undefined;
  let rect: number[] = [];
  const kept: (number[] | undefined)[] = [];
  const clips = new Set<string>();
  const noteClip = (): unknown => clips.add(String(clip));
  const context = {
    fillStyle: '',
    strokeStyle: '',
    save: () => kept.push(clip),
    restore: () => (clip = kept.pop()),
    clip: () => (clip = rect),
    rect: (...to: number[]) => (rect = to),
    beginPath: () => (points = []),
    moveTo: (x: number, y: number) => points.push([x, y]),
    lineTo: (x: number, y: number) => points.push([x, y]),
    setLineDash: (to: number[]) => (dash = to),
    stroke: () => (noteClip(), drawn.push({ what: 'line', color: context.strokeStyle, dash, points })),
    fill: () => drawn.push({ what: 'shape', color: context.fillStyle, points }),
    fillRect: (x: number, y: number, width: number, height: number) =>
      drawn.push({ what: 'rect', color: context.fillStyle, x, y, width, height }),
    strokeRect: () => undefined,
    strokeText: () => undefined,
    fillText: (text: string, x: number, y: number) => drawn.push({ what: 'text', color: context.fillStyle, text, x, y }),
    measureText: (text: string) => ({ width: text.length * 8 }),
  };
  return { drawn, context, clips };
}
const colors = new Proxy({}, { get: (_, name) => name }) as ChartColors;

/** A picture from 100 to 900 px: one pixel a second, now at 700; one strip of 0 to 10 between 0 and 100 px. */
function picture(strip: Partial<StripFrame['strip']> = {}, more: Partial<StripFrame> = {}) {
  const { drawn, context, clips } = canvas();
  const one: StripFrame = {
    strip: { channel: 'o2', weight: 1, leastSpan: 1, settled: [], readings: [], forecast: [], heading: undefined, ...strip },
    scale: { low: 0, high: 10, ticks: [], decimals: 0 },
    top: 0,
    bottom: 100,
    yOf: (value) => 100 - 10 * value,
    labelOf: String,
    strays: [],
    strayText: String,
    ...more,
  };
  const frame: TrendFrame = {
    context: context as unknown as CanvasRenderingContext2D,
    colors,
    left: 100,
    right: 900,
    top: 0,
    bottom: 100,
    nowX: 700,
    xOf: (timeMs) => timeMs / 1000,
    strips: [one],
  };
  const of = <W extends Drawn['what']>(what: W, color: string) =>
    drawn.filter((item): item is Extract<Drawn, { what: W }> => item.what === what && item.color === color);
  return { frame, drawn, of, clips };
}
const none = { gaps: [], excluded: [], marks: [] };
const span = (fromS: number, toS: number) => ({ fromMs: fromS * 1000, toMs: toS * 1000 });

describe('under the curves', () => {
  it('a gap is blanked over its whole time and all strips, whatever was drawn there; one out of sight is not drawn', () => {
    const { frame, of } = picture();
    drawBehind(frame, { ...none, gaps: [span(200, 260), span(50, 120), span(880, Infinity), span(10, 90), span(950, 990)] });
    expect(of('rect', 'ground').map(({ x, y, width, height }) => [x, y, width, height])).toEqual([
      [200, 0, 60, 100],
      [100, 0, 20, 100],
      [880, 0, 20, 100],
    ]);
    expect(of('line', 'third')).toHaveLength(3);
  });

  it('the shading of a rest begins and ends with it, with its foot line', () => {
    const { frame, of } = picture({ settled: [span(300, 420), span(20, 130), span(20, 60)] });
    drawBehind(frame, none);
    expect(of('rect', 'accentSoft').map(({ x, width, height }) => [x, width, height])).toEqual([
      [300, 120, 100],
      [100, 30, 100],
    ]);
    expect(of('rect', 'accent').map(({ x, y, width }) => [x, y, width])).toEqual([
      [300, 97, 120],
      [100, 97, 30],
    ]);
  });

  it('what is not used is hatched up to now and no further', () => {
    const { frame, of, clips } = picture();
    drawBehind(frame, { ...none, excluded: [{ ...span(650, Infinity), reason: 'fresh-air' } as never, span(750, 800)] });
    const xs = of('line', 'third').flatMap(({ points }) => points.map(([x]) => x));
    expect(of('line', 'third')).toHaveLength(1);
    expect(Math.min(...xs)).toBeLessThanOrEqual(650);
    expect(Math.max(...xs)).toBeLessThan(700 + 100 + 12);
    // slanted lines begin before their time and end after it: the field cuts them off
    expect(clips).toContain('650,0,50,100');
    expect(of('rect', 'ground')).toEqual([]);
  });

  it('a mark is a line at its time through all strips; a value of the axis is a line at its height, with its figure', () => {
    const { frame, of, clips } = picture({}, { scale: { low: 0, high: 10, ticks: [0.2, 5, 9.8], decimals: 0 } });
    drawBehind(frame, { ...none, marks: [{ timeMs: 400_000, label: 'a' }] });
    // what leaves the field is not drawn over the axes
    expect(clips).toContain('100,0,800,100');
    expect(of('line', 'ink').map(({ points }) => points)).toEqual([
      [
        [400.5, 0],
        [400.5, 100],
      ],
    ]);
    // those at the very edge of the strip have no room
    expect(of('text', 'second').map(({ text, y }) => [text, y])).toEqual([['5', 50.5]]);
  });
});

describe('over the curves', () => {
  it('the forecast is dashed and begins now: nothing of it lies over what was measured', () => {
    const forecast = [600, 690, 700, 750, 800].map((s) => ({ timeMs: s * 1000, value: 4 }));
    const { frame, of } = picture({ forecast });
    drawInFront(frame, undefined);
    const [line] = of('line', 'second');
    expect(line?.dash.length).toBeGreaterThan(0);
    expect(line?.points.map(([x]) => x)).toEqual([700, 750, 800]);
    expect(of('line', 'alarm')).toEqual([]);
  });

  it('a reading is an open square at its time and value; a silence is a line where it began', () => {
    const { frame, of } = picture({ readings: [{ timeMs: 500_000, value: 4 }] });
    drawInFront(frame, 650_000);
    expect(of('rect', 'ground').map(({ x, y, width, height }) => [x + width / 2, y + height / 2])).toEqual([[500, 60]]);
    expect(of('line', 'alarm').map(({ points }) => points.map(([x]) => x))).toEqual([[650, 650]]);
  });

  it('the slot is as high as the band around where it is heading, and stays in its strip', () => {
    const slotOf = (value: number, band: number): number[] | undefined => {
      const { frame, of } = picture({ heading: { value, band } });
      drawInFront(frame, undefined);
      return of('line', 'ink')[0]?.points.map(([, y]) => y);
    };
    expect(slotOf(5, 1)).toEqual([40, 40, 60, 60]);
    expect(slotOf(9.9, 1)?.[0]).toBeGreaterThan(0);
    expect(slotOf(0.1, 1)?.[2]).toBeLessThan(100);
    // far out of the strip there is none
    expect(slotOf(30, 1)).toBeUndefined();
  });

  it('a slope that goes on ends in a tip ahead of now, within its strip', () => {
    const { frame, of } = picture({ drift: { value: 5, toMs: 800_000, toValue: 40 } });
    drawInFront(frame, undefined);
    expect(of('line', 'second')[0]?.points).toEqual([
      [700, 50],
      [800, 8],
    ]);
    expect(of('line', 'ink')[0]?.points[1]).toEqual([800, 8]);
  });

  it('a swing has both its ends from where it began, and an arrow between them where there is room', () => {
    const swing = (low: number, high: number) => {
      const { frame, of } = picture({ swing: { fromMs: 300_000, low, high } });
      drawInFront(frame, undefined);
      return { ends: of('line', 'second').map(({ points }) => points[0]), arrows: of('line', 'ink').length };
    };
    expect(swing(3, 7)).toEqual({
      ends: [
        [300, 30],
        [300, 70],
      ],
      arrows: 3,
    });
    expect(swing(4.5, 5.5).arrows).toBe(0);
  });

  it('a single value out of the strip is an arrow at the edge it left by, with its figure; one inside is on its curve', () => {
    const strays = [
      { timeMs: 300_000, value: 99 },
      { timeMs: 500_000, value: -7 },
      { timeMs: 600_000, value: 5 },
      // no room beside the one before
      { timeMs: 505_000, value: -8 },
    ];
    const { frame, of } = picture({}, { strays: [strays[0]!, strays[1]!, strays[3]!, strays[2]!] });
    drawInFront(frame, undefined);
    const tips = of('shape', 'o2').map(({ points: [tip, foot] }) => [tip?.[0], (tip?.[1] ?? 0) < (foot?.[1] ?? 0) ? 'up' : 'down']);
    expect(tips).toEqual([
      [300, 'up'],
      [500, 'down'],
      [505, 'down'],
    ]);
    expect(of('text', 'ink').map(({ text }) => text)).toEqual(['99', '-7']);
  });
});

describe('names and times', () => {
  it('the name of a mark stands where it has room, else its first part, else its line alone', () => {
    const { frame, of } = picture();
    drawMarkNames(frame, [
      { timeMs: 600_000, label: 'Shutter 5 · Band 3' },
      { timeMs: 200_000, label: 'Shutter 7 · Band 3' },
      { timeMs: 310_000, label: 'Shutter 6 · Band 3' },
      { timeMs: 330_000, label: 'Note' },
      { timeMs: 895_000, label: 'late' },
    ]);
    expect(of('text', 'ink').map(({ text, x }) => [text, x])).toEqual([
      ['Shutter 7', 201],
      ['Note', 331],
      ['Shutter 5 · Band 3', 601],
    ]);
    expect(of('line', 'ink')).toHaveLength(4);
  });

  it('times stand under their moments, never into each other and never out of the picture', () => {
    const { frame, of } = picture();
    drawTimeAxis(
      frame,
      [50, 300, 310, 500, 899, 950].map((s) => ({ timeMs: s * 1000, text: `${s} s` })),
    );
    expect(of('text', 'second').map(({ text, x }) => [text, x])).toEqual([
      ['300 s', 300],
      ['500 s', 500],
      ['899 s', 880],
    ]);
  });
});

import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { Lane } from '../../../renderer/components/Lane.tsx';
import { laneSizes, type LaneSizeName } from '../../../renderer/components/lane-geometry.ts';

/** The corners of the chevrons of a moving channel, from the path that is drawn. */
function chevrons(size: LaneSizeName, direction: number): { x: number; y: number }[][] {
  const html = renderToStaticMarkup(<Lane state="moving" size={size} direction={direction} />);
  const path = [...html.matchAll(/ d="([^"]+)"/g)].map(([, d]) => d ?? '').find((d) => d.split('M').length === 4) ?? '';
  return path
    .split('M')
    .slice(1)
    .map((piece) => {
      const [start = [], ...steps] = piece.split('l').map((pair) => pair.split(/[ ,]/).map(Number));
      const corners = [{ x: start[0] ?? NaN, y: start[1] ?? NaN }];
      for (const [dx = NaN, dy = NaN] of steps) corners.push({ x: corners.at(-1)!.x + dx, y: corners.at(-1)!.y + dy });
      return corners;
    });
}

it.each(Object.keys(laneSizes) as LaneSizeName[])(
  'three chevrons point the way it goes, seen from afar and inside the lane, %s',
  (size) => {
    const { width, height } = laneSizes[size];
    for (const direction of [1, -1]) {
      const all = chevrons(size, direction);
      expect(all).toHaveLength(3);
      for (const [from, tip, to] of all) {
        expect(Math.sign(tip!.x - from!.x)).toBe(direction);
        expect(to!.x).toBeCloseTo(from!.x, 9);
        const tall = to!.y - from!.y;
        expect(tall).toBeGreaterThan(height / 3);
        for (const { x, y } of [from!, tip!, to!]) expect(x >= 0 && x <= width && y >= 0 && y <= height).toBe(true);
      }
    }
  },
);

/** Left and right end of every bar and stroke of a lane, in px. */
function endsOf(html: string): { x: number; y: number }[] {
  const bars = [...html.matchAll(/<rect[^>]* x="([^"]+)" y="([^"]+)" width="([^"]+)" height="([^"]+)"/g)].flatMap(([, ...found]) => {
    const [x = NaN, y = NaN, width = NaN, height = NaN] = found.map(Number);
    return [
      { x, y },
      { x: x + width, y: y + height },
    ];
  });
  const strokes = [...html.matchAll(/ d="([^"]+)"/g)].flatMap(([, d = '']) => {
    let at = { x: 0, y: 0 };
    return [...d.matchAll(/([MHVlmvz])([^MHVlmvz]*)/g)].flatMap(([, how, text = '']) => {
      const [a = NaN, b = NaN] = text.trim().split(/[ ,]+/).map(Number);
      if (how === 'z') return [];
      if (how === 'M') at = { x: a, y: b };
      else if (how === 'H') at = { x: a, y: at.y };
      else if (how === 'V') at = { x: at.x, y: a };
      else if (how === 'v') at = { x: at.x, y: at.y + a };
      else at = { x: at.x + a, y: at.y + b };
      return [at];
    });
  });
  return [...bars, ...strokes];
}

describe.each(Object.keys(laneSizes) as LaneSizeName[])('a lane, %s', (size) => {
  const { width, height } = laneSizes[size];
  const drawn = (state: Parameters<typeof Lane>[0]['state'], direction = 0): string =>
    renderToStaticMarkup(<Lane state={state} size={size} direction={direction} />);

  it.each(['settled', 'settling', 'moving', 'drifting', 'surging', 'suspect', 'absent', 'silent'] as const)(
    'stays inside itself: %s',
    (state) => {
      const ends = endsOf(drawn(state, 1).replace(/<rect[^>]*class="fill-ground pin"[^>]*>/, ''));
      expect(ends.length).toBeGreaterThan(3);
      for (const { x, y } of ends) expect([x >= 0 && x <= width, y >= 0 && y <= height]).toEqual([true, true]);
    },
  );

  it.each(['settled', 'surging', 'absent'] as const)('is the same to both sides where it goes neither way: %s', (state) => {
    const ends = endsOf(drawn(state));
    const places = (list: typeof ends): string[] => list.map(({ x, y }) => `${x.toFixed(3)} ${y.toFixed(3)}`).sort();
    // a bar is given by two of its corners, which change places
    const across = (list: typeof ends) => list.map(({ x, y }) => ({ x: width - x, y: height - y }));
    expect(places(across(ends))).toEqual(places(ends));
  });

  it('of a surging channel has a bar at each end, and an arrow between them that points at both', () => {
    const html = drawn('surging');
    const bars = [...html.matchAll(/<rect[^>]* x="([^"]+)"[^>]* width="([^"]+)"/g)].map(([, x, wide]) => [
      Number(x),
      Number(x) + Number(wide),
    ]);
    expect(bars).toHaveLength(2);
    const [[, leftBar], [rightBar]] = bars as [[number, number], [number, number]];
    const arrow = / d="(M[^"]*l[^"]*)"/.exec(html)?.[1] ?? '';
    const [line = [], left = [], right = []] = arrow
      .split('M')
      .slice(1)
      .map((piece) => piece.split(/[Hl ,]/).map(Number));
    const [from = NaN, , to = NaN] = line;
    expect([from > leftBar, to < rightBar, from < width / 2, to > width / 2]).toEqual([true, true, true, true]);
    // each head: from its upper end to the tip, which is the end of the line, and to its lower end
    expect([left[0]! + left[2]!, right[0]! + right[2]!]).toEqual([expect.closeTo(from, 9), expect.closeTo(to, 9)]);
    for (const [, y = NaN, , down = NaN, , more = NaN] of [left, right]) {
      expect(y + down).toBeCloseTo(height / 2, 9);
      expect(more).toBeCloseTo(down, 9);
    }
    expect([Math.sign(left[2]!), Math.sign(right[2]!), left[4]! + left[2]!, right[4]! + right[2]!]).toEqual([
      -1,
      1,
      expect.closeTo(0, 9),
      expect.closeTo(0, 9),
    ]);
  });
});

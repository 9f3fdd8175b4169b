import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it } from 'vitest';
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

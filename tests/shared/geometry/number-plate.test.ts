/** The numbers of the answers in the drawing: each at its figure, inside the picture, none over another. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { withPlates } from '../../../shared/geometry/drawing/number-plate.ts';
import type { Picture, PictureMark } from '../../../shared/geometry/drawing/picture-mark.ts';

const figure = (item: string, x: number, y: number, anchor: 'start' | 'middle'): PictureMark => ({
  kind: 'text',
  item,
  x,
  y,
  text: '23/64',
  look: 'g-text-strong',
  anchor,
  size: 20,
});
const pictureOf = (marks: PictureMark[]): Picture => ({ width: 400, height: 300, marks });
type Text = Extract<PictureMark, { kind: 'text' }>;
const texts = ({ marks }: Picture): Text[] => marks.filter((mark): mark is Text => mark.kind === 'text');

it('numbers a figure at its side, and none that has no number', () => {
  const made = texts(withPlates(pictureOf([figure('gap', 50, 50, 'start'), figure('height', 50, 150, 'start')]), new Map([['gap', 3]])));
  expect(made.map(({ text }) => text)).toEqual(['23/64', '3', '23/64']);
  expect(made[1]!.x).toBeGreaterThan(50 + 5 * 10);
});

it('puts the number before the figure where the picture ends', () => {
  const [, plate] = texts(withPlates(pictureOf([figure('gap', 340, 50, 'start')]), new Map([['gap', 1]])));
  expect(plate!.x).toBeLessThan(340);
});

it('lays no figure and no plate over another, wherever they are', () => {
  const place = fc.tuple(
    fc.integer({ min: 60, max: 380 }),
    fc.integer({ min: 20, max: 280 }),
    fc.constantFrom('start' as const, 'middle' as const),
  );
  fc.assert(
    fc.property(fc.array(place, { minLength: 2, maxLength: 6 }), (places) => {
      const items = places.map(([x, y, anchor], index) => figure(String(index), x, y, anchor));
      const plates = texts(withPlates(pictureOf(items), new Map(items.map((_, index) => [String(index), index + 1])))).filter(
        ({ look }) => look === 'g-text-plate',
      );
      expect(plates).toHaveLength(places.length);
      for (const [index, one] of plates.entries())
        for (const other of plates.slice(index + 1))
          expect(Math.abs(one.x - other.x) >= 26 || Math.abs(one.y - other.y) >= 26, `${one.x} ${one.y} and ${other.x} ${other.y}`).toBe(
            true,
          );
    }),
    { seed: 7 },
  );
});

/** The arrow of the far view points where the verdict sends the hand. */
import { describe, expect, it } from 'vitest';
import { sideView, type DrawnFigures } from '../../../shared/geometry/drawing/drawing.ts';
import { geometryItems, lengthItems, type GeometryItem } from '../../../shared/geometry/items.ts';
import { orderArrow, waysOf } from '../../../shared/geometry/drawing/order-arrow.ts';
import { pictureOf } from '../../../shared/geometry/drawing/picture.ts';
import { geometryOrders, orderVerbs } from '../../../shared/words/geometry/geometry.ts';

const box = { left: -30, right: 40, top: 40, bottom: -20 };
/** which way the part that is moved goes on the page when the figure grows, at the arrow of its own */
const grows: Partial<Record<GeometryItem, readonly [number, number]>> = {
  electrodeGap: [-1, 0],
  heightAboveCentreline: [0, 1],
  aheadOfNozzle: [1, 0],
  tipToMetal: [-1, 0],
  nozzleToHead: [-1, 0],
  headToTubeEnd: [-1, 0],
};

describe('the arrow of an order', () => {
  it('points towards the card: with it the figure grows where it is too small, and shrinks where it is too large', () => {
    for (const [item, [x, y]] of Object.entries(grows) as [GeometryItem, readonly [number, number]][]) {
      const { tooSmall, tooLarge } = geometryItems[item];
      expect(waysOf[tooSmall][0], item).toEqual([x, y]);
      expect(
        waysOf[tooLarge][0]?.map((one) => -one + 0),
        item,
      ).toEqual([x, y]);
    }
  });
  it('has its tip at the end that it points to, and its verb beside it, within the drawing', () => {
    for (const item of lengthItems)
      for (const side of ['tooSmall', 'tooLarge'] as const) {
        const direction = geometryItems[item][side];
        for (const view of ['side', 'front'] as const) {
          const marks = orderArrow(direction, orderVerbs[direction], { box, size: 7, view, text: 28 });
          const arrows = marks.filter((mark) => mark.kind === 'path');
          expect(arrows).toHaveLength(waysOf[direction].length);
          arrows.forEach((arrow, at) => {
            const numbers = arrow.d.match(/-?[\d.]+/g)?.map(Number) ?? [];
            const [ax = 0, ay = 0, bx = 0, by = 0] = numbers;
            expect([Math.sign(bx - ax), Math.sign(ay - by)]).toEqual(waysOf[direction][at]);
            // both wings end at the tip, and begin behind it
            const [wx = 0, wy = 0, tx, ty] = numbers.slice(4);
            expect([tx, ty]).toEqual([bx, by]);
            expect((bx - wx) * (bx - ax) + (by - wy) * (by - ay)).toBeGreaterThan(0);
            expect(Math.min(...numbers)).toBeGreaterThan(0);
          });
          const verb = marks.find((mark) => mark.kind === 'text');
          expect(verb?.text).toBe(orderVerbs[direction]);
          expect(verb?.text.length).toBeGreaterThan(2);
          expect(geometryOrders[direction].length).toBeGreaterThan(2);
        }
      }
  });
  it('is drawn only where there is an order', () => {
    const figures: DrawnFigures = { heightAboveCentreline: { mm: 11, source: 'measured' } };
    const draw = (order?: { direction: 'raise-tips'; verb: string; view: 'side' }): number =>
      pictureOf(sideView(figures, { cut: true }), { size: 7, figure: () => '', cardWord: '', order }).marks.length;
    expect(draw({ direction: 'raise-tips', verb: 'raise', view: 'side' }) - draw()).toBe(2);
  });
});

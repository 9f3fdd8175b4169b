/** A number on a square: the same number is at the head of its answer in the list. */
import { writtenLength as n, type Picture, type PictureMark } from './picture-mark.ts';

const SIDE = 26;
const LETTERS = 18;
/** as wide as a figure is set, of its size */
const FIGURE_WIDTH = 0.56;
const APART = 8;

/** @param x of the middle, as `y` */
export const numberPlate = (number: number, x: number, y: number): PictureMark[] => [
  { kind: 'path', d: `M${n(x - SIDE / 2)} ${n(y - SIDE / 2)}h${SIDE}v${SIDE}h-${SIDE}Z`, look: 'g-plate' },
  { kind: 'text', x, y: y + LETTERS * 0.35, text: String(number), look: 'g-text-plate', anchor: 'middle', size: LETTERS },
];

/** Every strong figure that has a number gets its plate behind its last digit, or before its first one where the picture ends. None lies over another. */
export function withPlates(picture: Picture, numbers: ReadonlyMap<string, number>): Picture {
  const placed: { left: number; right: number; y: number }[] = [];
  const marks = picture.marks.flatMap((mark): PictureMark[] => {
    const number = mark.kind === 'text' && mark.item !== undefined ? numbers.get(mark.item) : undefined;
    if (mark.kind !== 'text' || number === undefined) return [mark];
    const size = mark.size ?? LETTERS;
    const width = mark.text.length * FIGURE_WIDTH * size;
    const start = mark.x - (mark.anchor === 'middle' ? width / 2 : 0);
    const isBehind = start + width + APART + SIDE <= picture.width;
    const [left, right] = isBehind ? [start, start + width + APART + SIDE] : [start - APART - SIDE, start + width];
    let y = mark.y - size * 0.35;
    const isTaken = (): boolean => placed.some((one) => left < one.right && right > one.left && Math.abs(y - one.y) < SIDE + 2);
    while (isTaken()) y += 2;
    placed.push({ left, right, y });
    return [{ ...mark, y: y + size * 0.35 }, ...numberPlate(number, isBehind ? right - SIDE / 2 : left + SIDE / 2, y)];
  });
  return { ...picture, marks };
}

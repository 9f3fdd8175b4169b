/** Where now stands against what was left: the slot in the middle, the pin inside it or at most at the end of the line. Pure. */
export type SincePlaces = { low: number; high: number; at: number; linkFrom: number | undefined };

const SLOT = 28;
const EDGE = 6;

export function sincePlaces(width: number, { value, half }: { value: number; half: number }): SincePlaces {
  const middle = width / 2;
  const [low, high] = [middle - SLOT / 2, middle + SLOT / 2];
  // half a slot is the uncertainty; a scale without one shows only whether it moved
  const inside = half > 0 ? value / half : value === 0 ? 0 : Math.sign(value) * 3;
  if (Math.abs(inside) <= 1) return { low, high, at: middle + inside * (SLOT / 2 - 7), linkFrom: undefined };
  const reach = (width - SLOT) / 2 - EDGE - 2;
  // one to five half-widths out are told apart; more stands at the end
  const share = Math.min(1, 0.25 + (0.75 * (Math.abs(inside) - 1)) / 4);
  const side = Math.sign(inside);
  const linkFrom = side > 0 ? high + 2 : low - 2;
  return { low, high, at: linkFrom + side * share * reach, linkFrom };
}

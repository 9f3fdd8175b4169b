export type Box = { readonly left: number; readonly top: number; readonly width: number; readonly height: number };
type Size = { readonly width: number; readonly height: number };

const APART = 16;
const clamp = (value: number, most: number): number => Math.max(APART, Math.min(value, most));

/** Where a card stands so that it covers nothing of what it speaks of: below it, above it, or beside it; without one at the left, clear of the bars. */
export function placeBeside(box: Box | undefined, card: Size, screen: Size): { left: number; top: number } {
  const mostLeft = screen.width - card.width - APART;
  const mostTop = screen.height - card.height - APART;
  if (box === undefined) return { left: APART, top: clamp(screen.height / 3, mostTop) };
  const below = Math.max(APART, box.top + box.height + APART);
  const above = box.top - card.height - APART;
  const left = clamp(box.left + box.width / 2 - card.width / 2, mostLeft);
  if (below <= mostTop) return { left, top: below };
  // what it speaks of may be scrolled away: the card never is
  if (above >= APART) return { left, top: Math.min(above, mostTop) };
  const right = box.left + box.width + APART;
  return { left: right <= mostLeft ? right : clamp(box.left - card.width - APART, mostLeft), top: clamp(box.top, mostTop) };
}

/** What of a long curve has to be drawn: only what is in sight, and no more than the low and the high of each column of the screen. */

/** y is not a number where the curve is broken off. */
export type XY = { readonly x: number; readonly y: number };

/** Index of the first point at or after `x`; points are in the order of x. */
function firstFrom(points: readonly XY[], x: number): number {
  let low = 0;
  let high = points.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((points[middle] as XY).x < x) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Points from one before `fromX` to one after `toX`, so that lines run to the edge; lows and highs where there are more than the screen can show. */
export function pointsInSight(points: readonly XY[], fromX: number, toX: number, columns: number): readonly XY[] {
  const begin = Math.max(0, firstFrom(points, fromX) - 1);
  const end = Math.min(points.length, firstFrom(points, toX) + 1);
  if (end - begin <= 2 * columns) return begin === 0 && end === points.length ? points : points.slice(begin, end);
  const thin: XY[] = [];
  const per = (toX - fromX) / columns;
  let i = begin;
  while (i < end) {
    const first = points[i] as XY;
    if (Number.isNaN(first.y)) {
      thin.push(first);
      i++;
      continue;
    }
    // columns stand still while the range is moved, or the curve would shiver
    const until = (Math.floor(first.x / per) + 1) * per;
    let low = first;
    let high = first;
    let last = first;
    let next = i + 1;
    for (; next < end; next++) {
      const point = points[next] as XY;
      if (point.x >= until || Number.isNaN(point.y)) break;
      if (point.y < low.y) low = point;
      if (point.y > high.y) high = point;
      last = point;
    }
    // a curve goes on through gaps between columns at its first and last value; the extremes keep every spike
    if (low === high) thin.push(first);
    else thin.push(...(low.x < high.x ? [low, high] : [high, low]));
    if (last !== low && last !== high && next < end) thin.push(last);
    i = next;
  }
  return thin;
}

/** Places for words at the curves' ends: none over another, all inside, as near to their curve as can be. @param ends sorted, px */
export function labelPlaces(ends: readonly number[], top: number, bottom: number, height: number): number[] {
  const places: number[] = [];
  let lowest = top;
  for (const end of ends) {
    const place = Math.max(lowest, end);
    places.push(place);
    lowest = place + height;
  }
  let highest = bottom;
  for (let i = places.length - 1; i >= 0; i--) {
    if ((places[i] as number) <= highest) break;
    places[i] = highest;
    highest -= height;
  }
  return places;
}

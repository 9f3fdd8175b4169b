/** Where a value stands against its limits on a short scale. The scale shows the limits and half their width on either side. Pure. */
export type ScaleInput = { value: number; half?: number | undefined; low?: number | undefined; high?: number | undefined };
export type ScalePlaces = {
  low: number | undefined;
  high: number | undefined;
  at: number;
  whiskerFrom: number | undefined;
  whiskerTo: number | undefined;
  /** the value lies beyond the end of the scale and stands at it */
  beyond: boolean;
};

const MARGIN = 8;

export function placesOn(width: number, { value, half, low, high }: ScaleInput): ScalePlaces | undefined {
  const ends = limitsToShow(value, low, high);
  if (ends === undefined) return undefined;
  const [from, to] = ends;
  const x = (at: number): number => MARGIN + ((at - from) / (to - from)) * (width - 2 * MARGIN);
  const inside = (at: number): number => Math.min(width - MARGIN - 6, Math.max(MARGIN + 6, x(at)));
  return {
    low: low === undefined || !Number.isFinite(low) ? undefined : x(low),
    high: high === undefined || !Number.isFinite(high) ? undefined : x(high),
    at: inside(value),
    whiskerFrom: half === undefined || half <= 0 ? undefined : inside(value - half),
    whiskerTo: half === undefined || half <= 0 ? undefined : inside(value + half),
    beyond: value < from || value > to,
  };
}

function limitsToShow(value: number, low: number | undefined, high: number | undefined): [number, number] | undefined {
  const [hasLow, hasHigh] = [low !== undefined && Number.isFinite(low), high !== undefined && Number.isFinite(high)];
  if (hasLow && hasHigh) {
    const half = Math.max((high! - low!) / 2, Math.abs(high!) * 0.02, 1e-6);
    return [low! - half, high! + half];
  }
  const limit = hasLow ? low! : hasHigh ? high! : undefined;
  if (limit === undefined) return undefined;
  // one limit only: from zero to half beyond it, where zero makes sense
  const span = Math.max(Math.abs(limit), Math.abs(value - limit) * 0.5, 1);
  return hasHigh ? [limit - span, limit + span / 2] : [limit - span / 2, limit + span];
}

/** Numbers in any one unit. `floor`: a quantity that cannot be below it (CO, smoke) starts its scale there. */
export type ScaleInput = {
  readonly value: number;
  readonly expanded?: number | undefined;
  readonly low?: number | undefined;
  readonly high?: number | undefined;
  readonly floor?: number | undefined;
};

/** The stretch that is shown: the limits and half their width on each side; one limit alone sits at about two thirds. */
export function scaleSpan({ value, expanded = 0, low, high, floor }: ScaleInput): [low: number, high: number] | undefined {
  const [least, most] = [finite(low), finite(high)];
  if (least !== undefined && most !== undefined) {
    const half = (most - least) / 2 || Math.max(Math.abs(most) * 0.1, 2 * expanded, 1e-6);
    return [least - half, most + half];
  }
  const limit = most ?? least;
  if (limit === undefined) return undefined;
  if (most !== undefined && floor !== undefined && limit > floor) return [floor, floor + (limit - floor) * 1.4];
  const reach = Math.max(4 * expanded, Math.min(1.2 * Math.abs(value - limit), 0.3 * Math.abs(limit)), 0.02 * Math.abs(limit), 1e-6);
  return [limit - reach, limit + reach];
}

export const finite = (value: number | undefined): number | undefined =>
  value === undefined || !Number.isFinite(value) ? undefined : value;

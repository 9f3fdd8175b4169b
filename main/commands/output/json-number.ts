/** A number as it goes into JSON: absent is null, never NaN; digits beyond the ninth significant one are noise of the arithmetic. */
export const jsonNumber = (value: number | undefined): number | null =>
  value === undefined || !Number.isFinite(value) ? null : Number(value.toPrecision(9));

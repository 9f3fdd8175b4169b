/** Places in a drawing. Pure: no document, no measuring of letters. */

/** A coordinate: two decimals, so that files stay small and equal input gives equal text. */
export const n = (value: number): number => Number(value.toFixed(2));

export type Scale = (value: number) => number;
export const linear =
  (fromLow: number, fromHigh: number, toLow: number, toHigh: number): Scale =>
  (value) =>
    fromHigh === fromLow ? (toLow + toHigh) / 2 : toLow + ((value - fromLow) / (fromHigh - fromLow)) * (toHigh - toLow);

export const bracketLeft = (x: number, top: number, bottom: number, arm: number): string =>
  `M${n(x + arm)} ${n(top)}H${n(x)}V${n(bottom)}H${n(x + arm)}`;
export const bracketRight = (x: number, top: number, bottom: number, arm: number): string =>
  `M${n(x - arm)} ${n(top)}H${n(x)}V${n(bottom)}H${n(x - arm)}`;

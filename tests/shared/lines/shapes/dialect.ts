/** How a dialect of instruments is written down, and the burner it reports. */

export type Row = { t: number; o2: number; co: number; stack: number; air: number; co2: number; no: number; draft: number };
export type Truth = { o2?: number; co?: number; stackTemperature?: number; airTemperature?: number };
export type Dialect = {
  readonly name: string;
  /** lines before the first reading */
  readonly head?: readonly string[];
  /** the lines of one reading, each without its end */
  readonly lines: (row: Row, index: number) => readonly string[];
  readonly end?: string;
  readonly truth: (row: Row) => Truth;
  readonly scenario?: Scenario;
  /** the values come without anything between them: a changed decimal mark or column count has no meaning here */
  readonly isRigid?: boolean;
};
export type Scenario = { o2?: number; co?: number; stack?: number; air?: number; cold?: boolean; freshSeconds?: number };
export const f = (value: number, digits: number): string => value.toFixed(digits);
export const clock = (t: number, start = 12 * 3600 + 67): string => {
  const s = (start + t) % 86_400;
  return [Math.floor(s / 3600), Math.floor(s / 60) % 60, s % 60].map((part) => String(part).padStart(2, '0')).join(':');
};
export const fahrenheit = (c: number): number => c * 1.8 + 32;
export const sent = (value: number, digits: number): number => Number(value.toFixed(digits));
export const usual = (row: Row): Truth => ({
  o2: sent(row.o2, 1),
  co: sent(row.co, 0),
  stackTemperature: sent(row.stack, 1),
  airTemperature: sent(row.air, 1),
});
export const inFahrenheit =
  (digits: number) =>
  (row: Row): Truth => ({
    ...usual(row),
    stackTemperature: (sent(fahrenheit(row.stack), digits) - 32) / 1.8,
    airTemperature: (sent(fahrenheit(row.air), digits) - 32) / 1.8,
  });
export const zeroed = (value: number, width: number): string => String(Math.round(value)).padStart(width, '0');

/** From room temperature: metal with 60 % of the rise and a constant of 90 s. Within 2 degC of 230 after about 365 s. */
export const coldStart = {
  o2: (t: number): number => 5 + 15.9 * Math.exp(-t / 9),
  co: (t: number): number => 30 - 30 * Math.exp(-t / 18),
  stack: (t: number): number => 230 - 84 * Math.exp(-t / 6) - 126 * Math.exp(-t / 90),
};

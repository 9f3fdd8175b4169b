/** What follows from one another in a flue gas, looked for in the rows of two or three columns. */
import type { Column } from '../tables/table.ts';

const ROWS_FOR_A_RELATION = 150;

/** Calls `each` with the values of two columns in the same rows, where both have one. */
function eachPair(a: Column, b: Column, each: (x: number, y: number) => void): void {
  const stride = Math.max(1, Math.floor(a.values.length / ROWS_FOR_A_RELATION));
  for (let at = 0; at < a.values.length; at += stride) {
    const x = a.values[at];
    const y = b.values[at];
    if (x !== undefined && y !== undefined) each(x, y);
  }
}

/** Share of the rows on which `fits` holds. */
export function shareOf(a: Column, b: Column, fits: (x: number, y: number) => boolean): number {
  let all = 0;
  let good = 0;
  eachPair(a, b, (x, y) => {
    all += 1;
    if (fits(x, y)) good += 1;
  });
  return all < 3 ? 0 : good / all;
}

/** Oxygen of dry air, %vol; as in the combustion core. */
export const AIR_O2 = 20.946;

/** CO2 = CO2max (1 - O2/20.946), with the CO2max of an oil, or of a gas: how well, and whether O2 moved enough to tell which is which. */
export function co2Relation(o2: Column, co2: Column): { spread: number; co2Max: number } | undefined {
  const room = new Float64Array(o2.values.length);
  let count = 0;
  eachPair(o2, co2, (x, y) => {
    if (x < 17 && x > -0.5) room[count++] = y / (1 - x / AIR_O2);
  });
  if (count < 3) return undefined;
  const maxima = room.subarray(0, count).sort();
  const at = (q: number): number => maxima[Math.round(q * (count - 1))] ?? 0;
  return { spread: at(0.9) - at(0.1), co2Max: at(0.5) };
}

/** Share of the rows on which a relation of three columns holds. */
function shareOfThree(a: Column, b: Column, c: Column, fits: (x: number, y: number, z: number) => boolean | undefined): number {
  let good = 0;
  let all = 0;
  const stride = Math.max(1, Math.floor(c.values.length / ROWS_FOR_A_RELATION));
  for (let at = 0; at < c.values.length; at += stride) {
    const [x, y, z] = [a.values[at], b.values[at], c.values[at]];
    if (x === undefined || y === undefined || z === undefined) continue;
    const verdict = fits(x, y, z);
    if (verdict === undefined) continue;
    all += 1;
    if (verdict) good += 1;
  }
  return all > 3 ? good / all : 0;
}

/** CO as if without the air: CO 20.946/(20.946 - O2). */
export const isAirFree = (o2: Column, co: Column, column: Column): boolean =>
  (column.statistics?.median ?? 0) > 3 &&
  shareOfThree(o2, co, column, (x, y, z) => (x > 17 || x < 0.5 ? undefined : Math.abs(z - (y * AIR_O2) / (AIR_O2 - x)) <= 0.04 * z + 1)) >
    0.8;

export const isNet = (stack: Column, air: Column, column: Column): boolean =>
  shareOfThree(stack, air, column, (x, y, z) => Math.abs(x - y - z) <= 0.15 + (column.statistics?.decimals === 0 ? 1 : 0)) > 0.8;

/** Its values times a factor; its statistics stay as they are. */
export const scaledColumn = (column: Column, factor: number): Column =>
  factor === 1 ? column : { ...column, values: column.values.map((value) => (value === undefined ? undefined : value * factor)) };

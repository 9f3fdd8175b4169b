/**
 * Absent is absent: a value that is not known has no key and no place in a list, on the wire, in a file and under
 * `exactOptionalPropertyTypes`. Not for code that runs for every line or sample: there it is written out.
 */

/** The same, where what may be undefined may be missing, and is never there without a value. */
export type Defined<T> = { [K in keyof T as undefined extends T[K] ? never : K]: T[K] } & {
  [K in keyof T as undefined extends T[K] ? K : never]?: Exclude<T[K], undefined>;
};

/** @returns the values that are there: no key stays whose value is undefined */
export function defined<T extends object>(values: T): Defined<T> {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Defined<T>;
}

/** @returns for a list: what is made of a value that is there, or nothing */
export function whenDefined<T>(value: T | undefined): T[];
export function whenDefined<T, R>(value: T | undefined, made: (value: T) => R): R[];
export function whenDefined<T, R>(value: T | undefined, made?: (value: T) => R): (T | R)[] {
  return value === undefined ? [] : [made === undefined ? value : made(value)];
}

import { createRandom } from './random.ts';
import type { Scenario, Spread } from './scenario.ts';

/** The same tree with every range replaced by the number that this seed draws. */
export type Drawn<T> = T extends Spread
  ? number
  : T extends readonly unknown[]
    ? T
    : T extends object
      ? { readonly [K in keyof T]: Drawn<T[K]> }
      : T;

export function drawNumber(value: Spread, seed: number, path: string): number {
  return typeof value === 'number' ? value : createRandom(seed, `draw ${path}`).between(value.from, value.to);
}

const isRange = (value: object): value is { from: number; to: number } => 'from' in value && 'to' in value;

/** Each parameter draws from a stream of its own name: adding one later leaves the others as they were. */
export function draw<T extends Scenario['burner' | 'appliance' | 'surroundings' | 'instrument']>(
  parameters: T,
  seed: number,
  path: string,
): Drawn<T> {
  const walk = (value: unknown, at: string): unknown => {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
    if (isRange(value)) return drawNumber(value, seed, at);
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, walk(inner, `${at}.${key}`)]));
  };
  return walk(parameters, path) as Drawn<T>;
}

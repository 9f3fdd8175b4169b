import type { CurveChannel } from './curve.ts';
import { valueAt } from './curve.ts';

/**
 * Steady by the published laboratory criterion: three readings 15 min apart whose flue-gas temperatures differ by no more than 5 °F.
 *
 * @returns s from light-off at which the third reading is taken; undefined when the curve does not get there
 * @source 10 CFR 430 Subpart B App. O (vented heaters, oil): three readings 15 min apart within 5 °F (2.8 °C)
 */
export function steadyByTripleS(
  stack: CurveChannel,
  { intervalS = 900, withinK = 5 / 1.8, stepS = 10 }: { intervalS?: number; withinK?: number; stepS?: number } = {},
): number | undefined {
  const last = stack.seconds.at(-1) ?? 0;
  for (let at = Math.max(0, stack.seconds[0] ?? 0) + 2 * intervalS; at <= last; at += stepS) {
    const readings = [at - 2 * intervalS, at - intervalS, at].map((time) => valueAt(stack, time));
    if (readings.some((reading) => reading === undefined)) continue;
    const known = readings as number[];
    if (Math.max(...known) - Math.min(...known) <= withinK + 1e-9) return at;
  }
  return undefined;
}

/**
 * When the flame went out or lit, as the O2 tells it. A hint beside the stopwatch and never its time: hose, filter and cell answer late,
 * by more than these times may be off.
 */
import type { Sample } from '../../measurement/sample.ts';

export type FlameChange = {
  readonly kind: 'out' | 'lit';
  /** after the watch was started */
  readonly seconds: number;
  /** between the two lines that the change lies between; the instrument's own delay is not in it */
  readonly doubtS: number;
};

const BEFORE_MS = 20_000;
/** O2 of air and of a flame, %vol dry: nothing burns above the first, and a burning flame stays under the second */
const AIR_O2 = 18;
const FLAME_O2 = 14;
/** it has begun to move, and it has moved: both far beyond what a steady flame does */
const BEGUN = 0.6;
const MOVED = 3;

/** @param startMs when the watch was started, run time. @returns undefined while nothing has changed that clearly */
export function flameChangeAfter(samples: readonly Sample[], startMs: number): FlameChange | undefined {
  const points = samples.flatMap(({ timeMs, values }) => (values.o2 === undefined ? [] : [{ timeMs, o2: values.o2 }]));
  const before = points.filter(({ timeMs }) => timeMs > startMs - BEFORE_MS && timeMs <= startMs).map(({ o2 }) => o2);
  if (before.length < 3) return undefined;
  const base = [...before].sort((a, b) => a - b)[Math.floor(before.length / 2)]!;
  const kind = base < FLAME_O2 ? 'out' : base > AIR_O2 ? 'lit' : undefined;
  if (kind === undefined) return undefined;
  const moved = ({ o2 }: { o2: number }): number => (kind === 'out' ? o2 - base : base - o2);
  const after = points.filter(({ timeMs }) => timeMs > startMs);
  const farAt = after.findIndex((point) => moved(point) >= MOVED);
  if (farAt < 0) return undefined;
  const begunAt = after.findLastIndex((point, index) => index < farAt && moved(point) < BEGUN) + 1;
  const last = begunAt === 0 ? startMs : after[begunAt - 1]!.timeMs;
  const first = after[begunAt]!.timeMs;
  return { kind, seconds: ((last + first) / 2 - startMs) / 1000, doubtS: (first - last) / 2000 };
}

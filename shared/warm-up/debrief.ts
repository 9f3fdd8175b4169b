/** The debrief of a class: everybody's calls of one curve, together. Pure. */
import { group } from 'd3-array';
import type { CallResult, Exercise, Watched } from './call-it.ts';

/** Equal for all who watched the same curve, whatever the exercise was called. */
export const watchedKey = (source: Exercise['source'] | { readonly kind: 'serial' | 'typed' }): string | undefined =>
  source.kind === 'simulated'
    ? `simulated ${source.scenario} ${source.seed}`
    : source.kind === 'replay'
      ? `replay ${source.runId}`
      : undefined;

export type Debrief = {
  readonly of: string;
  readonly exercise: string;
  readonly curve: { readonly o2?: Watched | undefined; readonly stackTemperature?: Watched | undefined };
  /** when a reading could first be taken, s of the run; absent when it never could */
  readonly readyS: number | undefined;
  /** earliest first; the numbers stand on the curve */
  readonly calls: readonly { readonly number: number; readonly result: CallResult }[];
};

const lengthOf = ({ watched }: CallResult): number =>
  Math.max(watched?.o2?.seconds.at(-1) ?? 0, watched?.stackTemperature?.seconds.at(-1) ?? 0);

/** One for each curve of which it is known what was seen; the one that was called last comes first. The others: `withoutCurve`. */
export function debriefs(results: readonly CallResult[]): Debrief[] {
  const known = results.filter(({ of, watched }) => of !== undefined && watched !== undefined);
  const newest = (calls: readonly CallResult[]): number => Math.max(...calls.map(({ wallMs }) => wallMs));
  return [...group(known, ({ of }) => of ?? '')]
    .sort(([, one], [, other]) => newest(other) - newest(one))
    .map(([of, calls]) => {
      const longest = calls.reduce((best, one) => (lengthOf(one) > lengthOf(best) ? one : best));
      const ready = calls.flatMap(({ readyMs }) => readyMs ?? []);
      return {
        of,
        exercise: longest.exercise,
        curve: longest.watched ?? {},
        readyS: ready.length === 0 ? undefined : Math.min(...ready) / 1000,
        calls: [...calls].sort((a, b) => a.calledMs - b.calledMs).map((result, index) => ({ number: index + 1, result })),
      };
    });
}

/** Calls of which no curve was saved: older than saved curves, or called on an instrument, where nobody else watches the same. Newest first. */
export const withoutCurve = (results: readonly CallResult[]): CallResult[] =>
  results.filter(({ of, watched }) => of === undefined || watched === undefined).sort((a, b) => b.wallMs - a.wallMs);

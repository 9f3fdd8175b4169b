/** Where lines went missing: a way that was not seen is neither timed nor drawn as seen. */

/** a pause this many times longer than the usual one ... */
const TIMES_USUAL = 2.5;
/** ... and at least this long, s: lines that a busy computer stamps in a bunch are all there (own) */
const LEAST_S = 1.5;
/** how many of the latest intervals tell the usual one */
const LOOKED_AT = 400;

/** The longest pause between two lines that is none, s. @param times in order, s */
function longestPauseS(times: readonly number[]): number {
  const latest = times.slice(-LOOKED_AT);
  const steps = latest.slice(1).map((time, i) => time - (latest[i] as number));
  if (steps.length === 0) return LEAST_S;
  const usual = steps.sort((a, b) => a - b)[Math.floor((steps.length - 1) / 2)] as number;
  return Math.max(LEAST_S, TIMES_USUAL * usual);
}

/** Are lines missing anywhere between these two times, s? */
export function linesAreMissing(times: readonly number[], fromS: number, toS: number): boolean {
  const most = longestPauseS(times);
  return times.some((time, i) => {
    const before = times[i - 1];
    return before !== undefined && time - before > most && time > fromS && before < toS;
  });
}

/** The pieces that may be drawn as one line each; what lies between them was not seen. */
export function piecesOf<T extends readonly [number, number]>(points: readonly T[]): T[][] {
  const most = longestPauseS(points.map(([time]) => time));
  const pieces: T[][] = [];
  for (const point of points) {
    const piece = pieces.at(-1);
    const last = piece?.at(-1);
    if (piece === undefined || last === undefined || point[0] - last[0] > most) pieces.push([point]);
    else piece.push(point);
  }
  return pieces;
}

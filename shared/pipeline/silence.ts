/** From when on a stream counts as silent: three usual periods, two seconds at least. Judged from the lines alone, so that a stored run says the same. */
const LEAST_MS = 2000;
const PERIODS = 3;
const LEARNS = 0.05;
/** a longer time between two lines says nothing about the usual one */
const MOST_MS = 5000;

/** @returns a function that is told the time of each line; true when nothing was seen for too long before it */
export function createSilenceWatch(): (timeMs: number) => boolean {
  let lastMs: number | undefined;
  let periodMs = 1000;
  return (timeMs) => {
    const apartMs = lastMs === undefined ? 0 : timeMs - lastMs;
    const isAfterSilence = apartMs > Math.max(PERIODS * periodMs, LEAST_MS);
    if (lastMs !== undefined && apartMs >= 0) periodMs += (Math.min(apartMs, MOST_MS) - periodMs) * LEARNS;
    lastMs = timeMs;
    return isAfterSilence;
  };
}

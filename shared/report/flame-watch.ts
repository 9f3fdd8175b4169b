/**
 * When the burner stopped and burned again, as far as O2 tells: it climbs towards air and falls back. A probe taken out looks the same, and a cell
 * is late by tens of seconds, so that these times are hints beside a stopwatch and never in its place.
 *
 * @source levels: common practice; an oil flame leaves O2 well below 15 %, air is 20.9 %
 */
export type Stop = { readonly stoppedMs: number; readonly againMs?: number | undefined };

const BURNING_BELOW = 15;
const OFF_ABOVE = 18;

export function createFlameWatch() {
  const stops: { stoppedMs: number; againMs?: number }[] = [];
  let isBurning = false;
  let lastBurningMs = 0;
  let lastOffMs = 0;
  return {
    push(timeMs: number, o2Percent: number): void {
      if (o2Percent < BURNING_BELOW) {
        const open = stops.at(-1);
        // what is between the two levels belongs to the way there
        if (!isBurning && open !== undefined && open.againMs === undefined) open.againMs = lastOffMs;
        isBurning = true;
        lastBurningMs = timeMs;
      } else if (o2Percent > OFF_ABOVE) {
        if (isBurning) stops.push({ stoppedMs: lastBurningMs });
        isBurning = false;
        lastOffMs = timeMs;
      }
    },
    /** copies: a run that is read on changes the last one */
    all: (): Stop[] => stops.map((stop) => ({ ...stop })),
  };
}

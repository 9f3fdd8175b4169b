/** How long a piece of work will still take, from how long its first part took. Time in which it rested does not count. */
export interface TimeLeft {
  begin(): void;
  pause(): void;
  /** `share` of the work is done, 0 to 1 */
  reached(share: number): void;
  readonly share: number;
  /** undefined while too little is done to say */
  leftMs(): number | undefined;
}

/** before that, the first look at a cold disk would say more than the work does */
const LEAST_WORK_MS = 700;
const LEAST_SHARE = 0.02;

export function createTimeLeft(nowMs: () => number = () => performance.now()): TimeLeft {
  let share = 0;
  let workedMs = 0;
  let sinceMs: number | undefined;
  const worked = (): number => workedMs + (sinceMs === undefined ? 0 : nowMs() - sinceMs);
  return {
    begin: () => void (sinceMs ??= nowMs()),
    pause() {
      workedMs = worked();
      sinceMs = undefined;
    },
    reached: (reached) => void (share = Math.min(1, Math.max(share, reached))),
    get share() {
      return share;
    },
    leftMs() {
      const ms = worked();
      return ms < LEAST_WORK_MS || share < LEAST_SHARE ? undefined : Math.round((ms / share) * (1 - share));
    },
  };
}

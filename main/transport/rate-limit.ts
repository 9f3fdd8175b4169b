/** A bucket of allowances: `burst` at once, then `perSecond`. The time is handed in, so it needs no timer. */
export interface RateLimit {
  /** @returns false when this one is too many */
  take(nowMs: number): boolean;
}

export function createRateLimit({ perSecond, burst }: { perSecond: number; burst: number }): RateLimit {
  let left = burst;
  let lastMs: number | undefined;
  return {
    take(nowMs) {
      if (lastMs !== undefined) left = Math.min(burst, left + (Math.max(0, nowMs - lastMs) / 1000) * perSecond);
      lastMs = nowMs;
      if (left < 1) return false;
      left -= 1;
      return true;
    },
  };
}

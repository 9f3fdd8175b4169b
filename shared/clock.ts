/** Time is handed in. `nowMs` is monotonic (never jumps with the wall clock); `wallMs` is Unix time. */
export interface Clock {
  /** @returns milliseconds from an arbitrary start, never going back */
  nowMs(): number;
  /** @returns Unix time, ms */
  wallMs(): number;
  /** @returns the wall clock's offset from UTC, minutes east */
  zoneMinutes(): number;
  /** Resolves after `ms` of this clock's time (which a test or `--speed` may scale). */
  sleep(ms: number): Promise<void>;
  /** Calls back every `ms` of this clock's time. @returns a function that stops it */
  every(ms: number, tick: () => void): () => void;
  /** Calls back once after `ms` of this clock's time. @returns a function that cancels it */
  after(ms: number, tick: () => void): () => void;
}

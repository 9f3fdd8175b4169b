/**
 * Recognises air instead of flue gas: a purge (O2 up to that of air, CO to nothing, stack temperature untouched) or the probe pulled
 * out (the temperature falls too). No oil burner burns at 18 % O2.
 */
const AIR_PERCENT = 18;
const OUT_PERCENT = 17;
const EARLY_PERCENT = 11;
/** Fall of the temperature within the interruption that says that the probe is out, degC. */
const PROBE_OUT_C = 12;

export type FreshAir = 'none' | 'fresh-air' | 'probe-out';

export function createFreshAir() {
  let state: FreshAir = 'none';
  let stackAtEntry: number | undefined;
  let highest = -Infinity;
  return {
    state: (): FreshAir => state,
    /** One block. `o2` undefined: no O2 in it. `headingO2` and its sd as known before this block. */
    block(o2: number | undefined, stackC: number | undefined, headingO2: number, headingSd: number): FreshAir {
      if (o2 === undefined) return state;
      if (state === 'none') {
        const surelyAir = o2 > EARLY_PERCENT && headingO2 - 2 * headingSd > AIR_PERCENT;
        if (o2 >= AIR_PERCENT || surelyAir) {
          state = 'fresh-air';
          stackAtEntry = stackC;
          highest = o2;
        }
        return state;
      }
      highest = Math.max(highest, o2);
      if (stackC !== undefined) {
        stackAtEntry ??= stackC;
        if (stackC < stackAtEntry - PROBE_OUT_C) state = 'probe-out';
      }
      if (o2 < Math.min(OUT_PERCENT, highest - 0.6)) {
        state = 'none';
        stackAtEntry = undefined;
        highest = -Infinity;
      }
      return state;
    },
    reset(): void {
      state = 'none';
      stackAtEntry = undefined;
      highest = -Infinity;
    },
  };
}

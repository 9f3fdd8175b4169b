/**
 * When the burner lit and when it stopped, found in the gas data. O2 leaves air when the flame's gas reaches the cell, so the time found is late by the
 * sampling line's dead time and the cell's lag: good for laying curves over each other, never in the place of a stopwatch.
 */
import type { Sample } from '../measurement/sample.ts';

export type FireEvent = { readonly kind: 'light-off' | 'stop'; readonly timeMs: number };

export interface FireWatch {
  push(sample: Sample): FireEvent | undefined;
  readonly events: readonly FireEvent[];
}

/** O2 above this is air; below this for a while is flue gas. @source own choice; a burner runs far below, %vol dry */
const AIR_ABOVE_PERCENT = 19.5;
const FLUE_BELOW_PERCENT = 16;
/** A single line is a spike, not a flame. */
const CONFIRM_MS = 3000;
/** The stack must warm too, or air was let into the probe and out again. */
const STACK_MOVES_K = 3;

export function createFireWatch(): FireWatch {
  const events: FireEvent[] = [];
  let burning: boolean | undefined;
  let leftAirMs: number | undefined;
  let airSinceMs: number | undefined;
  let crossedMs: number | undefined;
  let stackAtLeaving: number | undefined;
  let previousStack: number | undefined;
  let stackAtStop: number | undefined;

  const found = (kind: FireEvent['kind'], timeMs: number): FireEvent => {
    const event = { kind, timeMs };
    events.push(event);
    return event;
  };

  return {
    events,
    push({ timeMs, values }) {
      const { o2, stackTemperature } = values;
      if (stackTemperature !== undefined) previousStack = stackTemperature;
      if (o2 === undefined) return undefined;
      if (o2 >= AIR_ABOVE_PERCENT) {
        airSinceMs ??= timeMs;
        leftAirMs = undefined;
        crossedMs = undefined;
        stackAtLeaving = previousStack;
        if (burning === undefined) burning = false;
        // back in air while the stack cools: the burner has stopped (a purge leaves the stack as it is)
        if (
          burning &&
          timeMs - airSinceMs >= CONFIRM_MS &&
          stackTemperature !== undefined &&
          stackAtStop !== undefined &&
          stackTemperature < stackAtStop - STACK_MOVES_K
        ) {
          burning = false;
          return found('stop', airSinceMs);
        }
        return undefined;
      }
      leftAirMs ??= timeMs;
      airSinceMs = undefined;
      stackAtStop = stackTemperature ?? stackAtStop;
      if (o2 < FLUE_BELOW_PERCENT) {
        crossedMs ??= timeMs;
        if (burning === undefined && timeMs - crossedMs >= CONFIRM_MS) burning = true; // the run began with the burner on
        const warms = stackTemperature === undefined || stackAtLeaving === undefined || stackTemperature > stackAtLeaving + STACK_MOVES_K;
        if (burning === false && timeMs - crossedMs >= CONFIRM_MS && warms) {
          burning = true;
          return found('light-off', leftAirMs);
        }
      }
      return undefined;
    },
  };
}

/** What the samples of a run say against its recipe, or about the instrument's clock. Nothing here changes what is read. */
import type { Sample } from '../measurement/sample.ts';

/** a cold chimney is cooler than the room, though never by so much, K */
const COOLER_THAN_AIR = 25;
/** degC: what is taken for air is absent above */
const MOST_OF_AIR = 120;
const SAMPLES_NEEDED = 10;

export type Contradiction = 'temperatures' | 'gases';
export type ContradictionWatch = {
  /** @returns what has been the wrong way round in so many samples one after the other; undefined while nothing is */
  push(sample: Sample): Contradiction | undefined;
};

/** Air hotter than the stack, or room air shown as pure carbon dioxide: two channels stand for each other. */
export function createContradictionWatch(): ContradictionWatch {
  const runs = { temperatures: 0, gases: 0 };
  let hasAir = false;
  return {
    push({ values: { o2, co2, stackTemperature, airTemperature }, absent }) {
      hasAir ||= airTemperature !== undefined;
      // air that was there and has become too hot to be any; a sensor that was never plugged in says the same
      const air = airTemperature ?? (hasAir && absent?.airTemperature === 'over-range' ? MOST_OF_AIR : undefined);
      if (stackTemperature !== undefined && air !== undefined)
        runs.temperatures = air > stackTemperature + COOLER_THAN_AIR ? runs.temperatures + 1 : 0;
      if (o2 !== undefined && co2 !== undefined) runs.gases = o2 < 0.6 && co2 > 20.2 && co2 < 21.6 ? runs.gases + 1 : 0;
      return runs.temperatures >= SAMPLES_NEEDED ? 'temperatures' : runs.gases >= SAMPLES_NEEDED ? 'gases' : undefined;
    },
  };
}

/** more than a step of the instrument's clock against the arrival of its lines, ms */
const CLOCK_STEP_MS = 60_000;

export type InstrumentClockWatch = {
  /** @returns by how much the instrument's clock has been set, once, at the first sample behind it */
  push(sample: Sample): number | undefined;
};

/** The clock in the lines, against the time when they came. */
export function createInstrumentClockWatch(): InstrumentClockWatch {
  let before: number | undefined;
  return {
    push({ timeMs, instrumentMs }) {
      if (instrumentMs === undefined) return undefined;
      const offset = instrumentMs - timeMs;
      const step = before === undefined ? 0 : offset - before;
      before = offset;
      return Math.abs(step) > CLOCK_STEP_MS ? step : undefined;
    },
  };
}

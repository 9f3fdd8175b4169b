import type { GeometryLeft } from '../measurement/geometry-left.ts';
import { ignitionOf } from './geometry-effects.ts';
import { createRandom } from './random.ts';

/** A chamber that has been off for longer is cold to a spark. */
const COLD_AFTER_S = 600;
/** Oil that waited burns within about this time, s, and longer the more there is. */
const puffSeconds = (oilSeconds: number): number => 1 + 0.5 * oilSeconds;

/** From the oil valve's opening to the flame, and the puff of the oil that came meanwhile. */
export function createFire(seed: number): {
  step(seconds: number, isOn: boolean, left: GeometryLeft): void;
  isLit(): boolean;
  puffOil(): number;
  /** Electrodes, nozzle or head were moved: the next start is the first one with them. */
  startsAnew(): void;
} {
  const spark = createRandom(seed, 'spark');
  const phase = createRandom(seed, 'spark phase').uniform() < 0.5 ? 0 : 1;
  let fire = { on: false, isLit: false, starts: 0, sinceS: Infinity, delayS: 0, share: 0, puffOil: 0, puffLeftS: 0 };
  return {
    step(seconds, on, left) {
      if (on !== fire.on) {
        const start = on
          ? ignitionOf(left, { fromCold: fire.sinceS > COLD_AFTER_S, index: fire.starts, phase }, spark.uniform)
          : { delayS: 0, share: 0 };
        fire = { ...fire, ...start, on, isLit: false, starts: fire.starts + (on ? 1 : 0), sinceS: 0, puffOil: 0, puffLeftS: 0 };
      }
      if (on && !fire.isLit && fire.sinceS >= fire.delayS) {
        const oilSeconds = fire.share * fire.delayS;
        fire = { ...fire, isLit: true, puffLeftS: puffSeconds(oilSeconds), puffOil: oilSeconds / puffSeconds(oilSeconds) };
      }
      if (fire.isLit) {
        fire.puffLeftS -= seconds;
        if (fire.puffLeftS < 0) fire.puffOil = 0;
      }
      fire.sinceS += seconds;
    },
    isLit: () => fire.isLit,
    puffOil: () => fire.puffOil,
    startsAnew() {
      fire = { ...fire, starts: 0 };
    },
  };
}

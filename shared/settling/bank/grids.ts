import type { SettlingChannel } from '../../measurement/channel.ts';
import type { BankGrid } from './bank-members.ts';

const geometric = (low: number, high: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => low * (high / low) ** (i / (count - 1)));

/**
 * What each bank assumes. Cells 5-15 s (O2) and 10-30 s (CO), thermocouples 3-10 s, metal and water 60-420 s: common practice,
 * taken somewhat wider. Walks and coarseness were tuned on generated streams (tests/score), never on those that are scored.
 */
export const grids: Record<SettlingChannel, BankGrid> = {
  o2: {
    kind: 'cell',
    first: [0, 3, 8],
    sensor: geometric(3.5, 26, 7),
    share: [0],
    wander: [0.02, 0.06],
    drift: [0, 0.004, 0.02],
    driftWalk: 1e-8,
    driftRest: 0.0025,
    wanderSeconds: 40,
    headingWalk: 4e-6,
    slowWalk: 1e-6,
    sensorWalk: 1e-5,
    coarseness: 0.15,
    temper: 0.5,
  },
  co: {
    kind: 'cell',
    first: [0, 4, 10],
    sensor: geometric(7, 48, 7),
    share: [0],
    wander: [1, 4],
    drift: [0, 0.25, 1.5],
    driftWalk: 3e-5,
    driftRest: 0.125,
    wanderSeconds: 40,
    headingWalk: 0.01,
    slowWalk: 0.01,
    sensorWalk: 0.02,
    coarseness: 0.15,
    temper: 0.5,
  },
  stackTemperature: {
    kind: 'metal',
    first: geometric(50, 500, 12),
    sensor: geometric(2.5, 13, 6),
    share: [0.15, 0.3, 0.42, 0.54, 0.68],
    wander: [0.02, 0.07, 0.2, 0.5],
    drift: [0],
    driftWalk: 0,
    driftRest: 0,
    wanderSeconds: 40,
    headingWalk: 1.2e-4,
    slowWalk: 2e-5,
    sensorWalk: 1e-4,
    coarseness: 0.05,
    temper: 0.75,
  },
  airTemperature: {
    kind: 'cell',
    first: [0],
    sensor: [4, 10, 25, 60],
    share: [0],
    wander: [0.1, 0.3],
    drift: [0, 0.03],
    driftWalk: 2.5e-7,
    driftRest: 0.01,
    wanderSeconds: 40,
    headingWalk: 1e-3,
    slowWalk: 1e-4,
    sensorWalk: 1e-4,
    coarseness: 0.15,
    temper: 0.5,
  },
};

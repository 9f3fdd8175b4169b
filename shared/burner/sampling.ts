import type { Drawn } from './draw.ts';
import { O2_OF_AIR } from './physics/flame.ts';
import type { AmountName, InletGas } from './parts.ts';
import type { FlueGas } from './plant.ts';
import type { Scenario } from './scenario.ts';

export type InstrumentDrawn = Drawn<Scenario['instrument']>;

/** What the instrument's cells and thermocouples stand at: behind dead time and lag, before errors and rounding. */
export interface CellValues {
  readonly o2Percent: number;
  readonly coPpm: number;
  readonly h2Ppm: number;
  readonly stackC: number;
  readonly airC: number;
  readonly draftPa: number;
}

export interface SamplingInputs {
  readonly amounts: Readonly<Record<AmountName, number>>;
  readonly probeIn: boolean;
  readonly purge: boolean;
  readonly inlet: InletGas | undefined;
}

export interface Sampling {
  step(flue: FlueGas, inputs: SamplingInputs): CellValues;
  now(): CellValues;
}

const DRAFT_CELL_SECONDS = 1;
const AIR_THERMOCOUPLE_SECONDS = 10;
/** a probe lying in still air cools much slower than it warms in the flue */
const STILL_AIR_FACTOR = 3;
/** a clogged filter at its worst: more delay, and a volume that mixes */
const CLOG_DELAY_FACTOR = 2;
const CLOG_MIXING_SECONDS = 20;

type Gas = { o2Percent: number; coPpm: number; h2Ppm: number };

const mix = (a: Gas, b: Gas, shareOfB: number): Gas => ({
  o2Percent: a.o2Percent + shareOfB * (b.o2Percent - a.o2Percent),
  coPpm: a.coPpm + shareOfB * (b.coPpm - a.coPpm),
  h2Ppm: a.h2Ppm + shareOfB * (b.h2Ppm - a.h2Ppm),
});

/** What is drawn in: reference gas before purge before the probe's place; a leak dilutes only what the probe draws. */
export function sampledGas(flue: Gas, { amounts, probeIn, purge, inlet }: SamplingInputs): Gas {
  const roomAir: Gas = { o2Percent: O2_OF_AIR, coPpm: amounts.roomCoPpm, h2Ppm: 0 };
  if (inlet) return inlet;
  if (purge || !probeIn) return roomAir;
  return mix(flue, roomAir, amounts.leakFraction);
}

/** Sampling line (pure delay, then mixing) and first-order cells, stepped on a fixed grid. */
export function createSampling(instrument: InstrumentDrawn, start: FlueGas, stepMs: number): Sampling {
  const seconds = stepMs / 1000;
  const longestSteps = Math.ceil((instrument.deadTimeS * (1 + CLOG_DELAY_FACTOR)) / seconds) + 1;
  const air: Gas = { o2Percent: O2_OF_AIR, coPpm: 0, h2Ppm: 0 };
  const line = new Array<Gas>(longestSteps).fill(air);
  let writeAt = 0;
  let behindLine: Gas = air;
  let cells: CellValues = { ...air, stackC: start.stackC, airC: start.airC, draftPa: start.breechPa };

  const share = (timeConstant: number): number => (timeConstant <= 0 ? 1 : 1 - Math.exp(-seconds / timeConstant));
  const airShare = share(AIR_THERMOCOUPLE_SECONDS);
  const draftShare = share(DRAFT_CELL_SECONDS);
  const o2Share = share(instrument.o2Seconds);
  const coShare = share(instrument.coSeconds);
  const hotShare = share(instrument.thermocoupleSeconds);
  const coldShare = share(STILL_AIR_FACTOR * instrument.thermocoupleSeconds);

  const step = (flue: FlueGas, inputs: SamplingInputs): CellValues => {
    line[writeAt] = sampledGas(flue, inputs);
    const clog = inputs.amounts.filterClog;
    const delaySteps = Math.min(longestSteps - 1, Math.round((instrument.deadTimeS * (1 + CLOG_DELAY_FACTOR * clog)) / seconds));
    const arriving = line[(writeAt - delaySteps + longestSteps) % longestSteps] ?? air;
    writeAt = (writeAt + 1) % longestSteps;
    behindLine = mix(behindLine, arriving, share(instrument.mixingS + CLOG_MIXING_SECONDS * clog));
    const tipC = inputs.probeIn ? flue.stackC : flue.airC;
    cells = {
      o2Percent: cells.o2Percent + o2Share * (behindLine.o2Percent - cells.o2Percent),
      coPpm: cells.coPpm + coShare * (behindLine.coPpm - cells.coPpm),
      h2Ppm: cells.h2Ppm + coShare * (behindLine.h2Ppm - cells.h2Ppm),
      stackC: cells.stackC + (inputs.probeIn ? hotShare : coldShare) * (tipC - cells.stackC),
      airC: cells.airC + airShare * (flue.airC - cells.airC),
      draftPa: cells.draftPa + draftShare * ((inputs.probeIn ? flue.breechPa : 0) - cells.draftPa),
    };
    return cells;
  };
  return { step, now: () => cells };
}

import { airRatio, flowCapacity } from './physics/air-path.ts';
import type { Drawn } from './draw.ts';
import { draftPressures } from './physics/draft.ts';
import { coAirFree, diluted, o2FromAirRatio, O2_OF_AIR, smokeNumber, type FlameCharacter } from './physics/flame.ts';
import type { SteadyEffects } from './geometry-effects.ts';
import { gasFlowShare, stackAtRestC } from './physics/heat.ts';
import type { AmountName } from './parts.ts';
import type { Scenario } from './scenario.ts';

export type PlantParameters = Drawn<Pick<Scenario, 'burner' | 'appliance' | 'surroundings'>>;

/** What hands, faults and the weather do to the plant at one moment. */
export interface PlantInputs {
  readonly positions: { readonly shutter: number; readonly band: number };
  readonly amounts: Readonly<Record<AmountName, number>>;
  readonly firing: boolean;
  readonly secondStage: boolean;
  /** noise of the world; zero in the calm twin that tells the truth */
  readonly draftWanderPa: number;
  readonly flutter: number;
  readonly geometry: SteadyEffects;
  /** oil that came before the flame stood and burns now, against the nozzle's own */
  readonly puffOil: number;
}

/** What leaves the appliance, before anything is sampled. Dry gas. */
export interface FlueGas {
  readonly o2Percent: number;
  readonly coPpm: number;
  readonly h2Ppm: number;
  readonly stackC: number;
  readonly airC: number;
  readonly overFirePa: number;
  readonly breechPa: number;
  readonly airRatio: number;
  readonly smoke: number;
  readonly onsetO2: number;
}

export interface Plant {
  step(inputs: PlantInputs, seconds: number): FlueGas;
  now(): FlueGas;
  /** where everything would come to rest with these inputs; undefined when the burner is off */
  atRest(inputs: PlantInputs): FlueGas | undefined;
}

const CHAMBER_WARMS_SECONDS = 50;
const CHAMBER_COOLS_SECONDS = 600;
const FLAME_MIXES_SECONDS = 0.4;
const STOP_FLUSHES_SECONDS = 6;
const GAS_PART_SECONDS = 3;
const START_SPIKE_SECONDS = 12;
/** a cold chamber makes smoke at more air than a warm one, %vol O2 */
const COLD_ONSET_SHIFT_O2 = 1.5;
const RICH_WIDTH_O2 = 0.5;
/** The first stage is what a scenario describes. The second burns so many times the oil; its damper opens for a little less than that, so that the lower stage runs with the more air, as they commonly do. */
const SECOND_STAGE_OIL = 1.4;
const SECOND_STAGE_AIR = 1.34;

const towards = (from: number, to: number, seconds: number, timeConstant: number): number =>
  to + (from - to) * Math.exp(-seconds / timeConstant);

/**
 * The burner, its appliance and the chimney as a handful of first-order stores: chamber, metal, chimney, room, and the gas in the flue.
 * The stack temperature has a fast gas part and a slow metal part; the metal takes `slowShare` of a start from cold, and less of a small change.
 */
export function createPlant({ burner, appliance, surroundings }: PlantParameters): Plant {
  let warmth = 0;
  let fireSeconds = 0;
  let offSeconds = Infinity;
  let metalC = surroundings.roomC;
  let gasPartC = surroundings.roomC * (1 - appliance.slowShare);
  let chimneyC = surroundings.roomC;
  let roomWarmth = 0;
  let gasFlow = 0;
  let creepPpm = 0;
  let mixed = { o2Percent: O2_OF_AIR, coPpm: 0, h2Ppm: 0 };

  const oilShare = ({ amounts, secondStage, geometry }: PlantInputs, coldness: number): number =>
    geometry.oilFactor *
    (secondStage ? SECOND_STAGE_OIL : 1) *
    Math.sqrt(amounts.pumpPressurePa / burner.nominalPumpPa) *
    (1 + 0.08 * amounts.nozzleFault) *
    (1 + burner.coldOilShare * coldness);

  /** Poor atomizing, by wear or by low pressure, makes smoke at more air and softens its onset. */
  const character = ({ amounts, geometry }: PlantInputs, coldness: number): FlameCharacter => {
    const weakSpray = Math.max(0, 1 - Math.sqrt(amounts.pumpPressurePa / burner.nominalPumpPa));
    const fault = amounts.nozzleFault + 3.5 * weakSpray;
    const coOnsetO2 = burner.smokeOnsetO2 + 5.5 * fault + geometry.onsetShiftO2 + COLD_ONSET_SHIFT_O2 * coldness;
    return {
      onsetO2: coOnsetO2 + geometry.partSmokeShiftO2,
      coOnsetO2,
      smokeSlope: (geometry.slopeFactor * burner.smokeSlope) / (1 + 1.2 * fault),
      valleyCoPpm: burner.valleyCoPpm * (1 + fault) + geometry.extraCoPpm,
      onsetCoPpm: burner.onsetCoPpm * (1 + fault),
      leanO2: burner.leanO2 + 2 * fault,
      richWidthO2: RICH_WIDTH_O2 * (1 + 1.4 * fault),
    };
  };

  const pressures = ({ amounts, draftWanderPa }: PlantInputs, chimney: number, flow: number) =>
    draftPressures({
      chimneyC: chimney,
      outdoorC: surroundings.outdoorC,
      heightM: appliance.chimneyHeightM,
      factor: amounts.chimneyDraftFactor,
      regulatorPa: appliance.regulatorPa,
      roomDepressionPa: amounts.roomDepressionPa,
      wanderPa: draftWanderPa,
      dropPa: appliance.dropPa,
      fouling: amounts.fouling,
      gasFlow: flow,
    });

  const airRatioNow = (inputs: PlantInputs, overFirePa: number, oil: number): number =>
    airRatio({
      capacity: flowCapacity(inputs.positions, inputs.amounts.inletBlockage) * (inputs.secondStage ? SECOND_STAGE_AIR : 1),
      airRatioAtMiddle: burner.airRatioAtMiddle * inputs.geometry.airFactor,
      fanPressurePa: burner.fanPressurePa,
      overFirePa,
      oilShare: oil,
    }) *
    (1 + inputs.flutter);

  const restC = (ratio: number, oil: number, airC: number, fouling: number): number =>
    stackAtRestC({ airRatio: ratio, oilShare: oil, airC, waterC: appliance.waterC, transferUnits: appliance.transferUnits, fouling });

  /** The metal follows a start from cold wholly, a small change of the flame only in part. */
  const metalTargetC = (endC: number, airC: number): number => {
    const middleC = restC(1.3, 1, airC, 1);
    return middleC + appliance.metalFollows * (endC - middleC);
  };
  /** The body keeps warm after a stop; before the first fire it is as cold as the room. */
  const idleC = (airC: number): number => (fireHasBurnt() ? airC + 0.25 * Math.max(0, appliance.waterC - airC) : airC);

  const flameGas = (o2Percent: number, flame: FlameCharacter, extraAirFreePpm: number) => {
    const { coPpm, h2Ppm } = coAirFree(o2Percent, flame);
    return { o2Percent, coPpm: diluted(coPpm + extraAirFreePpm, o2Percent), h2Ppm: diluted(h2Ppm, o2Percent) };
  };

  const snapshot = (inputs: PlantInputs, ratio: number, flame: FlameCharacter, stackC: number): FlueGas => {
    const dripping = 6 * Math.exp(-offSeconds / (3 * inputs.amounts.afterDripSeconds)) * Math.min(1, inputs.amounts.afterDripSeconds / 8);
    const { overFirePa, breechPa } = pressures(inputs, chimneyC, gasFlow);
    // field by field: spreading here costs more than all the physics
    return {
      o2Percent: mixed.o2Percent,
      coPpm: mixed.coPpm,
      h2Ppm: mixed.h2Ppm,
      stackC,
      airC: surroundings.roomC + surroundings.roomWarmsK * roomWarmth,
      overFirePa,
      breechPa,
      airRatio: ratio,
      smoke: inputs.firing ? smokeNumber(mixed.o2Percent, flame) : dripping,
      onsetO2: flame.onsetO2,
    };
  };

  let last: FlueGas = {
    ...mixed,
    stackC: surroundings.roomC,
    airC: surroundings.roomC,
    overFirePa: 0,
    breechPa: 0,
    airRatio: Infinity,
    smoke: 0,
    onsetO2: burner.smokeOnsetO2,
  };

  const step = (inputs: PlantInputs, seconds: number): FlueGas => {
    const { firing, amounts } = inputs;
    fireSeconds = firing ? fireSeconds + seconds : 0;
    offSeconds = firing ? 0 : offSeconds + seconds;
    warmth = towards(warmth, firing ? 1 : 0, seconds, firing ? CHAMBER_WARMS_SECONDS : CHAMBER_COOLS_SECONDS);
    roomWarmth = towards(roomWarmth, firing ? 1 : 0, seconds, surroundings.roomWarmSeconds);
    creepPpm = firing && amounts.creepPpmPerMinute > 0 ? creepPpm + (amounts.creepPpmPerMinute * seconds) / 60 : firing ? creepPpm : 0;

    const coldness = 1 - warmth;
    const oil = firing ? oilShare(inputs, coldness) * (1 + inputs.puffOil) : 0;
    const flame = character(inputs, coldness);
    const airC = surroundings.roomC + surroundings.roomWarmsK * roomWarmth;
    const { overFirePa } = pressures(inputs, chimneyC, gasFlow);
    const ratio = firing ? airRatioNow(inputs, overFirePa, oil) : Infinity;
    gasFlow = firing ? gasFlowShare(ratio, oil) : 0;

    const endC = firing ? restC(ratio, oil, airC, amounts.fouling) : idleC(airC);
    const metalEndC = firing ? metalTargetC(endC, airC) : endC;
    metalC = towards(metalC, metalEndC, seconds, firing ? appliance.slowSeconds : 3 * appliance.slowSeconds);
    gasPartC = towards(gasPartC, endC - appliance.slowShare * metalEndC, seconds, GAS_PART_SECONDS);
    const stackC = gasPartC + appliance.slowShare * metalC;
    chimneyC = towards(chimneyC, surroundings.roomC + 0.55 * (stackC - surroundings.roomC), seconds, appliance.chimneySeconds);

    const spike = burner.startCoPpm * coldness * Math.exp(-fireSeconds / START_SPIKE_SECONDS);
    const leaving = firing
      ? flameGas(o2FromAirRatio(ratio), flame, spike + creepPpm)
      : { o2Percent: O2_OF_AIR, coPpm: fireHasBurnt() ? burner.stopCoPpm * Math.exp(-offSeconds / amounts.afterDripSeconds) : 0, h2Ppm: 0 };
    const mixing = firing ? FLAME_MIXES_SECONDS : STOP_FLUSHES_SECONDS;
    mixed = {
      o2Percent: towards(mixed.o2Percent, leaving.o2Percent, seconds, mixing),
      coPpm: towards(mixed.coPpm, leaving.coPpm, seconds, FLAME_MIXES_SECONDS),
      h2Ppm: towards(mixed.h2Ppm, leaving.h2Ppm, seconds, mixing),
    };
    last = snapshot(inputs, ratio, flame, stackC);
    return last;
  };
  const fireHasBurnt = (): boolean => Number.isFinite(offSeconds);

  const atRest = (inputs: PlantInputs): FlueGas | undefined => {
    if (!inputs.firing) return undefined;
    const oil = oilShare(inputs, 0);
    const flame = character(inputs, 0);
    const airC = surroundings.roomC + surroundings.roomWarmsK;
    let draft = pressures(inputs, chimneyC, gasFlow);
    let ratio = airRatioNow(inputs, draft.overFirePa, oil);
    let stackC = restC(ratio, oil, airC, inputs.amounts.fouling);
    // the loop air -> stack -> chimney -> draft -> air is weak (a few per cent), so it comes to rest in a few rounds
    for (let round = 0; round < 12; round++) {
      draft = pressures(inputs, surroundings.roomC + 0.55 * (stackC - surroundings.roomC), gasFlowShare(ratio, oil));
      ratio = airRatioNow(inputs, draft.overFirePa, oil);
      stackC = restC(ratio, oil, airC, inputs.amounts.fouling);
    }
    const gas = flameGas(o2FromAirRatio(ratio), flame, creepPpm);
    return { ...gas, stackC, airC, ...draft, airRatio: ratio, smoke: smokeNumber(gas.o2Percent, flame), onsetO2: flame.onsetO2 };
  };

  return { step, now: () => last, atRest };
}

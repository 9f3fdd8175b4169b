/**
 * Pressures in the flue against the room, suction negative. A chimney pulls with the weight of the outdoor air that its warm gas replaces;
 * a barometric regulator lets room air in and flattens what is above its set point.
 *
 * @source hydrostatics with the ideal gas law (density of air 1.293 kg/m3 at 0 degC, 101.325 kPa; from memory)
 */
const AIR_KG_PER_M3_AT_0C = 1.293;
const GRAVITY = 9.81;
/** share of the surplus suction that a regulator can't take away */
const REGULATOR_SLACK = 0.2;

const densityKgPerM3 = (celsius: number): number => (AIR_KG_PER_M3_AT_0C * 273.15) / (celsius + 273.15);

export interface DraftConditions {
  readonly chimneyC: number;
  readonly outdoorC: number;
  readonly heightM: number;
  readonly factor: number;
  readonly regulatorPa: number;
  readonly roomDepressionPa: number;
  readonly wanderPa: number;
  readonly dropPa: number;
  readonly fouling: number;
  readonly gasFlow: number;
}

export function draftPressures(conditions: DraftConditions): { overFirePa: number; breechPa: number } {
  const { chimneyC, outdoorC, heightM, factor, regulatorPa, roomDepressionPa, wanderPa, dropPa, fouling, gasFlow } = conditions;
  const natural = factor * GRAVITY * heightM * (densityKgPerM3(outdoorC) - densityKgPerM3(chimneyC)) + wanderPa - roomDepressionPa;
  const suction = natural > regulatorPa ? regulatorPa + REGULATOR_SLACK * (natural - regulatorPa) : natural;
  // soot narrows the gas ways: the drop grows much faster than the heat transfer falls
  const drop = dropPa * gasFlow ** 2 * (1 + 8 * (fouling - 1));
  return { breechPa: -suction, overFirePa: drop - suction };
}

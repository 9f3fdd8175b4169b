/**
 * Nozzles as they are stamped, each with its own flow unit and its own pressure, and what they put through at the pump pressure of each stage. A derating aid
 * goes the other way: from the input that is wanted to the nozzle at a pressure, inside the maximum of the plate.
 *
 * @source flow goes with the root of the pressure: hydraulics. Stamp in kg/h is for test oil of 840 kg/m3 at 10 bar: EN 293 (from memory; shown, decides nothing)
 */
import type { Fuel } from '../../combustion/fuel.ts';
import { firing, RATING_PRESSURE_PA, type Firing } from '../../combustion/nozzle.ts';
import { L_PER_US_GALLON, PA_PER_PSI } from '../../units/convert.ts';
import { presentValue, type NozzleStamp, type SetUpSheet, type StageNozzle } from './set-up-sheet.ts';
import { defined } from '../../defined.ts';

/** Pressures that flows are stamped at, Pa: 100 psi, 7 bar, 10 bar. */
export const stampPressures = [RATING_PRESSURE_PA, 700_000, 1_000_000] as const;

const TEST_OIL_KG_PER_L = 0.84;

/** L/h at the pressure that the stamp is for. */
export function stampedLh({ value, unit }: Pick<NozzleStamp, 'value' | 'unit'>): number {
  if (unit === 'gph') return value * L_PER_US_GALLON;
  return unit === 'l/h' ? value : value / TEST_OIL_KG_PER_L;
}

/** What the stamp would read at 100 psi, gph: the form in which flows are compared. */
export const ratedGph = (stamp: NozzleStamp): number => (stampedLh(stamp) / L_PER_US_GALLON) * Math.sqrt(RATING_PRESSURE_PA / stamp.atPa);

/** The nozzle of a stage, with what stands on the sheet itself for the first one. */
export function nozzleAt(sheet: SetUpSheet, stage: string, first: string): StageNozzle {
  const own = sheet.stages?.find((one) => one.stage === stage);
  if (stage !== first) return own ?? { stage };
  const [flowLh, pumpPa, angleDeg] = (['nozzleFlowLh', 'pumpPressurePa', 'nozzleAngleDeg'] as const).map((item) =>
    presentValue(sheet, item),
  );
  const pattern = sheet.nozzlePattern?.asLeft ?? sheet.nozzlePattern?.asFound;
  const stamp: NozzleStamp | undefined =
    flowLh === undefined ? undefined : { value: flowLh, unit: 'l/h', atPa: sheet.ratedPressurePa ?? RATING_PRESSURE_PA };
  const sameFlow = own?.stamp !== undefined && stamp !== undefined && Math.abs(stampedLh(own.stamp) - flowLh!) < 0.005 * flowLh!;
  return {
    stage,
    // as it was typed, as long as the sheet says the same
    ...defined({ stamp: sameFlow ? own.stamp : stamp, angleDeg, pattern, pumpPa }),
  };
}

export type StageFiring = { stage: string; nozzle: StageNozzle; firing: Firing | undefined };

/** Flow and input of every stage; undefined for one whose nozzle or pressure is not known. */
export function stageFirings(sheet: SetUpSheet, stages: readonly string[], fuel: Fuel): StageFiring[] {
  const first = stages[0] ?? '1';
  const base = nozzleAt(sheet, first, first);
  return stages.map((stage) => {
    const nozzle = nozzleAt(sheet, stage, first);
    // at a second stage without a nozzle of its own the first one burns at the second pressure
    const own = nozzle.stamp ?? (stage === first ? undefined : base.stamp);
    const pressurePa = nozzle.pumpPa ?? base.pumpPa;
    if (own === undefined || pressurePa === undefined) return { stage, nozzle, firing: undefined };
    const gph = ratedGph(own) + (nozzle.adds === true && nozzle.stamp !== undefined && base.stamp !== undefined ? ratedGph(base.stamp) : 0);
    return { stage, nozzle, firing: firing({ fuel, ratedGph: gph, pressurePa }) };
  });
}

/** Flows that nozzles are commonly made in, US gph at 100 psi. Common practice. */
export const commonNozzlesGph = [
  0.4, 0.5, 0.55, 0.6, 0.65, 0.75, 0.85, 0.9, 1, 1.1, 1.2, 1.25, 1.35, 1.5, 1.65, 1.75, 2, 2.25, 2.5, 2.75, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 10,
] as const;
/** Pressures that are offered, Pa: 100, 125, 140, 150, 175 psi. Common practice; the burner's sheet says which it may have. */
export const offeredPressuresPa = [100, 125, 140, 150, 175].map((psi) => psi * PA_PER_PSI);

export type Derating = {
  pressurePa: number;
  /** exactly what is wanted, gph at 100 psi */
  neededGph: number;
  nozzle: { gph: number; inputKw: number; overPlate: boolean; away: number } | undefined;
};

/**
 * For each pressure the common nozzle that comes nearest to the wanted input without going over the plate.
 *
 * @param basis heating value that the wanted input and the plate are on
 */
export function derate({
  fuel,
  wantedKw,
  plateKw,
  basis,
}: {
  fuel: Fuel;
  wantedKw: number;
  plateKw?: number | undefined;
  basis: 'hhv' | 'lhv';
}): Derating[] {
  const inputOf = (gph: number, pressurePa: number): number | undefined => {
    const rate = firing({ fuel, ratedGph: gph, pressurePa });
    return rate === undefined ? undefined : basis === 'hhv' ? rate.inputHhvKw : rate.inputLhvKw;
  };
  return offeredPressuresPa.flatMap((pressurePa): Derating[] => {
    const perGph = inputOf(1, pressurePa);
    if (perGph === undefined || !(wantedKw > 0)) return [];
    const inside = commonNozzlesGph
      .map((gph) => ({ gph, inputKw: gph * perGph, overPlate: plateKw !== undefined && gph * perGph > plateKw * 1.0001 }))
      .map((one) => ({ ...one, away: one.inputKw / wantedKw - 1 }))
      .sort((a, b) => Number(a.overPlate) - Number(b.overPlate) || Math.abs(a.away) - Math.abs(b.away));
    return [{ pressurePa, neededGph: wantedKw / perGph, nozzle: inside[0] }];
  });
}

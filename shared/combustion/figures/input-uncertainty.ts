import type { DeriveInput } from './figures.ts';
import { defaultTolerances } from '../../measurement/limits.ts';
import { fromHalfWidth, halfWidthsAt } from './uncertainty.ts';

/** Standard uncertainties of one input. */
export type InputUncertainty = {
  /** from the tolerance: the same offset all visit long, so it cancels in a difference */
  readonly systematic: number;
  /** of the mean: spread over effective sample size */
  readonly random: number;
};

export type InputUncertainties = {
  /** O2 or, when that was measured, CO2; %vol */
  readonly gas: InputUncertainty;
  /** ppm */
  readonly co: InputUncertainty;
  /** K */
  readonly stack: InputUncertainty;
  readonly air: InputUncertainty;
  /** hydrogen of the fuel, kg/kg; moves all figures but the totals */
  readonly hydrogen: InputUncertainty;
  /** points of efficiency; stands in for the composition where totals are concerned */
  readonly points: InputUncertainty;
};

/** @source JCGM 100:2008, 4.3.7; the tolerances' own sources are in uncertainty.ts */
export function inputUncertainties({ fuel, coPpmDry, tolerances, spreads }: DeriveInput, isFromCo2: boolean): InputUncertainties {
  const usual = halfWidthsAt(defaultTolerances, coPpmDry);
  const gas = isFromCo2 ? (tolerances?.co2 ?? usual.co2) : (tolerances?.o2 ?? usual.o2);
  const points = tolerances?.fuelPoints ?? usual.fuelPoints;
  // a caller who trusts the fuel more or less than the default moves the composition with it
  const hydrogen = (fuel.hydrogenHalfWidth * points) / usual.fuelPoints;
  const co = coPpmDry === undefined ? 0 : (tolerances?.coPpm ?? usual.coPpm);
  return {
    gas: { systematic: fromHalfWidth(gas), random: (isFromCo2 ? spreads?.co2 : spreads?.o2) ?? 0 },
    co: { systematic: fromHalfWidth(co), random: spreads?.coPpm ?? 0 },
    stack: { systematic: fromHalfWidth(tolerances?.stackK ?? usual.stackK), random: spreads?.stackK ?? 0 },
    air: { systematic: fromHalfWidth(tolerances?.airK ?? usual.airK), random: spreads?.airK ?? 0 },
    hydrogen: { systematic: fromHalfWidth(hydrogen), random: 0 },
    points: { systematic: fromHalfWidth(points), random: 0 },
  };
}

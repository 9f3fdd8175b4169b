/** EPA F-factors, and the check of an analysis that has both O2 and CO2. */
import { KJ_PER_KG_PER_BTU_PER_LB } from '../units/convert.ts';
import { AIR, O2_IN_AIR_EPA_PERCENT, SCF_PER_LBMOL } from './constants.ts';
import type { Fuel } from './fuel.ts';
import { combustionTexts } from '../words/core/combustion.ts';

export type FFactors = {
  readonly fdDscfPerMmbtu: number;
  readonly fwWscfPerMmbtu: number;
  readonly fcScfPerMmbtu: number;
  /** absent for a fuel without carbon */
  readonly fo: number | undefined;
};

/**
 * Gas volumes per heat input with the coefficients that the method prints; composition in %, HHV in Btu/lb.
 *
 *     Fd = 1e6 (3.64 H + 1.53 C + 0.57 S + 0.14 N - 0.46 O)/HHV          dscf/MMBtu
 *     Fw = 1e6 (5.57 H + 1.53 C + 0.57 S + 0.14 N - 0.46 O + 0.21 W)/HHV
 *     Fc = 1e6 0.321 C/HHV                                                scf CO2/MMBtu
 *     Fo = 0.209 Fd/Fc
 *
 * @source 40 CFR 60 App. A-7, Method 19, equations 19-13 to 19-15 (from memory)
 */
export function fFactors({ analysis, hhvKjPerKg }: Fuel): FFactors {
  const { c, h, o, n, s, w } = analysis;
  const perMmbtu = (1e6 * 100) / (hhvKjPerKg / KJ_PER_KG_PER_BTU_PER_LB);
  const common = 1.53 * c + 0.57 * s + 0.14 * n - 0.46 * o;
  const fdDscfPerMmbtu = perMmbtu * (3.64 * h + common);
  const fcScfPerMmbtu = perMmbtu * 0.321 * c;
  return {
    fdDscfPerMmbtu,
    fwWscfPerMmbtu: perMmbtu * (5.57 * h + common + 0.21 * w),
    fcScfPerMmbtu,
    fo: fcScfPerMmbtu > 0 ? ((O2_IN_AIR_EPA_PERCENT / 100) * fdDscfPerMmbtu) / fcScfPerMmbtu : undefined,
  };
}

/** The same volumes from our mole balance; to see how far the printed coefficients round. @source FORMULAS.md#f-factors */
export function fFactorsFromBalance({ stoichiometry: st, hhvKjPerKg }: Fuel): FFactors {
  const scfPerMmbtu = (SCF_PER_LBMOL * 1e6) / (hhvKjPerKg / KJ_PER_KG_PER_BTU_PER_LB);
  return {
    fdDscfPerMmbtu: st.dryGas * scfPerMmbtu,
    fwWscfPerMmbtu: st.wetGas * scfPerMmbtu,
    fcScfPerMmbtu: st.carbon * scfPerMmbtu,
    fo: st.carbon > 0 ? (O2_IN_AIR_EPA_PERCENT / 100) * (st.dryGas / st.carbon) : undefined,
  };
}

export type GasConsistency = {
  readonly isConsistent: boolean;
  readonly fo: number;
  readonly range: readonly [low: number, high: number];
  /** the CO2max that the two readings imply together, %vol dry */
  readonly impliedCo2MaxPercent: number;
  /** in words, for the person */
  readonly text: string;
};

/** How far a fuel without a published Fo range may be from its own Fo; as wide as the published ranges are. Common practice. */
const OWN_FO_TOLERANCE = 0.06;

/**
 * Do a measured O2 and a measured CO2 belong together, and to this fuel?
 *
 *     Fo = (20.9 - (O2 - CO/2)) / (CO2 + CO)
 *
 * @source EPA Method 3B, section on checking the analysis, and its Fo ranges (from memory)
 */
export function checkGasConsistency(fuel: Fuel, o2PercentDry: number, co2PercentDry: number, coPpmDry = 0): GasConsistency | undefined {
  const co = coPpmDry * 1e-4;
  const own = fFactorsFromBalance(fuel).fo;
  if (own === undefined || !(co2PercentDry + co > 0)) return undefined;
  const fo = (O2_IN_AIR_EPA_PERCENT - (o2PercentDry - co / 2)) / (co2PercentDry + co);
  const range = fuel.foRange ?? ([own * (1 - OWN_FO_TOLERANCE), own * (1 + OWN_FO_TOLERANCE)] as const);
  const impliedCo2MaxPercent = (100 * AIR.o2 * (co2PercentDry + co)) / (100 * AIR.o2 - (o2PercentDry - co / 2));
  const figures = combustionTexts.foFigures(
    fo.toFixed(3),
    fuel.name,
    range[0].toFixed(3),
    range[1].toFixed(3),
    impliedCo2MaxPercent.toFixed(1),
    fuel.stoichiometry.co2MaxPercent.toFixed(1),
  );
  const isConsistent = fo >= range[0] && fo <= range[1];
  if (isConsistent) return { isConsistent, fo, range, impliedCo2MaxPercent, text: combustionTexts.fits(figures.slice(0, -1)) };
  const cause = fo < range[0] ? combustionTexts.oneTooHigh : combustionTexts.oneTooLow;
  return {
    isConsistent,
    fo,
    range,
    impliedCo2MaxPercent,
    text: combustionTexts.contradicts(figures, cause),
  };
}

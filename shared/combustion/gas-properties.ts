/**
 * Ideal-gas heat capacity and enthalpy of the flue gas species, NASA 7-coefficient polynomials.
 *
 *     cp/R    = a1 + a2 T + a3 T^2 + a4 T^3 + a5 T^4
 *     h/(R T) = a1 + a2 T/2 + a3 T^2/3 + a4 T^3/4 + a5 T^4/5 + a6/T
 *
 * Low range 200-1000 K (SO2 300-1000 K, used down to 200 K: there is almost none of it), high range to 6000 K.
 * They start below cold intake air and need no change of set at 227 degC, which is why they are used and not the Shomate sets.
 *
 * @source NASA TM-4513 (McBride, Gordon, Reno 1993), read from an open thermodynamics library's data file
 */
import { GAS_CONSTANT_KJ_PER_KMOL_K } from './constants.ts';

type Coefficients = readonly [a1: number, a2: number, a3: number, a4: number, a5: number, a6: number];
type Polynomials = { readonly low: Coefficients; readonly high: Coefficients };

const RANGE_CHANGE_K = 1000;

export const species: Readonly<Record<Species, Polynomials>> = {
  co2: {
    low: [2.35677352, 8.98459677e-3, -7.12356269e-6, 2.45919022e-9, -1.43699548e-13, -4.83719697e4],
    high: [4.63659493, 2.74131991e-3, -9.95828531e-7, 1.60373011e-10, -9.16103468e-15, -4.90249341e4],
  },
  h2o: {
    low: [4.19864056, -2.0364341e-3, 6.52040211e-6, -5.48797062e-9, 1.77197817e-12, -3.02937267e4],
    high: [2.67703787, 2.97318329e-3, -7.7376969e-7, 9.44336689e-11, -4.26900959e-15, -2.98858938e4],
  },
  n2: {
    low: [3.53100528, -1.23660987e-4, -5.02999437e-7, 2.43530612e-9, -1.40881235e-12, -1.04697628e3],
    high: [2.95257626, 1.39690057e-3, -4.92631691e-7, 7.86010367e-11, -4.60755321e-15, -9.23948645e2],
  },
  o2: {
    low: [3.78245636, -2.99673415e-3, 9.847302e-6, -9.68129508e-9, 3.24372836e-12, -1.06394356e3],
    high: [3.66096083, 6.56365523e-4, -1.41149485e-7, 2.05797658e-11, -1.29913248e-15, -1.21597725e3],
  },
  co: {
    low: [3.57953347, -6.1035368e-4, 1.01681433e-6, 9.07005884e-10, -9.04424499e-13, -1.4344086e4],
    high: [3.04848583, 1.35172818e-3, -4.85794075e-7, 7.88536486e-11, -4.69807489e-15, -1.42661171e4],
  },
  so2: {
    low: [3.2665338, 5.3237902e-3, 6.8437552e-7, -5.2810047e-9, 2.5590454e-12, -3.6908148e4],
    high: [5.2451364, 1.9704204e-3, -8.0375769e-7, 1.5149969e-10, -1.0558004e-14, -3.7558227e4],
  },
  ar: { low: [2.5, 0, 0, 0, 0, -745.375], high: [2.5, 0, 0, 0, 0, -745.375] },
};

export type Species = 'co2' | 'h2o' | 'n2' | 'o2' | 'co' | 'so2' | 'ar';

const coefficients = (gas: Species, kelvin: number): Coefficients => (kelvin > RANGE_CHANGE_K ? species[gas].high : species[gas].low);

/** @returns kJ/(kmol K); valid 200-6000 K */
export function heatCapacity(gas: Species, kelvin: number): number {
  const a = coefficients(gas, kelvin);
  return GAS_CONSTANT_KJ_PER_KMOL_K * (a[0] + kelvin * (a[1] + kelvin * (a[2] + kelvin * (a[3] + kelvin * a[4]))));
}

/** Absolute enthalpy, heat of formation included; only differences and balances are meant to be used. @returns kJ/kmol; valid 200-6000 K */
export function enthalpy(gas: Species, kelvin: number): number {
  const a = coefficients(gas, kelvin);
  return (
    GAS_CONSTANT_KJ_PER_KMOL_K *
    (a[5] + kelvin * (a[0] + kelvin * (a[1] / 2 + kelvin * (a[2] / 3 + kelvin * (a[3] / 4 + (kelvin * a[4]) / 5)))))
  );
}

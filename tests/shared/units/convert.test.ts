import { describe, expect, it } from 'vitest';
import * as units from '../../../shared/units/convert.ts';

/** Each from its own definition, not from the factor. @source the definitions of the units (SI brochure, international yard and pound of 1959; from memory) */
const POUND_KG = 0.45359237;
const FOOT_M = 0.3048;
const STANDARD_GRAVITY = 9.80665;
const INCH_M = FOOT_M / 12;

describe('factors between units', () => {
  it.each([
    ['psi', units.PA_PER_PSI, (POUND_KG * STANDARD_GRAVITY) / INCH_M ** 2, 12],
    ['mm of water (1 kg/m² at standard gravity)', units.PA_PER_MM_WC, STANDARD_GRAVITY, 12],
    ['inch of water, as so many mm', units.PA_PER_IN_WC, 25.4 * STANDARD_GRAVITY, 7],
    // mercury of 13595.1 kg/m³, conventional (ISO 80000-4, from memory)
    ['inch of mercury', units.PA_PER_IN_HG, 13_595.1 * STANDARD_GRAVITY * INCH_M, 6],
    ['bar', units.PA_PER_BAR, 1e5, 12],
    ['mbar', units.PA_PER_MBAR, 1e5 / 1000, 12],
    ['foot', units.M_PER_FT, 0.9144 / 3, 12],
    ['pound', units.KG_PER_LB, 7000 * 64.79891e-6, 12],
    // 231 cubic inches
    ['US gallon', units.L_PER_US_GALLON, 231 * (INCH_M * 10) ** 3, 12],
    // the international-table Btu is what makes this 2.326 exactly
    ['Btu/lb', units.KJ_PER_KG_PER_BTU_PER_LB, 2.326, 12],
    ['kWh in Btu', units.BTU_PER_KWH, 3600 / (2.326 * POUND_KG), 8],
    ['inch in mm', units.MM_PER_INCH, INCH_M * 1000, 12],
  ])('%s', (_, factor, defined, digits) => {
    expect(Math.abs(factor / defined - 1)).toBeLessThan(10 ** -digits);
  });

  it('Fahrenheit: water freezes at 32 and boils at 212, and both scales meet at -40', () => {
    expect([32, 212, -40].map(units.celsiusFromFahrenheit)).toEqual([0, 100, -40]);
    expect(units.kelvinFromFahrenheitDifference(180)).toBe(100);
    expect(units.KELVIN_OFFSET).toBe(273.15);
  });
});

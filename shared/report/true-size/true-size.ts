/** The bar that proves the scale of a true-size sheet. Pure. */

/** 6 inches: as long as fits on either paper, and read on a rule of either unit. */
export const PROOF_BAR_MM = 152.4;
/** A printer that is off by more than this draws lengths that the parts do not have. */
export const PROOF_SHARE = 0.01;

/** @returns whether the bar, measured on paper, proves that the sheet is true to size */
export const isTrueSize = (measuredMm: number): boolean =>
  Number.isFinite(measuredMm) && Math.abs(measuredMm - PROOF_BAR_MM) <= PROOF_SHARE * PROOF_BAR_MM + 1e-9;

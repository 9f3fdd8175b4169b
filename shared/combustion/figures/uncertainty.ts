/**
 * Standard uncertainties of the inputs, and how they combine. JCGM 100:2008 (GUM): 4.3.7 rectangular half-width a -> a/sqrt 3,
 * 5.1.2 uncorrelated inputs, 6.2 U = 2 u_c.
 */
import { coHalfWidth, type Tolerances } from '../../measurement/limits.ts';

/** Half-widths of rectangular distributions at the values of one calculation: what the instrument and the fuel may be off by. */
export type HalfWidths = {
  /** %vol dry */
  readonly o2?: number | undefined;
  /** %vol dry, when CO2 is the input instead of O2 */
  readonly co2?: number | undefined;
  readonly coPpm?: number | undefined;
  readonly stackK?: number | undefined;
  readonly airK?: number | undefined;
  /** points of efficiency, for the composition of an un-analysed fuel */
  readonly fuelPoints?: number | undefined;
};

/** @param coPpm the CO reading, on which its tolerance depends */
export const halfWidthsAt = (tolerances: Tolerances, coPpm: number | undefined) => ({
  o2: tolerances.o2Percent,
  co2: tolerances.o2Percent,
  coPpm: coHalfWidth(tolerances, coPpm ?? 0),
  stackK: tolerances.stackK,
  airK: tolerances.airK,
  fuelPoints: tolerances.fuelPoints,
});

/** Standard uncertainties of the means: spread of the reading over its effective sample size (autocorrelation counts). */
export type Spreads = {
  readonly o2?: number | undefined;
  readonly co2?: number | undefined;
  readonly coPpm?: number | undefined;
  readonly stackK?: number | undefined;
  readonly airK?: number | undefined;
};

export const COVERAGE_FACTOR = 2;

/** Half-width of a rectangular distribution -> standard uncertainty. @source JCGM 100:2008, 4.3.7 */
export const fromHalfWidth = (halfWidth: number): number => halfWidth / Math.sqrt(3);

export type Rounded = { readonly value: number; readonly uncertainty: number; readonly decimals: number; readonly text: string };

/**
 * Value and expanded uncertainty as they may be written: the uncertainty to two significant digits when it starts with 1 or 2,
 * else to one, rounded up when rounding down would lose more than 5 % of it; the value to the same place.
 *
 * @source JCGM 100:2008, 7.2.6 (at most two significant digits; rounding up may be appropriate)
 */
export function roundToUncertainty(value: number, uncertainty: number): Rounded {
  if (!(uncertainty > 0 && Number.isFinite(uncertainty) && Number.isFinite(value)))
    return { value, uncertainty, decimals: 0, text: String(value) };
  // an uncertainty that small is none: the value itself carries no more digits than a double
  if (uncertainty < 1e-12) return { value, uncertainty, decimals: 0, text: String(value) };
  const first = Math.floor(Math.log10(uncertainty));
  const leading = uncertainty / 10 ** first;
  const place = leading < 2.95 ? first - 1 : first;
  const step = 10 ** place;
  const nearest = Math.round(uncertainty / step) * step;
  const kept = nearest < uncertainty * 0.95 ? nearest + step : nearest;
  const decimals = Math.max(0, -place);
  const roundedValue = Math.round(value / step) * step;
  const write = (x: number): string => (x === 0 ? 0 : x).toFixed(decimals);
  return {
    value: Number(write(roundedValue)),
    uncertainty: Number(write(kept)),
    decimals,
    text: `${write(roundedValue)} ± ${write(kept)}`,
  };
}

/**
 * CO2max: the most CO2 that dry flue gas of a fuel can hold, at no excess air. It follows from the fuel's analysis; a person may set another one, because
 * the sheet or the authority they work by names it.
 *
 * A set value is used wherever CO2 and O2 are turned into one another, and for a reserve in points of CO2. It does not change what is computed from a
 * measured O2 by the fuel's analysis: excess air, air-free CO, losses, efficiency, dew points. Where only CO2 is measured, O2 follows from it, and with O2
 * all of these.
 */
import { combustionTexts } from '../words/core/combustion.ts';
import { findFuel, makeFuel, type Fuel } from './fuel.ts';

/** The published range of hydrogen in grade 2 oil, kg/kg. @source combustion.md, 11.8 to 13.9 %, see FORMULAS.md#unknown-oil */
const HYDROGEN_RANGE = [0.118, 0.139] as const;
const HYDROGEN_USUAL = 0.13;
/** Further off than this it is another kind of fuel's: 11.7 is natural gas. Ours. */
const MOST_OFF_PERCENT = 1.5;

/** The fuel with the CO2max that was set; undefined: as its analysis gives it. */
export const withCo2Max = (fuel: Fuel, percent: number | undefined): Fuel =>
  fuel.co2MaxSetPercent === percent ? fuel : makeFuel({ ...fuel, co2MaxSetPercent: percent });

/** Another fuel has another CO2max: one that was set goes with the fuel it was set for. A fuel that nobody knows changes nothing. */
export function changedFuel(
  fuel: Fuel,
  { fuelId, co2MaxPercent }: { readonly fuelId?: string | undefined; readonly co2MaxPercent?: number | null | undefined },
): Fuel {
  const other = fuelId === undefined || fuelId === fuel.id ? undefined : findFuel(fuelId);
  const set = co2MaxPercent === undefined ? (other === undefined ? fuel.co2MaxSetPercent : undefined) : (co2MaxPercent ?? undefined);
  return withCo2Max(other ?? fuel, set);
}

/** What the analysis gives, whatever was set. @returns %vol dry */
export const co2MaxOfAnalysis = ({ stoichiometry: { carbon, dryGas } }: Fuel): number => (100 * carbon) / dryGas;

export type Co2MaxVerdict = { readonly verdict: 'usual' | 'unusual' | 'refused'; readonly low: number; readonly high: number };

/**
 * Is a typed CO2max one that this fuel may have? Usual: what the published range of hydrogen makes of the analysis. `low` and `high` are the bounds that it
 * broke, or keeps.
 */
export function judgeCo2Max(fuel: Fuel, percent: number): Co2MaxVerdict {
  const own = co2MaxOfAnalysis(fuel);
  const [least, most] = HYDROGEN_RANGE;
  // more hydrogen, less CO2max: the slope is negative
  const low = own + fuel.slope.co2MaxPercent * (most - HYDROGEN_USUAL);
  const high = own + fuel.slope.co2MaxPercent * (least - HYDROGEN_USUAL);
  if (!(Math.abs(percent - own) <= MOST_OFF_PERCENT))
    return { verdict: 'refused', low: own - MOST_OFF_PERCENT, high: own + MOST_OFF_PERCENT };
  // typed with one decimal
  return { verdict: percent >= low - 0.05 && percent <= high + 0.05 ? 'usual' : 'unusual', low, high };
}

/** In words, why this cannot be set; undefined when it can. */
export function co2MaxRefusal(fuel: Fuel, percent: number): string | undefined {
  const { verdict, low, high } = judgeCo2Max(fuel, percent);
  if (verdict !== 'refused') return undefined;
  return combustionTexts.co2MaxRefused(fuel.name, co2MaxOfAnalysis(fuel).toFixed(1), low.toFixed(1), high.toFixed(1));
}

/** In words, that this is seldom; undefined when it is usual. */
export function co2MaxDoubt(fuel: Fuel, percent: number): string | undefined {
  const { verdict, low, high } = judgeCo2Max(fuel, percent);
  return verdict === 'unusual' ? combustionTexts.co2MaxUnusual(percent, low.toFixed(1), high.toFixed(1)) : undefined;
}

/** The fuel as a run names it. */
export const fuelOfRun = ({
  fuelId,
  co2MaxPercent,
}: {
  readonly fuelId: string;
  readonly co2MaxPercent?: number | undefined;
}): Fuel | undefined => {
  const fuel = findFuel(fuelId);
  return fuel && withCo2Max(fuel, co2MaxPercent);
};

/** Conditions of a full reading, with standard uncertainties: `random` differs between the two, `common` is the same sensor in both. */
export type EfficiencyInput = { o2: Uncertain; stackC: Uncertain; airC: Uncertain; coPpm?: Uncertain | undefined };
export type Uncertain = { mean: number; random: number; common: number };
export type Conditions = { o2: number; stackC: number; airC: number; coPpm: number };
/** HHV or LHV efficiency, %, from combustion; undefined where it is not computable. `fuelShift` moves the fuel by one standard deviation. */
export type EfficiencyOf = (conditions: Conditions, fuelShift: number) => number | undefined;

export type BeforeAfter = {
  before: number;
  after: number;
  gainPoints: number;
  gainExpanded: number;
  fuelSavedPercent: number;
  fuelSavedExpanded: number;
  /** false when the gain lies inside its uncertainty: then no saving is claimed */
  clear: boolean;
};

const inputs = ['o2', 'stackC', 'airC', 'coPpm'] as const;
/** Steps for the slopes: small against where the curve bends, large against rounding. */
const STEP = { o2: 0.05, stackC: 0.5, airC: 0.5, coPpm: 5 } as const;

/**
 * Gain and saving for the same useful heat, `1 - before/after`, with U (k = 2).
 * What the same instrument and the same fuel have wrong in both readings moves both efficiencies together and mostly cancels; each common
 * term enters with the difference of its two effects, each random term on its own.
 *
 * @source saving: definition of efficiency with equal useful heat; propagation: JCGM 100:2008 with full correlation of the common terms
 */
export function beforeAfter(before: EfficiencyInput, after: EfficiencyInput, efficiency: EfficiencyOf): BeforeAfter | undefined {
  const first = sensitivities(before, efficiency);
  const second = sensitivities(after, efficiency);
  if (!first || !second) return undefined;
  const saved = 1 - first.value / second.value;
  // saving in points of %: d(saved) = -d(before)/after + before d(after)/after^2
  const perBefore = -100 / second.value;
  const perAfter = (100 * first.value) / second.value ** 2;
  let gainVariance = 0;
  let savedVariance = 0;
  for (const key of inputs) {
    const [slopeBefore, slopeAfter] = [first.slope[key], second.slope[key]];
    const [uncertainBefore, uncertainAfter] = [before[key] ?? none, after[key] ?? none];
    gainVariance += (slopeBefore * uncertainBefore.random) ** 2 + (slopeAfter * uncertainAfter.random) ** 2;
    gainVariance += (slopeAfter * uncertainAfter.common - slopeBefore * uncertainBefore.common) ** 2;
    savedVariance += (perBefore * slopeBefore * uncertainBefore.random) ** 2 + (perAfter * slopeAfter * uncertainAfter.random) ** 2;
    savedVariance += (perAfter * slopeAfter * uncertainAfter.common + perBefore * slopeBefore * uncertainBefore.common) ** 2;
  }
  gainVariance += (second.fuel - first.fuel) ** 2;
  savedVariance += (perAfter * second.fuel + perBefore * first.fuel) ** 2;
  const gainPoints = second.value - first.value;
  const gainExpanded = 2 * Math.sqrt(gainVariance);
  return {
    before: first.value,
    after: second.value,
    gainPoints,
    gainExpanded,
    fuelSavedPercent: 100 * saved,
    fuelSavedExpanded: 2 * Math.sqrt(savedVariance),
    clear: Math.abs(gainPoints) > gainExpanded,
  };
}

const none: Uncertain = { mean: 0, random: 0, common: 0 };

function sensitivities(
  input: EfficiencyInput,
  efficiency: EfficiencyOf,
): { value: number; slope: Record<(typeof inputs)[number], number>; fuel: number } | undefined {
  const at: Conditions = { o2: input.o2.mean, stackC: input.stackC.mean, airC: input.airC.mean, coPpm: input.coPpm?.mean ?? 0 };
  const value = efficiency(at, 0);
  const otherFuel = efficiency(at, 1);
  if (value === undefined || otherFuel === undefined) return undefined;
  const slope = { o2: 0, stackC: 0, airC: 0, coPpm: 0 };
  for (const key of inputs) {
    const shifted = efficiency({ ...at, [key]: at[key] + STEP[key] }, 0);
    if (shifted === undefined) return undefined;
    slope[key] = (shifted - value) / STEP[key];
  }
  return { value, slope, fuel: otherFuel - value };
}

/** Fuel and CO2 not burnt in a year, with U, from last year's fuel. @param emissionKgPerGal 40 CFR 98, see combustion; absent for gases */
export function yearlySaving(
  result: BeforeAfter,
  { annualGal, emissionKgPerGal }: { annualGal: number; emissionKgPerGal: number | undefined },
): { gallons: number; gallonsExpanded: number; co2Kg?: number; co2KgExpanded?: number } {
  const gallons = (annualGal * result.fuelSavedPercent) / 100;
  const gallonsExpanded = (annualGal * result.fuelSavedExpanded) / 100;
  if (emissionKgPerGal === undefined) return { gallons, gallonsExpanded };
  return { gallons, gallonsExpanded, co2Kg: gallons * emissionKgPerGal, co2KgExpanded: gallonsExpanded * emissionKgPerGal };
}

/** A user's own fuel: an ultimate analysis that has to add up and to fit its heating value, or an estimate from the density. */
import { KJ_PER_KG_PER_BTU_PER_LB } from '../units/convert.ts';
import { problem, type Problem } from '../problem.ts';
import { err, ok, type Result } from '../result.ts';
import { makeFuel, type Fuel } from './fuel.ts';
import { MOLAR_MASS } from './constants.ts';
import { combustionTexts } from '../words/core/combustion.ts';

export type OwnAnalysis = {
  /** C, H, O, N, S, W in mass % as received; fractions that add up to 1 are understood too */
  readonly massPercent: readonly [c: number, h: number, o: number, n: number, s: number, w: number];
  readonly hhvKjPerKg: number;
  readonly densityKgPerL?: number | undefined;
  readonly id?: string | undefined;
  readonly name?: string | undefined;
};
export type CheckedFuel = { readonly fuel: Fuel; readonly notes: readonly string[] };

/** How far the parts may be from 100 %. */
export const CLOSURE_PERCENT = 0.5;
/** Beyond this the heating value cannot belong to the analysis (wrong unit, wrong fuel); hydrogen itself is 17 % off the estimate. Our choice. */
const HHV_REFUSED = 0.3;
/** Beyond this it is worth a word; the estimate is good to about 2 % for oils. Our choice. */
const HHV_NOTED = 0.05;
/** An own analysis is better known than a delivery off the tanker. Our choice. */
const ANALYSED_HYDROGEN = 0.001;

/**
 * Estimate of the higher heating value from the analysis, to see whether the two belong together; never used as a heating value.
 *
 *     HHV = 349.1 C + 1178.3 H + 100.5 S - 103.4 O - 15.1 N     kJ/kg, mass %
 *
 * @source Channiwala & Parikh, Fuel 81 (2002) 1051-1063 (from memory)
 */
export const estimatedHhvKjPerKg = (c: number, h: number, o: number, n: number, s: number): number =>
  349.1 * c + 1178.3 * h + 100.5 * s - 103.4 * o - 15.1 * n;

/** Makes a fuel of an analysis, or says why it cannot be right. Nothing is scaled to 100 %: the numbers stay as they were given. */
export function checkAnalysis({
  massPercent,
  hhvKjPerKg,
  densityKgPerL,
  id = 'own',
  name = 'Own analysis',
}: OwnAnalysis): Result<CheckedFuel, Problem> {
  if (![...massPercent, hhvKjPerKg, densityKgPerL ?? 1].every(Number.isFinite))
    return err(problem('fuel-analysis', combustionTexts.notANumber));
  const given = massPercent.reduce((total, part) => total + part, 0);
  const scale = Math.abs(given - 1) <= CLOSURE_PERCENT / 100 ? 100 : 1;
  const [c, h, o, n, s, w] = massPercent.map((part) => part * scale) as [number, number, number, number, number, number];
  if ([c, h, o, n, s, w].some((part) => part < 0)) return err(problem('fuel-analysis', combustionTexts.negativePart));
  // a hair of tolerance, so that a sum of exactly 99.5 does not fail by rounding
  if (Math.abs(given * scale - 100) > CLOSURE_PERCENT + 1e-9)
    return err(problem('fuel-analysis', combustionTexts.partsAddUp(Number((given * scale).toFixed(3)))));
  if (densityKgPerL !== undefined && !(densityKgPerL > 0.4 && densityKgPerL < 1.6))
    return err(problem('value-out-of-range', combustionTexts.densityOfNoOil(densityKgPerL)));
  const demand = c / MOLAR_MASS.c + h / (2 * MOLAR_MASS.h2) + s / MOLAR_MASS.s - o / MOLAR_MASS.o2;
  if (!(demand > 0.01)) return err(problem('fuel-analysis', combustionTexts.doesNotBurn));
  if (!(hhvKjPerKg > 0)) return err(problem('fuel-analysis', combustionTexts.heatingValueNotPossible(hhvKjPerKg)));

  const estimate = estimatedHhvKjPerKg(c, h, o, n, s);
  const deviation = hhvKjPerKg / estimate - 1;
  if (!(Math.abs(deviation) <= HHV_REFUSED)) {
    return err(
      problem(
        'fuel-analysis',
        combustionTexts.heatingValueForeign(hhvKjPerKg, Math.round(estimate / 100) * 100, unitHint(hhvKjPerKg, estimate)),
      ),
    );
  }
  const analysis = { c: c / 100, h: h / 100, o: o / 100, n: n / 100, s: s / 100, w: w / 100 };
  const fuel = makeFuel({
    id,
    name,
    phase: densityKgPerL === undefined ? 'gas' : 'liquid',
    analysis,
    hhvKjPerKg,
    densityKgPerL,
    hydrogenHalfWidth: ANALYSED_HYDROGEN,
    source: 'analysis given by the user',
  });
  if (!(fuel.lhvKjPerKg > 0)) return err(problem('fuel-analysis', combustionTexts.tooMuchWater));
  const notes: string[] = [];
  if (Math.abs(deviation) > HHV_NOTED) {
    const lhvEstimate = estimate - (hhvKjPerKg - fuel.lhvKjPerKg);
    const mayBeLower = Math.abs(hhvKjPerKg / lhvEstimate - 1) < 0.02 ? combustionTexts.looksLikeLower : '';
    notes.push(combustionTexts.heatingValueOff((100 * deviation).toFixed(1), mayBeLower));
  }
  return ok({ fuel, notes });
}

function unitHint(given: number, estimate: number): string {
  const near = (value: number): boolean => Math.abs(value / estimate - 1) < 0.1;
  if (near(given * 1000)) return combustionTexts.looksLikeMjKg;
  if (near(given * KJ_PER_KG_PER_BTU_PER_LB)) return combustionTexts.looksLikeBtuLb;
  if (near(given * 4.1868)) return combustionTexts.looksLikeKcalKg;
  return '';
}

/** kg/L at 15 degC of water at 60 degF: specific gravity 60/60 degF -> density. @source ASTM D1250 family (from memory) */
const WATER_60F_KG_PER_L = 0.99904;

/**
 * An oil of which only the specific gravity is known.
 *
 *     H = 26 - 15 d  %,     HHV = 22 320 - 3780 d^2  Btu/lb
 *
 * Sulphur is taken as nothing and carbon as the rest. Valid for petroleum oils, d 0.75-1.0.
 *
 * @source Cragoe, NBS Miscellaneous Publication 97, 1929 (from memory)
 */
export function fuelFromSpecificGravity(d: number): Result<Fuel, Problem> {
  if (!(d >= 0.75 && d <= 1)) return err(problem('value-out-of-range', combustionTexts.outsideCragoe(d)));
  const h = (26 - 15 * d) / 100;
  const analysis = { c: 1 - h, h, o: 0, n: 0, s: 0, w: 0 };
  return ok(
    makeFuel({
      id: 'own',
      name: `Oil of specific gravity ${d}`,
      phase: 'liquid',
      analysis,
      hhvKjPerKg: (22_320 - 3780 * d * d) * KJ_PER_KG_PER_BTU_PER_LB,
      densityKgPerL: d * WATER_60F_KG_PER_L,
      hydrogenHalfWidth: 0.004,
      source: "Cragoe's relation, NBS Misc. Publ. 97 (from memory)",
    }),
  );
}

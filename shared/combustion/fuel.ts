/**
 * Fuels: the built-in ones, each with its sources, and how any other becomes one. See FORMULAS.md#fuels.
 */
import { KG_PER_LB, KJ_PER_KG_PER_BTU_PER_LB, L_PER_US_GALLON } from '../units/convert.ts';
import { MOLAR_MASS } from './constants.ts';
import {
  hydrogenSlope,
  lowerHeatingValue,
  stoichiometry,
  type HydrogenSlope,
  type Stoichiometry,
  type UltimateAnalysis,
} from './stoichiometry.ts';
import { combustionTexts } from '../words/core/combustion.ts';

export type SiegertGroup = 'oil' | 'gas' | 'lpg';

/** Carbon dioxide per US gallon; `biogenicShare` is the share of it that counts as biogenic. */
export type EmissionFactor = { readonly kgPerGallon: number; readonly biogenicShare: number; readonly source: string };

export type Fuel = {
  readonly id: string;
  readonly name: string;
  readonly phase: 'liquid' | 'gas';
  readonly analysis: UltimateAnalysis;
  readonly hhvKjPerKg: number;
  readonly lhvKjPerKg: number;
  /** at 15 degC; absent for gases and when not known */
  readonly densityKgPerL?: number | undefined;
  readonly siegertGroup?: SiegertGroup | undefined;
  readonly emission?: EmissionFactor | undefined;
  /** Fo of a sound analysis, EPA Method 3B */
  readonly foRange?: readonly [low: number, high: number] | undefined;
  /** by how much (kg/kg, rectangular half-width) the hydrogen of an un-analysed delivery may differ */
  readonly hydrogenHalfWidth: number;
  /** typed by a person, %vol dry: CO2 and O2 are turned into one another with it; see co2-max.ts */
  readonly co2MaxSetPercent?: number | undefined;
  readonly source: string;
  /** computed once, because every sample needs them */
  readonly stoichiometry: Stoichiometry;
  readonly slope: HydrogenSlope;
};

export type FuelDescription = Omit<Fuel, 'lhvKjPerKg' | 'stoichiometry' | 'slope'>;

/** Adds what follows from the analysis. */
export function makeFuel(description: FuelDescription): Fuel {
  const st = stoichiometry(description.analysis);
  return {
    ...description,
    lhvKjPerKg: lowerHeatingValue(description.hhvKjPerKg, st.water),
    stoichiometry: description.co2MaxSetPercent === undefined ? st : { ...st, co2MaxPercent: description.co2MaxSetPercent },
    slope: hydrogenSlope(st),
  };
}

/** Half of the published range of 11.8-13.9 % H is for all of grade 2; one delivery is taken as 12.6-13.4 %. See FORMULAS.md#unknown-oil. */
const UNANALYSED_HYDROGEN = 0.004;
const DISTILLATE_FO = [1.26, 1.413] as const;
const GAS_FO = [1.6, 1.836] as const;
const PROPANE_FO = [1.434, 1.586] as const;
const FO_SOURCE = combustionTexts.foRangeSource;
const NO2_HHV_BTU_LB = 19_500;
const NO1_HHV_BTU_LB = 19_800;
const B100_BTU_PER_GALLON = 127_960;
const B100_LB_PER_GALLON = 7.3;
const CFR98 = '40 CFR 98 Table C-1 (81 FR 89188)';

const no2 = makeFuel({
  id: 'no2',
  name: 'No.2 heating oil (15 ppm S)',
  phase: 'liquid',
  analysis: { c: 0.87, h: 0.13, o: 0, n: 0, s: 15e-6, w: 0 },
  hhvKjPerKg: NO2_HHV_BTU_LB * KJ_PER_KG_PER_BTU_PER_LB,
  densityKgPerL: 0.85,
  siegertGroup: 'oil',
  emission: { kgPerGallon: 10.21, biogenicShare: 0, source: CFR98 },
  foRange: DISTILLATE_FO,
  hydrogenHalfWidth: UNANALYSED_HYDROGEN,
  source: `HHV 19 500 Btu/lb: 10 CFR 430 Subpart B App. O (from memory). Composition: NREL/TP-540-43672 (from memory). ${FO_SOURCE}`,
});

const no2With2000ppm = makeFuel({
  ...no2,
  id: 'no2-2000s',
  name: 'No.2 heating oil (2000 ppm S)',
  analysis: { c: 0.868, h: 0.13, o: 0, n: 0, s: 0.002, w: 0 },
});

const no1 = makeFuel({
  ...no2,
  id: 'no1',
  name: 'No.1 heating oil, kerosene',
  analysis: { c: 0.864, h: 0.136, o: 0, n: 0, s: 0, w: 0 },
  hhvKjPerKg: NO1_HHV_BTU_LB * KJ_PER_KG_PER_BTU_PER_LB,
  densityKgPerL: 0.815,
  // the command line contract lists no Siegert constants for kerosene: the statute names heating oil EL
  siegertGroup: undefined,
  emission: { kgPerGallon: 10.18, biogenicShare: 0, source: CFR98 },
  source: `HHV 19 800 Btu/lb: 10 CFR 430 Subpart B App. O (from memory). Composition: typical kerosene (from memory). ${FO_SOURCE}`,
});

const b100 = makeFuel({
  id: 'b100',
  name: 'Biodiesel B100',
  phase: 'liquid',
  analysis: { c: 0.77, h: 0.12, o: 0.11, n: 0, s: 0, w: 0 },
  hhvKjPerKg: (B100_BTU_PER_GALLON / B100_LB_PER_GALLON) * KJ_PER_KG_PER_BTU_PER_LB,
  densityKgPerL: (B100_LB_PER_GALLON * KG_PER_LB) / L_PER_US_GALLON,
  siegertGroup: 'oil',
  emission: { kgPerGallon: 9.45, biogenicShare: 1, source: `${CFR98} (from memory)` },
  foRange: DISTILLATE_FO,
  hydrogenHalfWidth: UNANALYSED_HYDROGEN,
  source: `C 77, H 12, O 11 mass %, 7.3 lb/gal: US DOE AFDC biodiesel page. HHV 127 960 Btu/gal: public page quoting the NREL guide. ${FO_SOURCE}`,
});

/**
 * Blend by volume, as fuel is sold: B20 is 20 % by volume of b100. Composition and heating value mix by mass.
 *
 * @param volumeShare 0..1, of `second`
 * @throws RangeError when a density is missing or the share is outside 0..1 (a bug in the caller)
 */
export function blendByVolume(first: Fuel, second: Fuel, volumeShare: number, id: string, name: string): Fuel {
  const { densityKgPerL: firstDensity } = first;
  const { densityKgPerL: secondDensity } = second;
  if (firstDensity === undefined || secondDensity === undefined || !(volumeShare >= 0 && volumeShare <= 1))
    throw new RangeError(`blend ${name}`);
  const densityKgPerL = firstDensity * (1 - volumeShare) + secondDensity * volumeShare;
  const massShare = (secondDensity * volumeShare) / densityKgPerL;
  const mix = (a: number, b: number): number => a * (1 - massShare) + b * massShare;
  const x = first.analysis;
  const y = second.analysis;
  return makeFuel({
    id,
    name,
    phase: 'liquid',
    analysis: { c: mix(x.c, y.c), h: mix(x.h, y.h), o: mix(x.o, y.o), n: mix(x.n, y.n), s: mix(x.s, y.s), w: mix(x.w, y.w) },
    hhvKjPerKg: mix(first.hhvKjPerKg, second.hhvKjPerKg),
    densityKgPerL,
    siegertGroup: first.siegertGroup === second.siegertGroup ? first.siegertGroup : undefined,
    emission: blendEmission(first.emission, second.emission, volumeShare),
    foRange: first.foRange,
    hydrogenHalfWidth: Math.max(first.hydrogenHalfWidth, second.hydrogenHalfWidth),
    source: `blend by volume of ${first.name} and ${second.name}. ${first.source} / ${second.source}`,
  });
}

function blendEmission(a: EmissionFactor | undefined, b: EmissionFactor | undefined, share: number): EmissionFactor | undefined {
  if (a === undefined || b === undefined) return undefined;
  const kgPerGallon = a.kgPerGallon * (1 - share) + b.kgPerGallon * share;
  const biogenic = a.kgPerGallon * (1 - share) * a.biogenicShare + b.kgPerGallon * share * b.biogenicShare;
  return { kgPerGallon, biogenicShare: biogenic / kgPerGallon, source: a.source };
}

type GasPart = {
  readonly molePercent: number;
  readonly c: number;
  readonly h: number;
  readonly o: number;
  readonly n: number;
  readonly hhvKjPerMol: number;
};

/** A gas from its components: atoms and molar heating values add up over the moles. */
function gasFromParts(parts: readonly GasPart[], rest: Omit<FuelDescription, 'analysis' | 'hhvKjPerKg' | 'phase'>): Fuel {
  const sum = (pick: (part: GasPart) => number): number => parts.reduce((total, part) => total + part.molePercent * pick(part), 0);
  const carbon = sum(({ c }) => c) * MOLAR_MASS.c;
  const hydrogen = (sum(({ h }) => h) * MOLAR_MASS.h2) / 2;
  const oxygen = (sum(({ o }) => o) * MOLAR_MASS.o2) / 2;
  const nitrogen = (sum(({ n }) => n) * MOLAR_MASS.n2) / 2;
  const mass = carbon + hydrogen + oxygen + nitrogen;
  return makeFuel({
    ...rest,
    phase: 'gas',
    analysis: { c: carbon / mass, h: hydrogen / mass, o: oxygen / mass, n: nitrogen / mass, s: 0, w: 0 },
    hhvKjPerKg: (1000 * sum(({ hhvKjPerMol }) => hhvKjPerMol)) / mass,
  });
}

const ISO6976 = 'Molar HHV at 25 degC: ISO 6976 (from memory)';
const methanePart = { c: 1, h: 4, o: 0, n: 0, hhvKjPerMol: 890.58 };
const propanePart = { c: 3, h: 8, o: 0, n: 0, hhvKjPerMol: 2219.17 };

const naturalGas = gasFromParts(
  [
    { molePercent: 93.9, ...methanePart },
    { molePercent: 3.2, c: 2, h: 6, o: 0, n: 0, hhvKjPerMol: 1560.69 },
    { molePercent: 0.7, ...propanePart },
    { molePercent: 0.4, c: 4, h: 10, o: 0, n: 0, hhvKjPerMol: 2877.4 },
    { molePercent: 1.2, c: 0, h: 0, o: 0, n: 2, hhvKjPerMol: 0 },
    { molePercent: 0.6, c: 1, h: 0, o: 2, n: 0, hhvKjPerMol: 0 },
  ],
  {
    id: 'natural-gas',
    name: 'Natural gas, typical',
    siegertGroup: 'gas',
    foRange: GAS_FO,
    hydrogenHalfWidth: UNANALYSED_HYDROGEN,
    source: `mole %: CH4 93.9, C2H6 3.2, C3H8 0.7, n-C4H10 0.4, N2 1.2, CO2 0.6, our choice near a US mean. ${ISO6976}. ${FO_SOURCE}`,
  },
);
const methane = gasFromParts([{ molePercent: 100, ...methanePart }], {
  id: 'methane',
  name: 'Methane',
  foRange: GAS_FO,
  hydrogenHalfWidth: 0,
  source: `CH4. ${ISO6976}. ${FO_SOURCE}`,
});
const propane = gasFromParts([{ molePercent: 100, ...propanePart }], {
  id: 'propane',
  name: 'Propane',
  siegertGroup: 'lpg',
  foRange: PROPANE_FO,
  hydrogenHalfWidth: 0,
  source: `C3H8. ${ISO6976}. ${FO_SOURCE}`,
});

/** Any blend of No.2 oil with biodiesel; `percent` by volume. */
export const biodieselBlend = (percent: number): Fuel =>
  blendByVolume(no2, b100, percent / 100, `b${percent}`, `B${percent} (biodiesel ${percent} % by volume)`);

export const fuels = {
  no2: no2,
  'no2-2000s': no2With2000ppm,
  no1: no1,
  b5: biodieselBlend(5),
  b20: biodieselBlend(20),
  b100: b100,
  'natural-gas': naturalGas,
  methane: methane,
  propane: propane,
} as const satisfies Record<string, Fuel>;

export type FuelId = keyof typeof fuels;
export const fuelIds = Object.keys(fuels) as FuelId[];
/** What a pressure-atomizing oil burner burns: the fuels of a visit. */
export const oilFuelIds = fuelIds.filter((id) => fuels[id].phase === 'liquid');
export const isOilFuel = (id: string | undefined): boolean => oilFuelIds.some((oil) => oil === id);

/** Looks up a built-in fuel, or makes the blend that `b1` ... `b99` names. */
export function findFuel(id: string): Fuel | undefined {
  if (Object.hasOwn(fuels, id)) return fuels[id as FuelId];
  const blend = /^b([1-9]\d?)$/.exec(id);
  return blend === null ? undefined : biodieselBlend(Number(blend[1]));
}

/** The last one made of each fuel: a run keeps its sulphur, and making a fuel costs more than a sample. */
const lastWithSulfur = new WeakMap<Fuel, Fuel>();

/** The same fuel with another sulphur content; carbon makes room for it, so that the analysis still adds up. */
export function withSulfur(fuel: Fuel, sulfurPpm: number): Fuel {
  const s = sulfurPpm * 1e-6;
  const last = lastWithSulfur.get(fuel);
  if (last?.analysis.s === s) return last;
  const { analysis } = fuel;
  const made = makeFuel({ ...fuel, analysis: { ...analysis, s, c: analysis.c - (s - analysis.s) } });
  lastWithSulfur.set(fuel, made);
  return made;
}

/** What the figures of a visit can be when they are typed. Wide: a figure that is only unusual is a hint on its page, never a refusal. */
import { co2MaxRefusal } from '../../combustion/co2-max.ts';
import { findFuel } from '../../combustion/fuel.ts';
import { firstOutside, markRange, SCALE, typedRange, type RangeAt, type TypedRange } from '../../measurement/typed-range.ts';
import { plainRefusal } from '../../plain-refusal.ts';
import { quantities } from '../../units/quantities.ts';
import { combustionTexts } from '../../words/core/combustion.ts';
import { tuningTexts } from '../../words/core/tuning.ts';
import { setFlueCoLimits } from '../advice/cautions.ts';
import { FlueCoLimits } from '../advice/cautions-schema.ts';
import type { CardQuantity } from '../card/target-card.ts';
import type { SetUpItem } from '../set-up/set-up-sheet.ts';
import { valueAt, type Json, type Path } from '../visit/at-path.ts';

/** As much as an instrument of this class can show at all: an alarm is never refused for its height. */
const CO_PPM: TypedRange = [0, quantities.co.possible[1]];
/** Up to fresh air. */
const O2_PERCENT: TypedRange = [0, 21];
const PERCENT: TypedRange = [0, 100];
const SMOKE: TypedRange = [0, 9];
const LENGTH_MM: TypedRange = [-1000, 1000];
const GAP_MM: TypedRange = [0, 1000];
const DAY_S: TypedRange = [0, 86_400];
const [, MOST_PUMP_PA] = typedRange('pumpPressure') ?? [0, 0];

const setUpRanges: Readonly<Record<SetUpItem, TypedRange>> = {
  electrodeGapMm: GAP_MM,
  heightAboveCentrelineMm: LENGTH_MM,
  aheadOfNozzleMm: LENGTH_MM,
  clearanceToMetalMm: GAP_MM,
  nozzleToHeadMm: LENGTH_MM,
  headSetting: SCALE,
  nozzleFlowLh: [0, 2000],
  nozzleAngleDeg: [0, 120],
  pumpPressurePa: [0, MOST_PUMP_PA],
  cutOffDropPercent: PERCENT,
  cutOffHoldS: DAY_S,
  // a tank above the pump gives pressure where a gauge reads vacuum; more than all of the air there is no vacuum
  vacuumPa: [-200_000, 110_000],
};
/** A limit beyond these would judge nothing. */
const cardRanges: Readonly<Partial<Record<CardQuantity, TypedRange>>> = {
  o2Percent: O2_PERCENT,
  co2Percent: PERCENT,
  smokeNumber: SMOKE,
  coPpm: CO_PPM,
  roomCoPpm: CO_PPM,
  efficiencyHhvPercent: [0, 110],
  efficiencyLhvPercent: [0, 110],
  siegertLossPercent: PERCENT,
  reserveO2Percent: O2_PERCENT,
};

/** `place` from the visit downwards. */
const visitRange: RangeAt = (place, parent) => {
  const [top, second, third] = place;
  const last = place.at(-1);
  if (top === 'roomCo') return last === 'ppm' ? CO_PPM : undefined;
  if (top === 'airTypedC') return typedRange('airTemperature');
  if (top === 'annualFuelGal') return [0, 1_000_000];
  if (top === 'flueCoLimits') return CO_PPM;
  if (top === 'adjusters' && (last === 'min' || last === 'max' || last === 'step')) return SCALE;
  if (top === 'safety' && String(last).endsWith('econds')) return DAY_S;
  if (top === 'targetCard' && (last === 'low' || last === 'high')) {
    const { quantity } = parent as { quantity?: CardQuantity };
    return quantity === undefined ? undefined : cardRanges[quantity];
  }
  if (top === 'setUp') {
    if (second === 'ratedPressurePa') return [0, MOST_PUMP_PA];
    if (second === 'rows' && typeof third === 'string' && Object.hasOwn(setUpRanges, third)) return setUpRanges[third as SetUpItem];
    if (last === 'barMm') return GAP_MM;
  }
  return markRange(place, parent);
};

const numberAt = (value: unknown, place: readonly (string | number)[]): unknown =>
  place.reduce<unknown>((at, key) => (typeof at === 'object' && at !== null ? (at as Record<string, unknown>)[key] : undefined), value);

/** A figure of an older record that is not touched is not held against whoever changes something beside it. */
function whyOutside(body: Json, path: Path, after: unknown): string | undefined {
  const ofNew: RangeAt = (place, parent) =>
    numberAt(body, place) === numberAt(after, place.slice(path.length)) ? undefined : visitRange(place, parent);
  const outside = firstOutside(after, ofNew, path, valueAt(body, path.slice(0, -1)));
  return outside === undefined ? undefined : plainRefusal({ issues: [outside] });
}

/** A CO2max that no such fuel has. */
function whyNotCo2Max([top]: Path, fuelId: unknown, after: unknown): string | undefined {
  if (top !== 'co2MaxPercent' || typeof after !== 'number') return undefined;
  const fuel = typeof fuelId === 'string' ? findFuel(fuelId) : undefined;
  return fuel === undefined ? combustionTexts.co2MaxNeedsFuel : co2MaxRefusal(fuel, after);
}

/** The alarm of CO in the flue is raised with a reason only, which the report prints. */
function whyNotFlueLimits([top]: Path, next: Json): string | undefined {
  const limits = top === 'flueCoLimits' ? FlueCoLimits.safeParse(valueAt(next, ['flueCoLimits'])) : undefined;
  const set = limits?.success === true ? setFlueCoLimits(limits.data) : undefined;
  return set === undefined || set.ok ? undefined : tuningTexts.flueLimits[set.error.key];
}

/**
 * Asked where it is typed, and by the host whoever asks.
 *
 * @param body the visit as it is @param next as it would be
 * @returns which figure cannot be, and what can
 */
export const typedRefusal = (body: Json, path: Path, after: unknown, next: Json): string | undefined =>
  whyOutside(body, path, after) ?? whyNotCo2Max(path, valueAt(body, ['fuelId']), after) ?? whyNotFlueLimits(path, next);

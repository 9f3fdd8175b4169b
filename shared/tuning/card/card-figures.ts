import { derive } from '../../combustion/figures/derive.ts';
import type { DerivedKey } from '../../measurement/derived.ts';
import { reserveOf, type AirCurve } from '../curve/air-curve.ts';
import { fromHalfWidth } from '../../combustion/figures/uncertainty.ts';
import { combustionInput } from '../visit/before-after.ts';
import { tolerancesAt, type Conditions } from '../visit/conditions.ts';
import { draftDropPa } from '../trial/draft.ts';
import { smokeResult, SMOKE_HALF_WIDTH, type SmokeRuleName } from '../trial/smoke.ts';
import type { CardFigures, CardQuantity } from './target-card.ts';
import type { Trial } from '../trial/trial.ts';
import { figureOf, type Figure } from '../trial/trial-figures.ts';

/** Reading error of a draft gauge, half-width; common practice, one digit of a usual gauge. */
const DRAFT_U_PA = 1;
const DROP_U_PA = DRAFT_U_PA * Math.SQRT2;

const derivedOf = {
  co2Percent: 'co2Percent',
  excessAirPercent: 'excessAirPercent',
  coAirFreePpm: 'coAirFreePpm',
  coAt3PercentO2Ppm: 'coAt3PercentO2Ppm',
  coMgPerKwh: 'coMgPerKwh',
  netStackK: 'netStackC',
  efficiencyHhvPercent: 'efficiencyHhvPercent',
  efficiencyLhvPercent: 'efficiencyLhvPercent',
  siegertLossPercent: 'siegertLossPercent',
} as const satisfies Partial<Record<CardQuantity, DerivedKey>>;

/** Everything a card can ask of one trial, with U where it is known. What was not measured is left out, never zero. */
export function cardFigures(
  trial: Trial,
  {
    conditions,
    smokeRule,
    curve,
    roomCoPpm,
  }: { conditions: Conditions; smokeRule: SmokeRuleName; curve?: AirCurve | undefined; roomCoPpm?: number | undefined },
): CardFigures {
  const figures: CardFigures = {};
  const full = combustionInput(trial, conditions);
  const [o2, co, stack] = [figureOf(trial, 'o2'), figureOf(trial, 'co'), figureOf(trial, 'stackTemperature')];
  const tolerances = tolerancesAt(conditions, co?.mean);
  if (o2) figures.o2Percent = { value: o2.mean, expanded: expandedOf(o2, tolerances?.o2) };
  if (co) figures.coPpm = { value: co.mean, expanded: expandedOf(co, tolerances?.coPpm) };
  if (stack) figures.stackC = { value: stack.mean, expanded: expandedOf(stack, tolerances?.stackK) };
  if (o2) {
    // without stack or air temperature the gas figures still stand
    const derived = derive(
      full ?? {
        timeMs: trial.fromMs,
        fuel: conditions.fuel,
        o2PercentDry: o2.mean,
        coPpmDry: co?.mean,
        tolerances,
        spreads: { o2: o2.random, coPpm: co?.random },
      },
    );
    for (const [quantity, key] of Object.entries(derivedOf) as [keyof typeof derivedOf, DerivedKey][]) {
      const value = derived.values[key];
      if (value !== undefined) figures[quantity] = { value, expanded: derived.expanded[key] };
    }
  }
  const spots = trial.smoke?.spots ?? [];
  const smoke = smokeResult(spots, smokeRule);
  if (smoke.number !== undefined && smoke.stillNeeded === 0)
    figures.smokeNumber = { value: smoke.number, expanded: SMOKE_HALF_WIDTH / Math.sqrt(smoke.usableSpots) };
  if (spots.length > 0) figures.oilTrace = { value: smoke.oilTrace ? 1 : 0, expanded: 0 };
  const { overFirePa, breechPa } = trial.draft ?? {};
  if (overFirePa !== undefined) figures.overFirePa = { value: overFirePa, expanded: DRAFT_U_PA };
  if (breechPa !== undefined) figures.breechPa = { value: breechPa, expanded: DRAFT_U_PA };
  const drop = trial.draft && draftDropPa(trial.draft);
  if (drop !== undefined) figures.draftDropPa = { value: drop, expanded: DROP_U_PA };
  const reserve = curve && reserveOf(trial, curve.onset);
  if (reserve) figures.reserveO2Percent = { value: reserve.o2Points, expanded: (reserve.high - reserve.low) / 2 };
  if (roomCoPpm !== undefined) figures.roomCoPpm = { value: roomCoPpm };
  return figures;
}

/** @param halfWidth the instrument's tolerance as the visit has it; without one, what the reading was kept with */
const expandedOf = ({ random, common }: Figure, halfWidth: number | undefined): number =>
  2 * Math.hypot(random, halfWidth === undefined ? common : fromHalfWidth(halfWidth));

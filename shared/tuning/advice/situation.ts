/** Where a burner stands when advice is asked for: what was read, and which of it was clean or dangerous. */
import type { Setting } from '../../measurement/mark.ts';
import { floorGoal } from '../curve/curve-goal.ts';
import { coAirFreePpm } from '../trial/gas-basis.ts';
import { positionOf } from '../trial/setting.ts';
import { isSmokeOver } from '../trial/smoke.ts';
import { figureOf } from '../trial/trial-figures.ts';
import type { Trial } from '../trial/trial.ts';
import { darkestSpot, type LimitsInForce } from './limits-in-force.ts';
import { sameElsewhere } from './next-setting.ts';
import type { AdviceFacts } from './advice.ts';

/** A flame counts as chilled by air only from here on. @source never.md, law 1 */
export const CHILLED_FROM_O2 = 6;

/** Beyond this the sample is mostly room air: see gas-basis.ts */
export const DILUTED_FROM_O2 = 15;

export const CHILLED_STEP_O2 = 0.8;

export type Now = {
  trial: Trial;
  o2: number | undefined;
  coPpm: number | undefined;
  coAirFree: number | undefined;
  smoke: number | undefined;
  isSettled: boolean;
};

export type Situation = { facts: AdviceFacts; fresh: Trial[]; present: Setting | undefined };

export type Aim = { targetO2: number; aimO2: readonly [number, number] };

export const airFreeOf = (coPpm: number | undefined, o2: number | undefined): number | undefined =>
  coPpm === undefined || o2 === undefined ? undefined : coAirFreePpm(coPpm, o2);

export function nowOf(trial: Trial): Now {
  const [o2, coPpm] = [figureOf(trial, 'o2')?.mean, figureOf(trial, 'co')?.mean];
  return { trial, o2, coPpm, coAirFree: airFreeOf(coPpm, o2), smoke: darkestSpot(trial), isSettled: trial.reading?.settled === true };
}

export const isClean = (one: Now, limits: LimitsInForce): boolean =>
  one.isSettled &&
  one.o2 !== undefined &&
  one.o2 <= DILUTED_FROM_O2 &&
  one.coAirFree !== undefined &&
  one.coAirFree < limits.coAlarmAirFreePpm &&
  (one.smoke === undefined || !isSmokeOver(one.smoke, limits)) &&
  one.o2 > limits.o2FloorPercent;

const isDangerous = (one: Now, limits: LimitsInForce): boolean =>
  (one.coAirFree ?? one.coPpm ?? 0) >= limits.coAlarmAirFreePpm ||
  (one.smoke !== undefined && isSmokeOver(one.smoke, limits)) ||
  (one.o2 !== undefined && one.o2 <= limits.o2FloorPercent);

/** Less air to where a reading had CO at the alarm, smoke over the limit or O2 at the floor, or beyond it: what was read last there counts. */
export function leadsBackToDanger({ facts, fresh, present }: Situation, name: string, to: number): boolean {
  const from = present && positionOf(present, name);
  if (present === undefined || from === undefined) return false;
  const there = sameElsewhere(fresh, present, name);
  return there.some((trial) => {
    const at = positionOf(trial.setting, name)!;
    const isOnTheWay = to < from ? at >= to && at < from : at <= to && at > from;
    return (
      isOnTheWay && there.findLast((other) => positionOf(other.setting, name) === at) === trial && isDangerous(nowOf(trial), facts.limits)
    );
  });
}

export const floorAim = (limits: LimitsInForce): Aim => {
  const { low, high, targetO2 } = floorGoal(limits);
  return { targetO2, aimO2: [low, high] };
};

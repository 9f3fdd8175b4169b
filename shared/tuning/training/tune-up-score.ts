/**
 * A practice tune-up, looked at afterwards: what was done in the order and with the patience that the work asks for. Each item is passed, missed, or could not be
 * judged; nothing is added up that was not seen.
 *
 * @source the order: NORA Oilheat Technicians Manual p 138 (draft, smoke, O2, then temperature and efficiency); the rest is this app's own method
 */
import { reserveOf, type AirCurve } from '../curve/air-curve.ts';
import { flueCoLevel } from '../advice/cautions.ts';
import { coAirFreePpm } from '../trial/gas-basis.ts';
import { limitsInForce } from '../advice/limits-in-force.ts';
import { fuelOfVisit } from '../visit/conditions.ts';
import { LEAST_RESERVE_CO2_POINTS, o2PointsFromCo2Points } from '../curve/reserve.ts';
import type { Trial } from '../trial/trial.ts';
import { figureOf, smokeOf } from '../trial/trial-figures.ts';
import type { Visit } from '../visit/visit.ts';

export const scoreItems = [
  'smoke-before-probe',
  'draft-first',
  'readings-waited',
  'smoke-found',
  'reserve',
  'locked',
  'co-under-alarm',
  'safety-proven',
] as const;
export type ScoreItem = (typeof scoreItems)[number];
export type Scored = { item: ScoreItem; verdict: 'pass' | 'miss' | 'not-judged'; trialIds: string[] };

export type ScoreFacts = { curve: AirCurve | undefined; safetyTests: readonly string[] };

/** Of one stage: practice is done on one. */
export function scoreTuneUp(visit: Visit, { curve, safetyTests }: ScoreFacts): Scored[] {
  const stage = visit.stages[0];
  const trials = visit.trials.filter(({ setting }) => setting.stage === stage?.name);
  const read = trials.filter(({ reading }) => reading !== undefined);
  const left = trials.find(({ id }) => id === stage?.asLeftTrialId);
  const limits = limitsInForce(visit);
  const item = (name: ScoreItem, verdict: Scored['verdict'], which: readonly Trial[] = []): Scored => ({
    item: name,
    verdict,
    trialIds: which.map(({ id }) => id),
  });
  const pass = (good: boolean): Scored['verdict'] => (good ? 'pass' : 'miss');

  const firstRead = read[0]?.takenWallMs;
  const spot = visit.probeSmoke?.find(({ withoutReason }) => withoutReason === undefined)?.wallMs;
  const firstTurned = read.find((trial) => trial.id !== stage?.asFoundTrialId)?.takenWallMs;
  const draftSet = visit.drafts.find(({ when }) => when === 'set')?.wallMs;
  const hasty = read.filter(({ reading }) => reading?.settled === false);
  const over = read.filter((trial) => {
    const [o2, co] = [figureOf(trial, 'o2')?.mean, figureOf(trial, 'co')?.mean];
    if (co === undefined) return false;
    const facts = { airFreePpm: o2 === undefined ? undefined : coAirFreePpm(co, o2), measuredPpm: co, overRange: false };
    return flueCoLevel(facts, { alarmPpm: limits.coAlarmAirFreePpm, noticePpm: limits.coNoticeAirFreePpm }) === 'alarm';
  });
  const reserve = left === undefined || curve === undefined ? undefined : reserveOf(left, curve.onset);
  const co2Max = fuelOfVisit(visit)?.stoichiometry.co2MaxPercent;
  // half a point of CO2 is the least that any of the sources takes for a reserve (reserve.ts)
  const least = co2Max === undefined ? Infinity : o2PointsFromCo2Points(LEAST_RESERVE_CO2_POINTS, co2Max);
  const smokeSeen = trials.some((trial) => (smokeOf(trial) ?? 0) > 0);
  const done = new Set(visit.safety.map(({ test }) => test));
  return [
    item('smoke-before-probe', firstRead === undefined ? 'not-judged' : pass(spot !== undefined && spot <= firstRead)),
    item('draft-first', firstTurned === undefined ? 'not-judged' : pass(draftSet !== undefined && draftSet <= firstTurned)),
    item('readings-waited', read.length === 0 ? 'not-judged' : pass(hasty.length === 0), hasty),
    item('smoke-found', read.length < 2 ? 'not-judged' : pass(smokeSeen)),
    item('reserve', reserve === undefined ? (left === undefined ? 'not-judged' : 'miss') : pass(reserve.o2Points >= least)),
    item('locked', left === undefined ? 'not-judged' : pass(stage?.echoTrialId !== undefined)),
    item('co-under-alarm', read.length === 0 ? 'not-judged' : pass(over.length === 0), over),
    item('safety-proven', pass(safetyTests.every((test) => done.has(test)))),
  ];
}

/**
 * Is the burner safe to leave running? Judged from everything that is known of the visit. One function for page 1, the owner's page, the
 * Report step, Records, signing and the command line. What is not known is said as unknown, never passed.
 */
import { findFuel } from '../../combustion/fuel.ts';
import type { Appliance } from '../visit/appliance.ts';
import { O2_FLOOR_PERCENT, flueCoLevel, roomCoLevel } from './cautions.ts';
import { coAirFreePpm, isPossibleCo } from '../trial/gas-basis.ts';
import { limitsInForce, smokeByRule, type LimitsInForce } from './limits-in-force.ts';
import { oilOnPaper, type OilFacts } from '../trial/oil.ts';
import { testsOfVisit } from '../safety/safety-plan.ts';
import { isSmokeOver } from '../trial/smoke.ts';
import { isMovedSince } from '../visit/moved-since.ts';
import { staleReason } from '../visit/staleness.ts';
import type { Trial } from '../trial/trial.ts';
import { figureOf } from '../trial/trial-figures.ts';
import { sameSetting } from '../trial/trials.ts';
import { ventingFailed, type VentItem } from '../safety/venting.ts';
import type { Visit } from '../visit/visit.ts';
import { defined } from '../../defined.ts';

/** `no` reasons first, in the order in which they are told. The sentences are in shared/words/tune/advice.ts. */
export type UnsafeReason =
  | { key: 'room-co'; ppm: number }
  | { key: 'flue-co'; stage: string; airFreePpm: number | undefined; ppm: number; isAsLeft: boolean }
  | { key: 'oil' }
  | { key: 'bypass'; what: string }
  | { key: 'safety-failed'; tests: string[] }
  | { key: 'venting'; items: (VentItem | 'worst-case')[] }
  | { key: 'defect'; what: string }
  | { key: 'smoke'; stage: string; smoke: number; limit: number; isAsLeft: boolean }
  | { key: 'safety-open'; tests: string[] };
export type UnknownReason =
  | { key: 'room-co-not-read' }
  | { key: 'room-co-notice'; ppm: number }
  | { key: 'as-left-not-read'; stage: string }
  | { key: 'as-left-stale'; stage: string }
  | { key: 'as-left-moved'; stage: string }
  | { key: 'as-left-not-settled'; stage: string }
  | { key: 'flue-co-not-known'; stage: string }
  | { key: 'flue-co-diluted'; stage: string }
  | { key: 'o2-not-possible'; stage: string }
  | { key: 'co-not-possible'; stage: string }
  | { key: 'unsafe-since'; stage: string }
  | { key: 'fuel-not-known' }
  | { key: 'o2-at-floor'; stage: string; o2: number }
  | { key: 'smoke-not-known'; stage: string }
  | { key: 'oil-not-cleared' }
  | { key: 'oil-not-known' }
  | { key: 'bypass-not-known' }
  | { key: 'not-an-oil-burner' }
  | { key: 'safety-not-known' }
  | { key: 'instrument-overdue'; until: string };

export type SafeJudgement =
  | { safe: 'yes'; unsafe: []; unknown: [] }
  | { safe: 'no'; unsafe: UnsafeReason[]; unknown: UnknownReason[] }
  | { safe: 'unknown'; unsafe: []; unknown: UnknownReason[] };

export type SafeFacts = OilFacts & {
  /** each stage of the burner with the trial that it was left at; without one, `newest` is how it runs now as far as it was read */
  stages: readonly {
    name: string;
    asLeft: Trial | undefined;
    isStale?: boolean | undefined;
    isMoved?: boolean | undefined;
    newest?: Trial | undefined;
    /** the last one of the run that joined last: another one than `newest` where the clock was set back between two runs */
    lastJoined?: Trial | undefined;
  }[];
  /** runs of the visit in the order in which they joined it */
  runIds?: readonly string[] | undefined;
  /** the floor of O2 that was chosen, apart from any card's low limit */
  o2FloorPercent?: number | undefined;
  /** what was asked and has no answer */
  notSaid?: readonly ('bypass' | 'oil' | 'fuel')[] | undefined;
  isGas?: boolean | undefined;
  limits: LimitsInForce;
  smokeRule: Visit['smokeRule'];
  roomCoPpm: number | undefined;
  /** `passed`: how many were made and passed */
  tests: { passed: number; failed: readonly string[]; open: readonly string[] };
  bypasses: readonly string[];
  /** of air and venting, what failed */
  venting?: readonly (VentItem | 'worst-case')[] | undefined;
  /** defects that the technician calls not safe */
  defects?: readonly string[] | undefined;
  /** the day on which the instrument's certificate ran out, when that was before this visit */
  instrumentOverdue?: string | undefined;
};

export function judgeSafe(facts: SafeFacts): SafeJudgement {
  const unsafe: UnsafeReason[] = [];
  const unknown: UnknownReason[] = [];
  const { roomCoPpm, tests } = facts;
  if (roomCoPpm === undefined) unknown.push({ key: 'room-co-not-read' });
  else {
    const level = roomCoLevel(roomCoPpm);
    if (level === 'stop' || level === 'out') unsafe.push({ key: 'room-co', ppm: roomCoPpm });
    else if (level === 'notice') unknown.push({ key: 'room-co-notice', ppm: roomCoPpm });
  }
  const oil = oilOnPaper(facts);
  if (oil.state === 'found' || facts.stages.some(({ asLeft }) => asLeft?.smoke?.spots.some(({ oilTrace }) => oilTrace === true) === true))
    unsafe.push({ key: 'oil' });
  else if (oil.state === 'cause-known') unknown.push({ key: 'oil-not-cleared' });
  else if (facts.notSaid?.includes('oil') === true) unknown.push({ key: 'oil-not-known' });
  if (facts.notSaid?.includes('fuel') === true) unknown.push({ key: 'fuel-not-known' });
  if (facts.isGas === true) unknown.push({ key: 'not-an-oil-burner' });
  if (facts.notSaid?.includes('bypass') === true) unknown.push({ key: 'bypass-not-known' });
  for (const what of facts.bypasses) unsafe.push({ key: 'bypass', what });
  if (tests.failed.length > 0) unsafe.push({ key: 'safety-failed', tests: [...tests.failed] });
  if (facts.venting !== undefined && facts.venting.length > 0) unsafe.push({ key: 'venting', items: [...facts.venting] });
  for (const what of facts.defects ?? []) unsafe.push({ key: 'defect', what });
  for (const stage of facts.stages) judgeStage(stage, facts, unsafe, unknown);
  if (tests.open.length > 0) unsafe.push({ key: 'safety-open', tests: [...tests.open] });
  else if (tests.passed === 0 && tests.failed.length === 0) unknown.push({ key: 'safety-not-known' });
  if (facts.instrumentOverdue !== undefined) unknown.push({ key: 'instrument-overdue', until: facts.instrumentOverdue });
  unsafe.sort((a, b) => order.indexOf(a.key) - order.indexOf(b.key));
  if (unsafe.length > 0) return { safe: 'no', unsafe, unknown };
  return unknown.length > 0 ? { safe: 'unknown', unsafe: [], unknown } : { safe: 'yes', unsafe: [], unknown: [] };
}

const order: readonly UnsafeReason['key'][] = [
  'room-co',
  'flue-co',
  'oil',
  'bypass',
  'safety-failed',
  'venting',
  'defect',
  'smoke',
  'safety-open',
];

function judgeStage(
  { name, asLeft, isStale, isMoved, newest, lastJoined }: SafeFacts['stages'][number],
  { trials, limits, smokeRule, runIds = [], o2FloorPercent = O2_FLOOR_PERCENT }: SafeFacts,
  unsafe: UnsafeReason[],
  unknown: UnknownReason[],
): void {
  if (asLeft === undefined) {
    unknown.push({ key: 'as-left-not-read', stage: name });
    if (newest === undefined) return;
  }
  if (isStale === true) unknown.push({ key: 'as-left-stale', stage: name });
  if (isMoved === true) unknown.push({ key: 'as-left-moved', stage: name });
  const last = asLeft ?? newest!;
  const isAsLeft = asLeft !== undefined;
  // read again at the same setting, say with the screws tight: each of these readings is the burner as left
  const coAlarmOf = (trial: Trial): { airFreePpm: number | undefined; ppm: number } | undefined => {
    const { ppm, airFreePpm } = coOf(trial);
    if (ppm === undefined) return undefined;
    const level = flueCoLevel(
      { airFreePpm, measuredPpm: ppm, overRange: false },
      { alarmPpm: limits.coAlarmAirFreePpm, noticePpm: Math.min(limits.coNoticeAirFreePpm, limits.coAlarmAirFreePpm) },
    );
    return level === 'alarm' ? { airFreePpm, ppm } : undefined;
  };
  const isOver = (trial: Trial): boolean => {
    const smoke = smokeByRule(trial, smokeRule);
    return coAlarmOf(trial) !== undefined || (smoke !== undefined && isSmokeOver(smoke, limits));
  };
  // of two runs either may be the later one, by the clock or by when it joined: a clock that was set back must not hide an alarm
  const isAfter = (trial: Trial, other: Trial): boolean =>
    trial.takenWallMs > other.takenWallMs || runIds.indexOf(trial.runId) > runIds.indexOf(other.runId);
  const left = [last, ...trials.filter((trial) => isAfter(trial, last) && sameSetting(trial.setting, last.setting))];
  const alarms = left.flatMap((trial) => {
    const alarm = coAlarmOf(trial);
    return alarm === undefined ? [] : [{ key: 'flue-co' as const, stage: name, ...alarm, isAsLeft }];
  });
  if (alarms[0] !== undefined) unsafe.push(alarms[0]);
  const smokes = left.flatMap((trial) => smokeByRule(trial, smokeRule) ?? []);
  const worst = Math.max(...smokes);
  if (smokes.length > 0 && isSmokeOver(worst, limits))
    unsafe.push({ key: 'smoke', stage: name, smoke: worst, limit: limits.smokeLimit, isAsLeft });
  if (asLeft === undefined) return;
  if (smokeByRule(asLeft, smokeRule) === undefined) unknown.push({ key: 'smoke-not-known', stage: name });
  if (!asLeft.reading) {
    unknown.push({ key: 'as-left-not-read', stage: name });
    return;
  }
  if (!asLeft.reading.settled) unknown.push({ key: 'as-left-not-settled', stage: name });
  const { o2, ppm } = coOf(asLeft);
  if (o2 !== undefined && (o2 > 21 || o2 < -0.5)) unknown.push({ key: 'o2-not-possible', stage: name });
  else if (ppm === undefined || o2 === undefined) {
    if (alarms.length === 0) unknown.push({ key: 'flue-co-not-known', stage: name });
  } else if (o2 > 15) unknown.push({ key: 'flue-co-diluted', stage: name });
  else if (!isPossibleCo(ppm)) unknown.push({ key: 'co-not-possible', stage: name });
  else if (o2 <= o2FloorPercent) unknown.push({ key: 'o2-at-floor', stage: name, o2 });
  if ([newest, lastJoined].some((trial) => trial !== undefined && isAfter(trial, asLeft) && !left.includes(trial) && isOver(trial)))
    unknown.push({ key: 'unsafe-since', stage: name });
}

function coOf(trial: Trial): { o2: number | undefined; ppm: number | undefined; airFreePpm: number | undefined } {
  const [o2, ppm] = [figureOf(trial, 'o2')?.mean, figureOf(trial, 'co')?.mean];
  return { o2, ppm, airFreePpm: o2 === undefined || ppm === undefined ? undefined : coAirFreePpm(ppm, o2) };
}

/** The whole visit, as it reads now (with corrections). */
export function judgeVisit(
  visit: Visit,
  { appliance, certificateUntil }: { appliance?: Pick<Appliance, 'kind'> | undefined; certificateUntil?: string | undefined } = {},
): SafeJudgement {
  const latest = new Map(visit.safety.map((result) => [result.test, result]));
  const having = (wanted: 'pass' | 'fail'): string[] =>
    [...latest.values()].filter(({ result }) => result === wanted).map(({ test }) => test);
  const runIds = visit.runs.map(({ id }) => id);
  const day = new Date(visit.startedWallMs + visit.zoneMinutes * 60_000).toISOString().slice(0, 10);
  return judgeSafe({
    stages: visit.stages.map(({ name, asLeftTrialId }) => {
      const asLeft = visit.trials.find(({ id }) => id === asLeftTrialId);
      const ofStage = visit.trials.filter(({ setting }) => setting.stage === name).sort((a, b) => b.takenWallMs - a.takenWallMs);
      const lastRun = Math.max(...ofStage.map(({ runId }) => runIds.indexOf(runId)));
      const newest = ofStage[0];
      return {
        name,
        asLeft,
        isStale: asLeft !== undefined && staleReason(asLeft, visit) !== undefined,
        isMoved: asLeft !== undefined && isMovedSince(asLeft, visit),
        newest: newest !== undefined && staleReason(newest, visit) === undefined ? newest : undefined,
        // whether it is stale is told by the clock, which cannot be trusted between two runs: it counts in any case
        lastJoined: ofStage.find(({ runId }) => runIds.indexOf(runId) === lastRun),
      };
    }),
    trials: visit.trials,
    runIds,
    oilCauses: visit.oilCauses,
    limits: limitsInForce(visit),
    o2FloorPercent: visit.o2FloorPercent,
    ...defined({ notSaid: visit.fuelId === undefined ? (['fuel'] as const) : undefined }),
    isGas: visit.fuelId !== undefined && findFuel(visit.fuelId)?.phase === 'gas',
    smokeRule: visit.targetCard?.smokeRule ?? visit.smokeRule,
    roomCoPpm: visit.roomCo.at(-1)?.ppm,
    tests: {
      passed: having('pass').length,
      failed: having('fail'),
      open: testsOfVisit(visit, appliance)
        .map(({ id }) => id)
        .filter((id) => !latest.has(id)),
    },
    defects: (visit.defects ?? []).flatMap(({ text, weight }) => (weight === 'not-safe' ? [text] : [])),
    venting: ventingFailed(visit),
    bypasses: visit.bypasses.flatMap(({ what, closedWallMs }) => (closedWallMs === undefined ? [what] : [])),
    ...defined({ instrumentOverdue: certificateUntil !== undefined && certificateUntil < day ? certificateUntil : undefined }),
  });
}

/** Whether what was done with an unsafe burner was written down: left off, tagged, and who was told. */
export const isLeftOff = ({ notLeftRunning }: Pick<Visit, 'notLeftRunning'>): boolean =>
  notLeftRunning !== undefined && notLeftRunning.leftOff && notLeftRunning.redTagged && notLeftRunning.ownerTold.trim() !== '';

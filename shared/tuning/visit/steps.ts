import { unacknowledged } from '../advice/cautions.ts';
import { isLeftOff } from '../advice/safe.ts';
import type { GeometryItem } from '../../geometry/items.ts';
import { geometryNow, hasGeometry } from '../set-up/geometry-now.ts';
import { probeGate } from '../trial/probe-gate.ts';
import { setUpVerdict, type SetUpItem } from '../set-up/set-up-sheet.ts';
import { isMovedSince } from './moved-since.ts';
import { staleReason, type ChangeKind, type StaleReason } from './staleness.ts';
import { stepOrder, type StepId } from './step-names.ts';
import type { Trial } from '../trial/trial.ts';
import { gapsOf, smokeOf, type TrialGap } from '../trial/trial-figures.ts';
import type { StageRecord, Visit } from './visit.ts';
import { isWatermarked } from './visit-marks.ts';

/** What a step still lacks: a key and its data; the sentence is in shared/words/visit/steps.ts. */
export type Missing =
  | { key: 'caution'; cautions: string[] }
  | {
      key:
        | 'appliance'
        | 'fuel'
        | 'instrument'
        | 'technician'
        | 'room-co'
        | 'setting-found'
        | 'target-card'
        | 'zero-place'
        | 'signature'
        | 'gauge-zero'
        | 'draft-set'
        | 'regulator'
        | 'safety-tests'
        | 'probe-smoke'
        | 'probe-stays-out';
    }
  | { key: 'geometry-item' | 'geometry-out' | 'geometry-stale'; item: GeometryItem }
  | { key: 'set-up-item'; item: SetUpItem }
  | { key: 'set-up-out'; item: SetUpItem }
  | { key: 'as-found'; stage: string }
  | { key: 'trial-gap'; stage: string; trialId: string; gap: TrialGap | 'full-reading' }
  | { key: 'curve-trials'; stage: string; have: number }
  | { key: 'onset'; stage: string }
  | { key: 'as-left'; stage: string }
  | { key: 'as-left-stale'; stage: string; reason: StaleReason }
  | { key: 'as-left-moved'; stage: string }
  | { key: 'echo'; stage: string }
  | { key: 'safety-failed'; test: string }
  | { key: 'bypass-open'; what: string }
  | { key: 'left-off' };

/** `done`: nothing missing. `stale`: was done, but something that moves everything else was changed since. `open`: neither. */
export type StepState = { id: StepId; state: 'done' | 'open' | 'stale'; missing: Missing[]; started: boolean };

export type StepFacts = {
  /** per stage: whether the air curve has an onset of smoke */
  onsetFound: Readonly<Record<string, boolean>>;
  /** tests of the safety run-through that this appliance needs */
  safetyTests: readonly string[];
  /** the burner is not safe to leave running (safe.ts) */
  isUnsafe?: boolean | undefined;
};

/** The thread of a visit. Any step can be gone to at any time; nothing here stops anybody. */
export function stepsOf(visit: Visit, facts: StepFacts): StepState[] {
  return stepOrder(visit.job).map((id): StepState => {
    const missing: Missing[] = checks[id](visit, facts);
    const cautions = unacknowledged(id, visit.cautions);
    if (cautions.length > 0) missing.unshift({ key: 'caution', cautions });
    const stale = missing.some(({ key }) => key === 'as-left-stale');
    return { id, missing, state: missing.length === 0 ? 'done' : stale ? 'stale' : 'open', started: hasStarted[id](visit) };
  });
}

const checks: Record<StepId, (visit: Visit, facts: StepFacts) => Missing[]> = {
  start: (visit) => [
    ...when(visit.applianceId === undefined, { key: 'appliance' }),
    ...when(visit.fuelId === undefined, { key: 'fuel' }),
    ...when(visit.instrumentName === undefined && visit.instrumentId === undefined, { key: 'instrument' }),
    ...when(!visit.people.some(({ role }) => role === 'technician'), { key: 'technician' }),
    ...when(visit.zeroed === undefined, { key: 'zero-place' }),
    ...when(visit.roomCo.length === 0, { key: 'room-co' }),
  ],
  'set-up': (visit) => [
    ...when(visit.settingFound === undefined, { key: 'setting-found' }),
    ...missingGeometry(visit),
    ...['nozzleFlowLh', 'pumpPressurePa'].flatMap((name): Missing[] => {
      const item = name as SetUpItem;
      const row = visit.setUp.rows[item];
      const which = row?.asLeft === undefined ? 'asFound' : 'asLeft';
      const verdict = setUpVerdict(row, which);
      return verdict === 'not-measured' ? [{ key: 'set-up-item', item }] : verdict === 'out' ? [{ key: 'set-up-out', item }] : [];
    }),
  ],
  'as-found': (visit) => {
    const isOpen = visit.stages.some(
      ({ asFoundSkippedReason, asFoundTrialId }) => asFoundSkippedReason === undefined && asFoundTrialId === undefined,
    );
    return [
      ...(isOpen ? missingSpot(visit, 'as-found') : []),
      ...visit.stages.flatMap((stage): Missing[] => {
        if (stage.asFoundSkippedReason !== undefined) return [];
        const trial = trialById(visit, stage.asFoundTrialId);
        return trial ? gapsIn(stage, trial) : [{ key: 'as-found', stage: stage.name }];
      }),
    ];
  },
  'warm-up': (visit) => [
    ...when(visit.warmUp?.gaugeZeroedWallMs === undefined, { key: 'gauge-zero' }),
    ...when(!visit.drafts.some(({ when: at }) => at === 'set'), { key: 'draft-set' }),
    ...when(visit.warmUp?.regulator === undefined, { key: 'regulator' }),
  ],
  'air-curve': (visit, facts) => [
    ...missingSpot(visit, 'air-curve'),
    ...visit.stages.flatMap((stage): Missing[] => {
      const have = visit.trials.filter(
        (trial) => trial.setting.stage === stage.name && !isStale(visit, trial) && smokeOf(trial) !== undefined && trial.reading?.settled,
      ).length;
      if (have < 3) return [{ key: 'curve-trials', stage: stage.name, have }];
      return facts.onsetFound[stage.name] === true ? [] : [{ key: 'onset', stage: stage.name }];
    }),
  ],
  'as-left': (visit) => [
    ...when(visit.targetCard === undefined && visit.withoutCard !== true, { key: 'target-card' }),
    ...visit.stages.flatMap((stage): Missing[] => {
      const trial = trialById(visit, stage.asLeftTrialId);
      if (!trial) return [{ key: 'as-left', stage: stage.name }];
      const reason = staleOf(visit, trial);
      return [
        ...when(reason !== undefined, { key: 'as-left-stale', stage: stage.name, reason: reason! }),
        ...when(isMovedSince(trial, visit), { key: 'as-left-moved', stage: stage.name }),
        ...gapsIn(stage, trial),
        // nothing is loosened at a check
        ...when(visit.job !== 'check' && trialById(visit, stage.echoTrialId) === undefined, { key: 'echo', stage: stage.name }),
      ];
    }),
  ],
  safety: (visit, facts) => [
    ...when(
      facts.safetyTests.some((test) => !visit.safety.some((result) => result.test === test)),
      { key: 'safety-tests' },
    ),
    ...latestResults(visit).flatMap((result): Missing[] => (result.result === 'fail' ? [{ key: 'safety-failed', test: result.test }] : [])),
    ...openBypasses(visit),
  ],
  report: (visit, facts) => [
    ...openBypasses(visit),
    ...when(facts.isUnsafe === true && !isLeftOff(visit), { key: 'left-off' }),
    ...when(visit.signature === undefined && !isWatermarked(visit), { key: 'signature' }),
  ],
};

const hasStarted: Record<StepId, (visit: Visit) => boolean> = {
  start: () => true,
  'set-up': ({ setUp, settingFound }) => Object.keys(setUp.rows).length > 0 || hasGeometry(setUp) || settingFound !== undefined,
  'as-found': (visit) => visit.stages.some((stage) => stage.asFoundTrialId !== undefined || stage.asFoundSkippedReason !== undefined),
  'warm-up': (visit) => visit.warmUp !== undefined || visit.drafts.length > 0,
  'air-curve': (visit) => visit.trials.length > 1,
  'as-left': (visit) => visit.stages.some((stage) => stage.asLeftTrialId !== undefined),
  safety: (visit) => visit.safety.length > 0,
  report: (visit) => visit.signature !== undefined,
};

/** Measured before firing whatever burner it is; the rest is asked for where the card has a figure for it. */
const always: ReadonlySet<GeometryItem> = new Set<GeometryItem>(['electrodeGap', 'heightAboveCentreline', 'aheadOfNozzle', 'nozzleToHead']);

function missingGeometry({ setUp }: Visit): Missing[] {
  const now = geometryNow(setUp);
  return Object.values(now.items).flatMap(({ item, now: verdict, found, staleBecause }): Missing[] => {
    if (!now.steps.some((step) => step.item === item)) return [];
    if (verdict.verdict === 'fail') return [{ key: 'geometry-out', item }];
    if (staleBecause !== undefined) return [{ key: 'geometry-stale', item }];
    const isAsked = always.has(item) || found.state === 'given';
    return verdict.verdict === 'not-measured' && isAsked ? [{ key: 'geometry-item', item }] : [];
  });
}

function missingSpot(visit: Visit, step: StepId): Missing[] {
  const { state } = probeGate(visit, step);
  return state === 'open' ? [] : [{ key: state === 'needed' ? 'probe-smoke' : 'probe-stays-out' }];
}

const when = (condition: boolean, missing: Missing): Missing[] => (condition ? [missing] : []);
const trialById = (visit: Visit, id: string | undefined): Trial | undefined =>
  id === undefined ? undefined : visit.trials.find((trial) => trial.id === id);
const staleOf = (visit: Visit, trial: Trial): StaleReason | undefined => staleReason(trial, visit);
const isStale = (visit: Visit, trial: Trial): boolean => staleOf(visit, trial) !== undefined;

/** As-found and as-left need a full reading; smoke may be left out with a typed reason, which the report repeats. */
function gapsIn(stage: StageRecord, trial: Trial): Missing[] {
  const gaps: (TrialGap | 'full-reading')[] = gapsOf(trial).filter(
    (gap) => !(gap === 'smoke' && stage.asLeftTrialId === trial.id && stage.asLeftReason !== undefined),
  );
  if (trial.reading && trial.reading.scope !== 'full') gaps.push('full-reading');
  return gaps.map((gap) => ({ key: 'trial-gap', stage: stage.name, trialId: trial.id, gap }));
}

const openBypasses = (visit: Visit): Missing[] =>
  visit.bypasses.flatMap(({ what, closedWallMs }): Missing[] => (closedWallMs === undefined ? [{ key: 'bypass-open', what }] : []));

/** The last result of each test counts: one that failed may have been put right and repeated. */
const latestResults = (visit: Visit) => [...new Map(visit.safety.map((result) => [result.test, result])).values()];

/** What a change of a set-up item as left means for the air readings; undefined when it moves nothing else. */
export function changeKindOf(item: SetUpItem): ChangeKind | undefined {
  switch (item) {
    case 'nozzleFlowLh':
    case 'nozzleAngleDeg':
      return 'nozzle';
    case 'nozzleToHeadMm':
    case 'headSetting':
      return 'head';
    case 'pumpPressurePa':
      return 'pressure';
    case 'electrodeGapMm':
    case 'heightAboveCentrelineMm':
    case 'aheadOfNozzleMm':
    case 'clearanceToMetalMm':
      return 'electrodes';
    case 'cutOffDropPercent':
    case 'cutOffHoldS':
    case 'vacuumPa':
      return undefined;
  }
}
